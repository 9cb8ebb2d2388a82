"""A hole between pieces that stand up: its tools must stick out far enough for the chuck."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock import api
from barstock.errors import UnplannableError
from barstock.planning.plan import plan_build

from .test_fabrication_at_heat import SHOP

BRACKET = """build: Bracket
parts:
  foot:
    material: mild steel
    length: 70
    width: 20
    height: 12
    bar: 20 x 12
    as bought: [front, back, bottom, top]
    features:
      screws: {kind: hole, face: bottom, at: {row: {count: 2, pitch: 26, along: length},
        centre: {length: centre, width: centre}}, clearance for: M3, depth: through}
  cheek:
    copies: 2
    material: mild steel
    length: 36
    width: 20
    height: 6
    bar: 20 x 6
    as bought: [front, back, bottom, top]
    features:
      root: {kind: hole, face: left, at: {width: centre, height: centre}, thread: M3, depth: 8,
        drill depth: 10}
fabrications:
  bracket:
    length: 70
    width: 20
    height: 48
    pieces:
      foot: {part: foot, at: {left: 0, front: 0, bottom: 0}}
      left cheek: {part: cheek, turned: {left: bottom, top: left},
        at: {length: centre -13, width: centre}, against: {bottom: foot/top}}
      right cheek: {part: cheek, turned: {left: bottom, top: right},
        at: {length: centre +13, width: centre}, against: {bottom: foot/top}}
    joints:
      left root: {between: [foot, left cheek], form: tee, filler: Ag 155, gap: 0.05 to 0.10}
      right root: {between: [foot, right cheek], form: tee, filler: Ag 155, gap: 0.05 to 0.10}
    fixing screws:
      left: {through: foot/screws, into: left cheek/root}
      right: {through: foot/screws, into: right cheek/root}
    features:
      post: {kind: hole, face: top, at: {length: centre, width: centre}, diameter: 6, depth: 44}
"""
TOOLS = """holding: {vises: {vise: {jaw width: 100, jaw depth: 28, opening: 100}},
  parallels: [6 to 24 by 2]}
tools: {taps: [M3], drills: [1 to 10 by 0.1], spot drills: [SPOT],
  end mills: [{size: 16, flute: 38}],
  edge finders: [10]}
"""


def planned(folder: Path, spot: str) -> str:
    """The tool that spots the hole between the cheeks."""
    (folder / "build.yaml").write_text(BRACKET, encoding="utf-8")
    shop = SHOP.replace("mild steel: [", "mild steel: [20 x 6 x 300, ")
    (folder / "workshop.yaml").write_text(shop + TOOLS.replace("SPOT", spot), encoding="utf-8")
    route = plan_build(*api.read(folder))
    found = [o for s in route.setups for o in s.operations if o.id == "bracket/post/spot"]
    return found[0].cutter.name


def test_a_chuck_that_meets_what_stands_beside_the_hole_is_told(tmp_path: Path) -> None:
    """The cheeks stand 36 mm above the foot, 10 mm from the hole's middle; a chuck is 20 in radius.
    The usual spotting drill sticks out 25 mm."""
    with pytest.raises(UnplannableError, match="spot drill 6 would have to stick out 3"):
        planned(tmp_path, "6")


def test_the_longer_spotting_drill_is_taken(tmp_path: Path) -> None:
    assert planned(tmp_path, "6, {size: 6, reach: 45, name: long one}") == "long one"


def test_a_screw_head_under_work_that_lies_on_its_block_is_told(tmp_path: Path) -> None:
    """An M3 cap screw's head is 3 mm tall (ISO 4762): 3.2 mm of counterbore swallows it."""
    holes = "centre: {length: centre, width: centre}}, clearance for: M3, depth: through}"
    hold = "\n      hold: {kind: hole, face: top, at: {length: centre, width: centre}, "
    held = BRACKET.replace(holes, f"{holes}{hold}clearance for: M3, depth: through}}")
    right = "      right: {through: foot/screws, into: right cheek/root}\n"
    down = "      down: {through: foot/hold, into: fixture, thread: M3}\n"
    held = held.replace(right, f"{right}{down}    fixture: {{under: bottom}}\n")
    shop = SHOP.replace("mild steel: [", "mild steel: [20 x 6 x 300, ")
    (tmp_path / "workshop.yaml").write_text(shop + TOOLS.replace("SPOT", "6"), encoding="utf-8")

    def told(text: str) -> list[str]:
        (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
        return [fault.what for fault in api.check(tmp_path) if fault.grade == "error"]

    said = "the head of fixing screw 'left', 3 mm tall, stands between the work and its fixture"
    assert any(said in what for what in told(held))
    sunk = held.replace(holes, holes[:-1] + ", counterbore: {diameter: 6, depth: 3.2}}")
    assert not any(said in what for what in told(sunk))
