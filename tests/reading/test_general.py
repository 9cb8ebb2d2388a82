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
