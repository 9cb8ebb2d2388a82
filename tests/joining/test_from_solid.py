"""A fabrication of plain boxes as one part: the gaps between pieces become steps and slots."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock import api
from barstock.drawing.build import Part
from barstock.fabricating.from_solid import NotFromSolidError, from_solid
from barstock.methods.drawn_solid import drawn_solid

SMALL = Path(__file__).parent / "small"

ANGLE = """build: Angle
parts:
  base:
    material: brass
    length: 40
    width: 16
    height: 6
    bar: 16 x 6
    as bought: [front, back, top, bottom]
    features:
      screw: {kind: hole, face: bottom, at: {left: 4, width: centre}, clearance for: M2,
              depth: through}
      foot: {kind: hole, face: bottom, at: {right: 8, width: centre}, diameter: 3, depth: through}
  upright:
    material: METAL
    length: 24
    width: 16
    height: 8
    bar: 16 x 8
    as bought: [front, back, top, bottom]
    features:
      screw: {kind: hole, face: left, at: {width: centre, height: centre}, thread: M2, depth: 8,
              drill depth: 10}
fabrications:
  angle:
    length: 40
    width: 16
    height: 30
    pieces:
      base: {part: base, at: {left: 0, width: centre, bottom: 0}}
      upright:
        part: upright
        turned: {left: bottom, bottom: right}
        at: {left: PLACE, width: centre}
        against: {bottom: base/top}
    joints:
      corner: {between: [base, upright], form: tee, filler: Ag 155, gap: 0.05 to 0.1}
    fixing screws:
      screw: {through: base/screw, into: upright/screw, material: brass}
"""


def angle(folder: Path, place: str = "0", metal: str = "brass") -> Part:
    """An upright on a base, `place` from its left end."""
    text = ANGLE.replace("PLACE", place).replace("METAL", metal)
    text = text.replace("left: 4,", f"left: {float(place) + 4:g},")
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    shop = (SMALL / "workshop.yaml").read_text(encoding="utf-8")
    if metal != "brass":
        shop = shop.replace("rack:\n", f"rack:\n  {metal}: [16 x 8 x 400]\n")
    shop = shop.replace("36 x 16 x 200", "36 x 16 x 200, 30 x 16 x 200")
    (folder / "workshop.yaml").write_text(shop, encoding="utf-8")
    return api.read(folder)[0].part("angle")


def test_an_l_is_a_bar_with_a_step(tmp_path: Path) -> None:
    """32 x 16 x 24 goes: 40 x 16 x 30 less that, and the holes of both drawings alike."""
    part = angle(tmp_path)
    whole = from_solid(part, api.read(tmp_path)[1])
    step = next(f for f in whole.features if f.kind == "step")
    assert (step.spec.width, step.spec.depth) in ((32, 24), (24, 32))
    assert drawn_solid(whole).volume == pytest.approx(drawn_solid(part).volume, abs=2.0)
    assert whole.section == "30 x 16"


def test_a_tee_is_a_bar_with_two_steps(tmp_path: Path) -> None:
    whole = from_solid(angle(tmp_path, "16"), api.read(tmp_path)[1])
    assert [f.kind for f in whole.features if f.kind != "hole"] == ["step", "step"]


def test_a_u_is_the_part_written_for_it() -> None:
    """The small stand says itself how it would be cut from one bar: the derived one is the same."""
    build, shop = api.read(SMALL)
    part = build.part("stand")
    assert part.joined is not None
    assert part.joined.solid is not None
    derived, written = drawn_solid(from_solid(part, shop)), drawn_solid(part.joined.solid)
    assert derived.cut(written).volume + written.cut(derived).volume < 0.01


def test_different_metals_are_no_one_bar(tmp_path: Path) -> None:
    part = angle(tmp_path, metal="phosphor bronze")
    with pytest.raises(NotFromSolidError, match="different metals, brass and phosphor bronze"):
        from_solid(part, api.read(tmp_path)[1])


def test_pieces_with_cuts_of_their_own_are_told_of() -> None:
    from importlib.resources import files

    build, shop = api.read(Path(str(files("barstock") / "samples" / "wagon")))
    with pytest.raises(NotFromSolidError, match="'left guide' is no plain box: it has a step"):
        from_solid(build.part("horn frame"), shop)


def test_both_ways_are_proved_without_a_second_drawing(tmp_path: Path) -> None:
    angle(tmp_path)
    found = api.compare(tmp_path, "angle")
    assert found.solid is not None
    assert (found.built.trouble, found.solid.trouble) == ("", "")
    assert (found.built.heats, found.solid.heats) == (1, 0)
    # 32 x 16 x 24 to chips is 12.3 cm3
    assert found.solid.chips == pytest.approx(12.3 + 0.7, abs=0.7)
    assert found.built.chips < found.solid.chips
