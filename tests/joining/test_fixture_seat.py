"""A fixture keeps metal under the work; its screws count the air beneath what they hold."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock import api
from barstock.fabricating.joining_plan import joining_plan
from barstock.reading.faults import fault_line

from .test_planted_mistakes import FIXTURE_OF_ONES_OWN, SMALL, faults

ROOMY = FIXTURE_OF_ONES_OWN.replace(
    "left: 46, front: 10}, diameter: 2.1", "left: 46, front: 10}, diameter: 3"
)

LAMP_STAND = """build: Lamp stand
parts:
  base:
    material: brass
    length: 50
    width: 20
    height: 6
    features:
      post holes: {kind: hole, face: bottom, at: {row: {count: 2, pitch: 10, along: width},
        centre: {left: 3, width: centre}}, clearance for: M2, depth: through}
  upright:
    material: brass
    length: 40
    width: 20
    height: 6
    features:
      fixing: {kind: hole, face: left, at: {row: {count: 2, pitch: 10, along: width},
        centre: {width: centre, height: centre}}, thread: M2, depth: 8, drill depth: 10}
      plate holes: {kind: hole, face: top, at: {row: {count: 2, pitch: 16, along: length},
        from: {left: 12, width: centre}}, clearance for: M3, depth: through}
BLOCK
fabrications:
  lamp stand:
    length: 50
    width: 20
    height: 46
    pieces:
      foot: {part: base, at: {left: 0, width: centre, bottom: 0}}
      post: {part: upright, turned: {left: bottom, top: left}, at: {left: 0, width: centre},
        against: {bottom: foot/top}}
    joints:
      corner: {between: [foot, post], form: butt, filler: Ag 155, gap: 0.05 to 0.10}
    fixture: {under: left}
    fixing screws:
      down: {through: post/plate holes, into: fixture, thread: M3}
      up: {through: foot/post holes, into: post/fixing, material: brass}
"""

OWN = """  block:
    material: mild steel
    length: 32
    width: 60
    height: 10
    features:
      slot: {kind: slot, face: top, along: length, position: {front: 29}, width: 20, depth: 4}
      one: {kind: hole, face: top, at: {left: 16, front: 25}, thread: M3, depth: through}
      other: {kind: hole, face: top, at: {left: 16, front: 41}, thread: M3, depth: through}"""


def written(folder: Path, text: str) -> Path:
    """A folder with a build, and the small shop with bar for its block."""
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    shop = (SMALL / "workshop.yaml").read_text(encoding="utf-8")
    shop = shop.replace("mild steel: [", "mild steel: [60 x 12 x 200, 60 x 10 x 200, ")
    shop = shop.replace("brass: [", "brass: [20 x 6 x 400, ").replace("taps: [", "taps: [M3, ")
    (folder / "workshop.yaml").write_text(shop, encoding="utf-8")
    return folder


def test_the_cut_out_runs_along_the_joint_and_leaves_both_pieces_a_seat(tmp_path: Path) -> None:
    """The L lies on the left faces of its foot, 6 high, and its post, 40 high: 46 in the middle of
    a block 60 wide, so that the joint's line is 7 + 6 = 13 mm from one side. The foot gives a
    third of its 6 mm, the post the 5 mm that the flame takes."""
    build, _ = api.read(written(tmp_path, LAMP_STAND.replace("BLOCK\n", "")))
    slots = [f.spec for f in build.part("lamp stand fixture").features if f.kind == "slot"]
    assert len(slots) == 1
    walls = slots[0].walls
    near = walls if walls[0] < 30 else (60 - walls[1], 60 - walls[0])
    assert near == (pytest.approx(11, abs=0.05), pytest.approx(18, abs=0.05))
    assert not api.check(tmp_path)


def test_screws_reach_over_the_air_under_what_they_hold(tmp_path: Path) -> None:
    """A slot 4 deep lies under one of two holes through 6 mm: that screw's way is 10."""
    own = LAMP_STAND.replace("BLOCK", OWN).replace("under: left", "under: left, part: block")
    build, workshop = api.read(written(tmp_path, own))
    joining = joining_plan(build.part("lamp stand"), workshop)
    down = next(s for s in joining.screws if s.place.name == "down")
    assert down.place.grip_least == pytest.approx(6, abs=0.2)
    assert down.place.grip_most == pytest.approx(10, abs=0.2)


NO_SEAT = {
    "under one piece": ("position: {left: 14}, width: 14", "'left cheek' on 0%"),
    "under the other": ("position: {left: 46}, width: 14", "'right cheek' on 0%"),
}


@pytest.mark.parametrize(("slot", "words"), NO_SEAT.values(), ids=NO_SEAT.keys())
def test_a_block_that_carries_no_piece_is_refused(tmp_path: Path, slot: str, words: str) -> None:
    line = f"      away: {{kind: slot, face: top, along: width, {slot}, depth: 3}}\nfabrications:"
    own = ROOMY.replace("fabrications:", line)
    told = faults(tmp_path, ("\nfabrications:", own),
                  ("under: bottom}", "under: bottom, part: block}"))  # fmt: skip
    assert any(f"the fixture 'block' carries {words}" in each for each in told)


STRIPS = """build: Strips
parts:
  strip:
    copies: 2
    material: mild steel
    length: 60
    width: 4
    height: 12
    features:
      screw hole: {kind: hole, face: top, at: {left: 8, width: centre}, diameter: 2.4,
                   depth: through}
fabrications:
  pair:
    length: 60
    width: 8
    height: 12
    pieces:
      near: {part: strip, at: {left: 0, front: 0, bottom: 0}}
      far: {part: strip, at: {left: 0, back: 0, bottom: 0}}
    joints:
      seam: {between: [near, far], form: butt, filler: Ag 155, gap: 0.05 to 0.10}
    fixing screws:
      near screw: {through: near/screw hole, into: fixture, thread: M2}
      far screw: {through: far/screw hole, into: fixture, thread: M2}
    fixture: {under: bottom}
"""


def test_a_joint_that_no_slot_can_be_cut_under_is_told(tmp_path: Path) -> None:
    """Strips 4 wide, a screw 2 across in the middle of each: with 1 mm of wall beside its hole,
    1.5 from its middle, nothing is left, where a flame wants 3."""
    told = [fault for fault in api.check(written(tmp_path, STRIPS)) if "'seam'" in fault.what]
    assert [fault.grade for fault in told if "hides joint" in fault.what] == ["warning"]
    assert any("would be 0.0 mm wide, too narrow for a flame" in fault.what for fault in told)


def test_a_screw_that_does_not_point_at_the_fixture_is_told_by_its_name(tmp_path: Path) -> None:
    """The post's holes run from left to right, the fixture lies under the bottom."""
    text = LAMP_STAND.replace("BLOCK\n", "").replace("under: left", "under: bottom")
    told = [fault_line(fault) for fault in api.check(written(tmp_path, text))]
    line = text[: text.index("down: {")].count("\n") + 1
    said = "fixing screw 'down' does not point at the fixture"
    assert [f":{line}:" in t for t in told if said in t] == [True]
