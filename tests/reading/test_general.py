"""What holds for sizes that state no limits. Figures from ISO 2768-1, table 1."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock.drawing.build import Part
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS


def block(folder: Path, head: str, part: str = "") -> Part:
    text = f"build: Trial\n{head}\nparts:\n  block: {{material: brass, {part}}}\n"
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    reading = read_build(folder, KINDS)
    assert reading.build is not None, reading.faults
    return reading.build.parts[0]


@pytest.mark.parametrize(
    ("rule", "limits"),
    [
        ("ISO 2768-f", (0.15, 0.1, 0.05)),
        ("ISO 2768-m", (0.3, 0.2, 0.1)),
        ("iso 2768 mK", (0.3, 0.2, 0.1)),
        ("ISO 2768-c", (0.8, 0.5, 0.3)),
        ("ISO 2768-v", (1.5, 1.0, 0.5)),
    ],
)
def test_the_standard_by_its_class(tmp_path: Path, rule: str, limits: tuple[float, ...]) -> None:
    size = "length: 40, width: 20, height: 5"
    part = block(tmp_path, f"general tolerance: {rule}", size)
    assert tuple(part.dimension(axis).plus for axis in range(3)) == pytest.approx(limits)


def test_one_figure_for_all(tmp_path: Path) -> None:
    part = block(tmp_path, "general tolerance: ±0.1", "length: 40, width: 20, height: 5")
    assert {part.dimension(axis).plus for axis in range(3)} == {0.1}


def test_by_decimal_places_as_written(tmp_path: Path) -> None:
    rule = "unit: inch\ngeneral tolerance: {fractions: 1/64, .xx: ±.010, .xxx: .005}"
    part = block(tmp_path, rule, "length: 1-1/2, width: .50, height: .250")
    found = [part.dimension(axis).plus for axis in range(3)]
    assert found == pytest.approx([25.4 / 64, 0.254, 0.127])


def test_a_part_may_have_its_own(tmp_path: Path) -> None:
    size = "length: 40, width: 20, height: 5, general tolerance: ±0.4"
    assert block(tmp_path, "general tolerance: ±0.1", size).length.plus == 0.4


def test_an_inch_part_has_the_standard_converted(tmp_path: Path) -> None:
    size = "unit: inch, length: 1.5, width: 1/2, height: .250"
    part = block(tmp_path, "general tolerance: ISO 2768-m", size)
    found = [part.dimension(axis).plus for axis in range(3)]
    assert found == pytest.approx([0.3, 0.2, 0.2])  # 38.1, 12.7 and 6.35 mm


def _angles(folder: Path, feature: str, length: str = "60") -> list[float]:
    """The limits of the angles that a feature of a block is checked for [degrees either way]."""
    size = f"length: {length}, width: 20, height: 30"
    part = block(folder, "", f"{size}, features: {{it: {feature}}}")
    way = KINDS[part.features[0].kind].ways(part.features[0].spec, part)[0]
    return [k.dimension.plus for cut in way.cuts for k in cut.checks if k.sort == "angle"]


def test_an_angle_goes_by_its_shorter_leg(tmp_path: Path) -> None:
    # ISO 2768-1 table 3, class m: to 10 mm 1°, over 10 to 50 30', over 50 to 120 20'
    slot = """{kind: slot, face: top, along: length, position: {width: centre}, width: 6, depth: 4,
        lean: 2, wide end: left}"""
    assert _angles(tmp_path, slot, "8") == [1.0]
    assert _angles(tmp_path, slot, "40") == [0.5]
    assert _angles(tmp_path, slot, "60") == pytest.approx([1 / 3])
    # of a ridge's two flats the shorter, 6 mm long though the other has 54
    ridge = "{kind: ridge, face: top, peak along: width, position: {left: 6}, angle: 3}"
    assert _angles(tmp_path, ridge) == [1.0, 1.0]


INCHES = "length: 1-1/2, width: .50, height: .250"


@pytest.mark.parametrize(
    "rule",
    [
        "{FRACTIONS: ±1/64, .XX: ±.010, .XXX: ±.005, ANGLES: ±1/2°}",
        "'FRACTIONS ±1/64, .XX ±.010, .XXX ±.005, ANGLES ±1/2°'",
        "[fractions ±1/64, .xx ±.010, .xxx ±.005]",
        "[fractions: +/-1/64, .xx: +/-.010, .xxx: +/-.005]",
        "{fractional: 1/64, two places: .01, three places: .005}",
        "{fractions: 1/64, 2 decimals: .01, 3 decimal places: .005}",
        "{fractions: 1/64, x.xx: .01, x.xxx: .005, x.xxxxx: .001}",
        "{fractions: 1/64, .00: .01, .000: .005}",
    ],
)
def test_rows_by_decimal_places_in_the_ways_they_are_written(tmp_path: Path, rule: str) -> None:
    part = block(tmp_path, f"unit: inch\ngeneral tolerance: {rule}", INCHES)
    found = [part.dimension(axis).plus / 25.4 for axis in range(3)]
    assert found == pytest.approx([1 / 64, 0.01, 0.005])


@pytest.mark.parametrize(
    ("rule", "limits"),
    [
        ("{up to 6: ±0.1, over 6 to 30: ±0.2, over 30: ±0.3}", (0.3, 0.2, 0.1)),
        ("{0-6: ±0.1, 6-30: ±0.2, 30-120: ±0.3}", (0.3, 0.2, 0.1)),
        ("{linear: ±0.2, angular: ±30'}", (0.2, 0.2, 0.2)),
        ("DIN ISO 2768-mK", (0.3, 0.2, 0.1)),
        ("ISO 2768 medium", (0.3, 0.2, 0.1)),
        ("BS EN 22768-1 f", (0.15, 0.1, 0.05)),
    ],
)
def test_rows_by_size_and_the_standard_s_other_names(
    tmp_path: Path, rule: str, limits: tuple[float, ...]
) -> None:
    part = block(tmp_path, f"general tolerance: {rule}", "length: 40, width: 20, height: 5")
    assert tuple(part.dimension(axis).plus for axis in range(3)) == pytest.approx(limits)


def test_whole_inches_go_with_fractions(tmp_path: Path) -> None:
    rule = "unit: inch\ngeneral tolerance: {fractions: ±1/64, .xxx: ±.005}"
    part = block(tmp_path, rule, "length: 2, width: .500, height: .250")
    assert part.length.plus == pytest.approx(25.4 / 64)


def _read(folder: Path, head: str, part: str) -> tuple[Part, list[str]]:
    """The block, and what of it is to look at."""
    found = block(folder, head, part)
    faults = read_build(folder, KINDS).faults
    assert {fault.grade for fault in faults} <= {"lacking"}
    return found, [fault.what for fault in faults]


def test_more_places_than_any_row_has_take_the_finest_told_once(tmp_path: Path) -> None:
    rule = "unit: inch\ngeneral tolerance: {.xx: ±.010, .xxx: ±.003, .xxxx: ±.001}"
    part, told = _read(tmp_path, rule, "length: 2.40625, width: .40575, height: .250")
    assert part.length.plus == part.width.plus == pytest.approx(0.0254)
    assert told == [
        "the general tolerance has no row for 5 decimal places, which 2 sizes here are given in; "
        "that for 4 decimal places is taken"
    ]


def test_a_place_at_the_face_itself_needs_no_limits(tmp_path: Path) -> None:
    rule = "unit: inch\ngeneral tolerance: {.xx: ±.010, .xxx: ±.003}"
    hole = "{kind: hole, face: top, at: {left: .500, front: .25}, diameter: .125, depth: through}"
    outline = "{kind: outline, face: top, start: {left: 0, front: 0}, path: [{to: {left: 2.00, "
    outline += "front: 0}}, {to: {left: 1.75, back: 0}}, {to: {left: 0, back: 0}}, "
    outline += "{to: {left: 0, front: 0}}]}"
    size = f"length: 2.00, width: .50, height: .250, features: {{a: {hole}, b: {outline}}}"
    assert _read(tmp_path, rule, size)[1] == []


def test_a_drill_s_number_is_no_fraction(tmp_path: Path) -> None:
    rule = "unit: inch\ngeneral tolerance: {fractions: ±1/64, .xxx: ±.005}"
    hole = "{kind: hole, face: top, at: {left: .500, front: .250}, diameter: No 43, depth: through}"
    size = f"length: 1-1/2, width: .500, height: .250, features: {{it: {hole}}}"
    bore = block(tmp_path, rule, size).features[0].spec.bore.size
    # ISO 2768-1 table 1, class m, over 0.5 to 3 mm
    assert (bore.minus, bore.plus) == (-0.1, 0.1)


def test_small_sizes_have_limits_within_themselves(tmp_path: Path) -> None:
    size = """length: 40, width: 20, height: 5, features: {it: {kind: hole, face: top,
        at: {left: 9, front: 9}, diameter: 4, depth: through,
        counterbore: {diameter: 9, depth: 0.3}}}"""
    part, told = _read(tmp_path, "", size)
    assert part.features[0].spec.mouth.checks[1].dimension.plus == 0.1
    assert told == [
        "ISO 2768-1 gives no limits for sizes under 0.5 mm, of which here is one; those of 0.5 mm, "
        "but no more than half the size, are taken"
    ]


def test_a_bevel_as_wide_as_its_general_tolerance_is_still_cut(tmp_path: Path) -> None:
    rule = "unit: inch\ngeneral tolerance: {fractions: ±1/64, .xxx: ±.005}"
    edge = "{kind: edge, between: [top, front], bevel: 1/64}"
    size = f"length: 1-1/2, width: .500, height: .250, features: {{it: {edge}}}"
    leg = block(tmp_path, rule, size).features[0].spec.checks[0].dimension
    assert leg.low == pytest.approx(25.4 / 128)
    assert leg.high == pytest.approx(25.4 / 32)


@pytest.mark.parametrize(
    "rule",
    [
        "{.xxx: ±.005, drilled: +.004/-.001}",
        "[.xxx ±.005, drilled +.004/-.001]",
        "'.xxx ±.005, drilled holes: +.004/-.001'",
    ],
)
def test_drilled_holes_may_grow_more_than_they_shrink(tmp_path: Path, rule: str) -> None:
    hole = "kind: hole, face: top, at: {length: centre, width: centre}, depth: through"
    size = "length: 1.500, width: .500, height: .250, "
    size += f"features: {{hole: {{{hole}, diameter: No 30}}}}"
    part = block(tmp_path, f"unit: inch\ngeneral tolerance: {rule}", size)
    diameter = part.features[0].spec.bore.size
    found = diameter.nominal, diameter.minus, diameter.plus
    assert found == pytest.approx((0.1285 * 25.4, -0.001 * 25.4, 0.004 * 25.4))
    assert part.height.plus == pytest.approx(0.127)
