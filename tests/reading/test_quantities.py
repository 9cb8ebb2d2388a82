"""Sizes as drawings give them. 1 inch = 25.4 mm exactly (ISO 80000-3, note on the inch)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barstock.quantities import (
    Figure,
    SizeError,
    Tables,
    Unit,
    parse_angle,
    parse_dimension,
    parse_length,
    show,
    show_fraction,
)

# 8 H7 is +0.015/0 (ISO 286-2); drill 43 is .0890 in, 7 .2010, 30 .1285, F .257 (ASME B94.11M, from
# memory)
TABLES = Tables(
    drill={
        name: inches * 25.4
        for name, inches in {"43": 0.0890, "7": 0.2010, "30": 0.1285, "F": 0.257}.items()
    }.__getitem__,
    fit=lambda nominal, symbol: {(8.0, "H7"): (0.0, 0.015)}[nominal, symbol],
    general=lambda figure: 0.2,
)


@pytest.mark.parametrize(
    ("text", "unit", "mm"),
    [
        ("12", Unit.MM, 12.0),
        ("12.0 mm", Unit.INCH, 12.0),
        ("0.5 in", Unit.MM, 12.7),
        ('.5"', Unit.MM, 12.7),
        (".5", Unit.INCH, 12.7),
        ("15 thou", Unit.MM, 0.381),
        ("3/8", Unit.MM, 9.525),
        ("3/8 in", Unit.MM, 9.525),
        ("1-3/8", Unit.MM, 34.925),
        ("1⅜", Unit.MM, 34.925),
        ("1-⅜", Unit.MM, 34.925),
        ("1 ⅜″", Unit.MM, 34.925),
        ("½", Unit.MM, 12.7),
        ("⅞ in", Unit.INCH, 22.225),
        ("1 3/8", Unit.INCH, 34.925),
        ("1-3/8\u2033", Unit.MM, 34.925),
        ("No 43", Unit.MM, 2.2606),
        ("no. 43", Unit.MM, 2.2606),
        ("#43", Unit.MM, 2.2606),
        ("drill 43", Unit.MM, 2.2606),
    ],
)
def test_a_length_in_every_way_of_writing(text: str, unit: Unit, mm: float) -> None:
    assert parse_length(text, unit, TABLES) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "nominal", "low", "high"),
    [
        ("12.0 ±0.05", 12, 11.95, 12.05),
        ("12 +/-0.05", 12, 11.95, 12.05),
        ("12 +-0.05", 12, 11.95, 12.05),
        ("6 +0.02/0", 6, 6, 6.02),
        ("6 +0.02 -0.01", 6, 5.99, 6.02),
        ("6 -0.01/-0.03", 6, 5.97, 5.99),
        ("6 0/-0.02", 6, 5.98, 6),
        ("6 +0.1", 6, 6, 6.1),
        ("11.95 - 12.05", 12, 11.95, 12.05),
        ("11.95–12.05", 12, 11.95, 12.05),
        ("12.05/11.95", 12, 11.95, 12.05),
        ("11.95 to 12.05", 12, 11.95, 12.05),
        ("12.05 - 11.95", 12, 11.95, 12.05),
        ("12 -0.3", 12, 11.7, 12),
        ("12 max", 11.8, 11.6, 12),  # aimed at one general tolerance inside
        ("12 min", 12.2, 12, 12.4),
        ("8 H7", 8, 8, 8.015),
        ("⌀8H7", 8, 8, 8.015),
        ("1/4 +0/-.002", 6.35, 6.2992, 6.35),
        ("1/4 +1/64 -0", 6.35, 6.35, 6.746875),
        ("1/4 ±5 thou", 6.35, 6.223, 6.477),
        (".500 ±.002 in", 12.7, 12.6492, 12.7508),
        ("1/2 ±0.05 mm", 12.7, 12.65, 12.75),
        ("1-1/4 -1/64", 31.75, 31.353125, 31.75),
    ],
)
def test_limits_in_every_way_of_writing(text: str, nominal: float, low: float, high: float) -> None:
    size = parse_dimension(text, Unit.MM, TABLES)
    found = (size.nominal, size.low, size.high)
    assert found == pytest.approx((nominal, low, high), abs=1e-9)
    assert size.stated
    assert size.text == text


@pytest.mark.parametrize("text", ["12", "(12)", "12 ref", "R12", "dia 12"])
def test_a_size_without_limits_has_the_general_tolerance(text: str) -> None:
    size = parse_dimension(text, Unit.MM, TABLES)
    assert (size.low, size.high, size.stated) == (11.8, 12.2, False)


def test_the_general_tolerance_is_told_how_many_places_are_written() -> None:
    told: list[Figure] = []

    def general(figure: Figure) -> float:
        told.append(figure)
        return 0.0

    for text in ("12", "12.00", ".312", "3/8"):
        parse_dimension(text, Unit.INCH, Tables(general=general))
    assert [figure.places for figure in told] == [0, 2, 3, None]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("12,5", "has a comma"),
        ("wide", "'wide' is no length"),
        ("", "nothing is written here"),
        ("M3", "'M3' is no length"),
        ("1/3", "no fraction on a rule"),
        ("12 ±", "limits that cannot be read"),
        ("12 bananas", "limits that cannot be read"),
        ("12 +20/0", "limits wider than the size"),
        ("8 H7/g6", "the fit of two parts"),
        ("No 99", "there is no number drill 99"),
        ("9" * 20, "longer than any bar"),
        ("9" * 90, "too long for a size"),
    ],
)
def test_what_is_no_size_is_told_so(text: str, says: str) -> None:
    with pytest.raises(SizeError) as caught:
        parse_dimension(text, Unit.MM, TABLES)
    assert says in caught.value.what
    assert caught.value.mend


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("3", 2, 4),
        ("3°", 2, 4),
        ("1.5 deg", 0.5, 2.5),
        ("1°30'", 0.5, 2.5),
        ("1° 30' 36\"", 0.51, 2.51),
        ("3° ±0.25°", 2.75, 3.25),
        ("3 ±15'", 2.75, 3.25),
        ("3° +30'/0", 3, 3.5),
        ("2.9 - 3.1", 2.9, 3.1),
    ],
)
def test_angles(text: str, low: float, high: float) -> None:
    angle = parse_angle(text, lambda figure: 1.0)
    assert (angle.low, angle.high) == pytest.approx((low, high))


@pytest.mark.parametrize("text", ["", "steep", "400", "3° bananas"])
def test_what_is_no_angle_is_told_so(text: str) -> None:
    with pytest.raises(SizeError):
        parse_angle(text)


@given(st.floats(-2000, 2000), st.sampled_from(list(Unit)))
def test_a_length_shown_reads_back_as_it_was(mm: float, unit: Unit) -> None:
    half_a_place = {Unit.MM: 0.0005, Unit.INCH: 0.00005 * 25.4}[unit]
    assert abs(parse_length(show(mm, unit)) - mm) <= half_a_place + 1e-9


@given(st.integers(1, 64 * 40))
def test_a_fraction_shown_reads_back_as_it_was(sixty_fourths: int) -> None:
    mm = sixty_fourths / 64 * 25.4
    shown = show_fraction(mm)
    assert "." not in shown
    assert parse_length(shown) == pytest.approx(mm, abs=1e-8)


@given(
    st.decimals(1, 500, places=3),
    st.decimals(0, 1, places=3),
    st.decimals(0, 1, places=3),
    st.sampled_from(["{n} +{p}/-{m}", "{n} +{p} -{m}", "{n} -{m}/+{p}", "{n} mm +{p}/-{m}"]),
)
def test_deviations_read_back_as_written(n: object, m: object, p: object, form: str) -> None:
    size = parse_dimension(form.format(n=n, m=m, p=p), Unit.MM)
    low, high = float(str(n)) - float(str(m)), float(str(n)) + float(str(p))
    assert (size.low, size.high) == pytest.approx((low, high), abs=1e-9)


@given(st.text(max_size=70))
def test_any_text_is_a_size_or_is_told_why_not(text: str) -> None:
    for read in (parse_length, parse_dimension, parse_angle):
        try:
            found: object = read(text)
        except SizeError as wrong:
            found = wrong.what
        assert found is not None


@pytest.mark.parametrize(
    ("text", "unit", "low", "high"),
    [
        ("6 dia", Unit.MM, 5.8, 6.2),  # the trial's general tolerance is 0.2 either way
        ("8 mm dia.", Unit.MM, 7.8, 8.2),
        ("10 TYP", Unit.MM, 9.8, 10.2),
        ("10 BSC", Unit.MM, 9.8, 10.2),
        ("5 THRU", Unit.MM, 4.8, 5.2),
        ("10 (+0.1/0)", Unit.MM, 10, 10.1),
        ("10 (±0.1)", Unit.MM, 9.9, 10.1),
        ("9.9...10.1", Unit.MM, 9.9, 10.1),
        ("9.9 … 10.1", Unit.MM, 9.9, 10.1),
        ("1.500 (+.000/-.002)", Unit.INCH, 1.498 * 25.4, 1.5 * 25.4),
        ("1/4 DIA. THRU", Unit.INCH, 6.15, 6.55),
        ("7/32 drill", Unit.INCH, 5.35625, 5.75625),
        ("ream 1/4", Unit.INCH, 6.15, 6.55),
    ],
)
def test_words_that_stand_beside_a_size_are_no_limits(
    text: str, unit: Unit, low: float, high: float
) -> None:
    size = parse_dimension(text, unit, Tables(general=lambda figure: 0.2))
    assert (size.low, size.high) == (pytest.approx(low), pytest.approx(high))
    assert size.text == text


@pytest.mark.parametrize(
    ("text", "like"),
    [
        ("max 10", "10 max"), ("MIN. 10", "10 min"), ("8 H7 (+0.015/0)", "8 H7"),
        ("No. 7 drill", "No 7"), ("Nº 7", "No 7"),
        ("No 30 (.1285)", "No 30"), (".1285 (No 30)", ".1285"), ("F drill", "letter F"),
    ],
)  # fmt: skip
def test_a_size_written_another_way_round_is_the_same(text: str, like: str) -> None:
    one, other = (parse_dimension(each, Unit.MM, TABLES) for each in (text, like))
    assert (one.low, one.nominal, one.high) == (other.low, other.nominal, other.high)


def test_a_number_by_another_is_no_fit() -> None:
    with pytest.raises(SizeError, match="limits that cannot be read"):
        parse_dimension("2 x 10", Unit.MM, TABLES)
