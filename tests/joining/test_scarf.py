"""Two pieces joined end to end on a slope: plane geometry, planted mistakes, a proved route.

A slope that rises 12 mm in 24 leans 26.57 degrees: its normal lies 0.4472 along the length, so that
slopes parted by g square to them lie g / 0.4472 apart along it.
"""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, pi, radians, sin
from pathlib import Path

import pytest

from barstock import api
from barstock.drawing.part import Joined
from barstock.fabricating.gap_chain import gap_from
from barstock.methods.pieces_meeting import meeting
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.words.hearth_steps import hearth_step
from barstock.words.joint_gaps import gap_set_by
from barstock.words.reader import Reader

SHOP = Path(__file__).parents[2] / "src" / "barstock" / "samples" / "wagon" / "workshop.yaml"
SLOPE = 26.565
BUILD = """build: Long stay
general tolerance: ISO 2768-m
parts:
LEFT
RIGHT
fabrications:
  stay:
    length: 76
    width: 12
    height: 12
    pieces:
      left: {part: left half, at: {left: 0, width: centre, bottom: 0}}
      right: {part: right half, turned: {left: right, top: bottom},
        at: {right: 0, width: centre, bottom: 0}}
    joints:
      splice: {between: [left, right], form: scarf, filler: Ag 155, gap: 0.05 to 0.12,
        cut by: [through hole]}
    fixing screws:
      screw: {through: right/screw, into: left/screw, material: brass, left in: true,
        replaced by: through hole}
    features:
      through hole: {kind: hole, face: top, at: {left: 38, width: centre}, diameter: 4,
        depth: through}
"""


def half(name: str, hole: str, top: float = 26.0) -> str:
    """A bar's end filed to a slope, from 50 at the bottom to `top` at the top."""
    return f"""  {name}:
    material: brass
    length: 50
    width: 12
    height: 12
    bar: 12 x 12
    as bought: [front, back, top, bottom]
    features:
      slope: {{kind: outline, face: front, finish: filed, start: {{left: 0, bottom: 0}}, path: [
        {{to: {{left: 50, bottom: 0}}}}, {{to: {{left: {top:g}, bottom: 12}}}},
        {{to: {{left: 0, bottom: 12}}}}, {{to: {{left: 0, bottom: 0}}}}]}}
      screw: {{kind: hole, face: bottom, at: {{left: 38, width: centre}}, {hole}: M2.5,
        depth: through}}"""


def stay(right_top: float = 26.0) -> str:
    right = half("right half", "clearance for", right_top)
    return BUILD.replace("LEFT", half("left half", "thread")).replace("RIGHT", right)


def written(folder: Path, text: str) -> Path:
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    (folder / "workshop.yaml").write_text(SHOP.read_text(encoding="utf-8"), encoding="utf-8")
    return folder


def joined_of(folder: Path) -> Joined:
    joined = api.read(folder)[0].part("stay").joined
    assert joined is not None
    return joined


def told(folder: Path, text: str) -> str:
    faults = api.check(written(folder, text))
    return "\n".join(f"{f.what}; {f.mend}" for f in faults if f.grade == "error")


def test_its_area_is_that_of_the_slope(tmp_path: Path) -> None:
    joined = joined_of(written(tmp_path, stay()))
    met = meeting(joined.joints[0], joined)
    assert met is not None
    # 12 wide, less the oval that the 2.9 mm clearance hole (ISO 273) leaves in the slope.
    oval = pi / 4 * 2.9**2 / cos(radians(SLOPE))
    assert met.area == pytest.approx(12 * hypot(24, 12) - oval, rel=2e-3)
    assert met.line == pytest.approx(2 * (12 + hypot(24, 12)), rel=1e-3)


def test_its_gap_is_told_along_the_length(tmp_path: Path) -> None:
    joined = joined_of(written(tmp_path, stay()))
    words = gap_set_by(gap_from(joined, joined.joints[0]).set_by, Reader())
    least, most = (gap / sin(radians(SLOPE)) for gap in (0.05, 0.12))
    assert f"by {least:.2f} to {most:.2f} mm" in words
    assert "26.6°" in words


def test_it_goes_all_the_way_to_a_proved_route(tmp_path: Path) -> None:
    build, shop = api.read(written(tmp_path, stay()))
    route = plan_build(build, shop)
    (one,) = route.fabrications
    assert one.joints[0].form == "scarf"
    order = [hearth_step(step, one, Reader()) for step in one.order]
    assert any("slide on each other" in words for words in order)
    assert not any("the fixture" in words for words in order), "there is none"
    proof = prove(route, build)
    assert [str(v) for v in proof.violations if v.severity == "error"] == []
    assert max(part.deviation for part in proof.parts) < 0.02


def test_slopes_of_two_angles_are_named(tmp_path: Path) -> None:
    said = told(tmp_path, stay(right_top=24.0))
    other = degrees(atan2(12, 26))
    assert f"'left' slopes 26.57° to the length and 'right' {other:.2f}°" in said
    assert "draw both slopes at one angle" in said


def test_a_piece_not_turned_over_is_named(tmp_path: Path) -> None:
    said = told(tmp_path, stay().replace("top: bottom}", "top: top}"))
    assert "no slopes of 'left' and 'right' look at each other" in said


def test_a_gap_too_wide_by_the_slope_is_named(tmp_path: Path) -> None:
    wider = stay().replace("length: 76", "length: 76.5")
    assert "stand 0.224 mm apart, square to the slope; the gap is 0.05 to 0.12" in told(
        tmp_path, wider
    )
    assert "move one by 0.5 mm along the length" in told(tmp_path, wider)
    just = stay().replace("length: 76", "length: 76.2")  # 0.089 square to the slope
    assert "square to the slope" not in told(tmp_path, just)


def test_a_slope_joined_by_another_form_is_named(tmp_path: Path) -> None:
    said = told(tmp_path, stay().replace("form: scarf", "form: butt"))
    assert "is a butt joint, and its pieces meet on a slope of 26.6°" in said
    assert "write 'form: scarf'" in said


def test_square_ends_are_no_scarf(tmp_path: Path) -> None:
    flat = stay().replace("{to: {left: 26, bottom: 12}}", "{to: {left: 50, bottom: 12}}")
    flat = flat.replace("length: 76\n", "length: 100\n").replace(
        "left: 38, width: centre}, diam", "left: 50, width: centre}, diam"
    )
    assert "no slopes of 'left' and 'right' look at each other" in told(tmp_path, flat)
