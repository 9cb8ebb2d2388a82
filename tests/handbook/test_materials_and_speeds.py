"""Materials, surface speeds, feeds."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barstock.handbook.materials import MATERIALS, UnknownMaterialError, growth, mass, material
from barstock.handbook.speeds import (
    CUTTERS,
    RANGES,
    UnknownCutterError,
    chip_load,
    feed,
    roughing_depth,
    rpm,
    speed_for,
    speed_range,
    surface_speed,
)
from barstock.handbook.threads import thread


def test_every_material_has_speeds_and_every_other_name_leads_to_it() -> None:
    assert RANGES.keys() == MATERIALS.keys()
    for row in MATERIALS.values():
        assert all(material(word) is row for word in row.also), row.name


def test_an_unknown_material_names_the_nearest() -> None:
    with pytest.raises(UnknownMaterialError, match="did you mean brass"):
        material("bras")


def test_mass_and_growth_by_hand() -> None:
    assert mass("brass", 1000) == pytest.approx(8.47)  # 1 cm3 of 8.47 g/cm3
    assert growth("mild steel", 1000, 100) == pytest.approx(1.2)  # 12e-6 x 1000 x 100


@given(st.floats(1, 300), st.floats(0.2, 100))
def test_speed_to_rpm_and_back(speed: float, diameter: float) -> None:
    assert surface_speed(rpm(speed, diameter), diameter) == pytest.approx(speed)


@given(st.sampled_from(sorted(MATERIALS)), st.sampled_from(sorted(CUTTERS)))
def test_starting_speeds_lie_in_their_range_and_carbide_is_faster(of: str, cutter: str) -> None:
    low, start, high = speed_range(of, cutter)
    assert low <= start <= high
    assert speed_for(of, cutter, "carbide") >= start


@given(st.sampled_from(sorted(MATERIALS)), st.floats(0.5, 20), st.floats(0.5, 20))
def test_larger_cutters_take_larger_bites(of: str, a: float, b: float) -> None:
    assert chip_load(of, min(a, b)) <= chip_load(of, max(a, b))


@pytest.mark.parametrize(
    ("of", "low", "high"),
    [
        ("aluminium", 60, 150), ("brass", 60, 150), ("cast iron", 15, 30), ("mild steel", 25, 35),
        ("stainless steel", 9, 20),
    ],
)  # fmt: skip
def test_starting_speeds_are_within_printed_milling_ranges(
    of: str, low: float, high: float
) -> None:
    # HSS milling speeds [m/min] printed in design tables for a machining course, which ask for
    # 40 % less when end milling
    assert 0.6 * low <= speed_for(of, "end mill") <= high


def test_drill_feeds_are_within_printed_ranges() -> None:
    # feed a turn [inch] by drill diameter, printed by a reamer maker: to 1/8 .001-.003, to 1/4
    # .002-.006, to 1/2 .004-.010
    for diameter, low, high in ((3.0, 0.001, 0.003), (6.0, 0.002, 0.006), (12.0, 0.004, 0.010)):
        assert low <= feed("mild steel", "drill", diameter, 1) / 25.4 <= high


def test_a_tap_is_fed_at_its_pitch() -> None:
    # a turn takes it in by its pitch: M3 0.5 mm, ISO 262; 40 tpi 0.635 mm
    assert feed("brass", "tap", 3, 100, pitch=thread("M3").pitch) == pytest.approx(50)
    assert feed("brass", "tap", 6.35, 10, pitch=thread("1/4 x 40").pitch) == pytest.approx(6.35)
    with pytest.raises(ValueError, match="pitch"):
        feed("brass", "tap", 3, 100)


def test_wrong_cutters_and_diameters_are_refused() -> None:
    with pytest.raises(UnknownCutterError, match="end mill"):
        speed_for("brass", "endmill")
    with pytest.raises(ValueError, match="not above 0"):
        rpm(25, 0)


@pytest.mark.parametrize("of", MATERIALS)
def test_every_material_says_how_deep_it_is_roughed(of: str) -> None:
    # Common practice: never deeper than half the diameter; in a steel that is harder to cut than
    # mild steel no deeper than in that.
    deep = roughing_depth(of, 10.0)
    assert 0 < deep <= 5.0
    if (
        MATERIALS[of].ferrous
        and MATERIALS[of].machinability < MATERIALS["mild steel"].machinability
    ):
        assert deep < roughing_depth("mild steel", 10.0)


def test_other_names_of_a_material_are_roughed_alike() -> None:
    assert roughing_depth("EN8", 8) == roughing_depth("medium carbon steel", 8) <= 2.0
    assert roughing_depth("304", 8) < roughing_depth("303", 8) < roughing_depth("EN3", 8)


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("C45", "medium carbon steel"), ("C45E+C", "medium carbon steel"),
        ("1.0503", "medium carbon steel"), ("EN 8", "medium carbon steel"),
        ("S235 JR", "mild steel"), ("St37", "mild steel"), ("EN3B", "mild steel"),
        ("11SMnPb30", "free-cutting steel"), ("1.0715", "free-cutting steel"),
        ("CuZn39Pb3", "brass"), ("brass (CZ121)", "brass"), ("CW614N", "brass"),
        ("CuZn37", "soft brass"), ("CuSn8", "phosphor bronze"), ("Rg7", "gunmetal"),
        ("phosphor bronze PB102", "phosphor bronze"), ("CC491K", "gunmetal"),
        ("CuAl10Ni5Fe4", "aluminium bronze"), ("AISI 303", "stainless steel"),
        ("stainless steel 316", "tough stainless steel"), ("EN-GJL-250", "cast iron"),
        ("EN AW-6082 T6", "aluminium"), ("100MnCrW4", "silver steel"),
    ],
)  # fmt: skip
def test_designations_on_drawings_are_known(written: str, name: str) -> None:
    assert material(written).name == name


def test_a_word_of_no_metal_is_not_taken_for_one() -> None:
    for word in ("gauge 113", "C4711", "EN 99", ""):
        with pytest.raises(UnknownMaterialError):
            material(word)
