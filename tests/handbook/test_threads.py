"""Threads: names, order of diameters, the standards' own formulas."""

from itertools import pairwise
from math import sqrt

import pytest

from barstock.handbook.materials import material
from barstock.handbook.thread_limits import NoLimitsError, thread_limits
from barstock.handbook.thread_strength import engagement_length
from barstock.handbook.threads import (
    UnknownThreadError,
    clearance,
    percentage_engagement,
    thread,
    threads,
)


def test_every_thread_is_found_by_its_own_name() -> None:
    assert [t for t in threads() if thread(t.name) is not t] == []


def test_holes_and_diameters_of_every_thread_are_in_order() -> None:
    for t in threads():
        assert t.root <= t.minor < t.effective < t.major, t.name
        assert t.root < t.tap_drill < t.major, t.name
        assert t.major < t.clearance_close < t.clearance_medium < t.clearance_free, t.name
        assert 60 < percentage_engagement(t, t.tap_drill) < 88, t.name  # usual in practice


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("m3", "M3"), ("M3 x 0.5", "M3"), ("M3x.35", "M3x0.35"), ("M3×0.35-6H", "M3x0.35"),
        ("#4-40", "4-40 UNC"), ("No 4-40", "4-40 UNC"), ("4 UNC", "4-40 UNC"),
        ("1/4-20 UNC-2B", "1/4-20 UNC"), ("1/4-28", "1/4-28 UNF"), ("1/4 UNEF", "1/4-32 UNEF"),
        ("6BA", "6 BA"), ("6 B.A.", "6 BA"), ("BA 6", "6 BA"), ("1/4 whit", "1/4 BSW"),
        ("1/4 B.S.F.", "1/4 BSF"), ("1/4-40 ME", "1/4 x 40"), ("1/4x40 tpi", "1/4 x 40"),
        ("3/16-40", "3/16 x 40"), ("5/16 x 32", "5/16 x 32"),
    ],
)  # fmt: skip
def test_threads_are_known_by_the_names_people_write(written: str, name: str) -> None:
    assert thread(written).name == name


@pytest.mark.parametrize(("wrong", "near"), [("M3.2", "M3.5"), ("4-41 UNC", "4-40 UNC")])
def test_an_unknown_thread_names_the_nearest(wrong: str, near: str) -> None:
    with pytest.raises(UnknownThreadError, match="did you mean") as caught:
        thread(wrong)
    assert near in caught.value.near


def test_ba_pitches_are_powers_of_nine_tenths() -> None:
    # BS 93: pitch of number n is p = 0.9^n mm, to 0.01; the diameter 6 p^1.2, to two figures
    for number in range(17):
        form = thread(f"{number} BA")
        assert form.pitch == pytest.approx(0.9**number, abs=0.0051)
        assert form.major == pytest.approx(6 * (0.9**number) ** 1.2, abs=0.051)


def test_numbered_unified_sizes_follow_their_rule() -> None:
    # ASME B1.1: major = 0.060 + 0.013 x number [inch]
    for number in (1, 2, 3, 4, 5, 6, 8, 10, 12):
        assert thread(f"{number} UNC").major == pytest.approx(25.4 * (0.060 + 0.013 * number))


def test_effective_diameter_tolerances_follow_the_formulas_of_iso_965() -> None:
    # ISO 965-1 clause 13: Td2(6) = 90 P^0.4 d^0.1, TD2(6) = 1.32 Td2(6), Td(6) = 180 P^(2/3) -
    # 3.15 P^(-1/2), es(g) = -(15 + 11 P), d the geometric mean of its range; rounding to R40: 6 %
    ends = (0.99, 1.4, 2.8, 5.6, 11.2, 22.4, 45)
    for form in threads():
        try:
            limit = thread_limits(form)
        except NoLimitsError:
            continue
        low, high = next((a, b) for a, b in pairwise(ends) if a < form.major <= b)
        expected = 90 * form.pitch**0.4 * sqrt(low * high) ** 0.1
        screw = 1000 * (limit.screw_effective[1] - limit.screw_effective[0])
        nut = 1000 * (limit.nut_effective[1] - limit.nut_effective[0])
        assert screw == pytest.approx(expected, rel=0.06), form.name
        if limit.nut_class == "6H":
            assert nut == pytest.approx(1.32 * expected, rel=0.06), form.name
            es = 1000 * (form.major - limit.screw_major[1])
            assert es == pytest.approx(15 + 11 * form.pitch, abs=1.3), form.name
            major = 1000 * (limit.screw_major[1] - limit.screw_major[0])
            by_formula = 180 * form.pitch ** (2 / 3) - 3.15 / sqrt(form.pitch)
            assert major == pytest.approx(by_formula, rel=0.06), form.name


def test_only_metric_threads_have_iso_965_limits() -> None:
    with pytest.raises(NoLimitsError, match="6 BA"):
        thread_limits(thread("6 BA"))


def test_softer_holes_want_more_thread() -> None:
    form = thread("M4")
    lengths = [engagement_length(form, material(m)) for m in ("mild steel", "brass", "aluminium")]
    assert lengths == [4.0, 6.0, 8.0]  # 1, 1.5 and 2 diameters, common practice


def test_clearance_fits_have_names() -> None:
    assert clearance("M6", "free") == 7.0  # ISO 273
    with pytest.raises(ValueError, match="close, medium or free"):
        clearance("M6", "tight")


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("M5 LH", "M5 LH"), ("M5-LH", "M5 LH"), ("M5 left hand", "M5 LH"),
        ("M10x1 L.H.", "M10x1 LH"), ("1/4 BSF left-hand", "1/4 BSF LH"), ("M5 RH", "M5"),
    ],
)  # fmt: skip
def test_a_left_hand_thread_is_another_of_the_same_sizes(written: str, name: str) -> None:
    found, right = thread(written), thread(name.removesuffix(" LH"))
    assert found.name == name
    assert (found.major, found.pitch, found.tap_drill) == (
        right.major,
        right.pitch,
        right.tap_drill,
    )


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("M6 x 1.0", "M6"), ("M6x0.750", "M6x0.75"), ("M2,5", "M2.5"), ("THD M5", "M5"),
        ("tap M5", "M5"), ("1/4 26 tpi", "1/4 x 26"), ("7/16 x 26 cycle", "7/16 x 26"),
        ("1/8 BSP", "G1/8"), ("G 1/4", "G1/4"), ("3/8 BSPP", "G3/8"),
    ],
)  # fmt: skip
def test_threads_as_drawings_write_them(written: str, name: str) -> None:
    assert thread(written).name == name


def test_pipe_threads_against_a_published_chart() -> None:
    """Major diameters in inches and threads an inch of parallel pipe threads, as an open chart of
    ISO 228 on the web gives them; tapping drills as another gives them."""
    chart = {"1/8": (0.3830, 28, 8.8), "1/4": (0.5180, 19, 11.8), "3/8": (0.6560, 19, 15.25)}
    for size, (inches, count, hole) in chart.items():
        found = thread(f"G{size}")
        assert found.major == pytest.approx(inches * 25.4, abs=0.01)
        assert (round(found.tpi, 6), found.tap_drill) == (count, hole)
