"""Holes in flanges beside a long stem, and over hollows: no deeper than there is metal for them."""

from pathlib import Path

import pytest

from barstock.proving.prove import prove
from barstock.route import Plunge

from .small_part import operations, planned, proved, written

STEM = (
    "kind: outline, face: top, start: {left: 0, front: 0}, path: [{to: {left: 4, front: 0}}, "
    "{to: {left: 4, width: centre -4}}, {to: {right: 0, width: centre -4}}, "
    "{to: {right: 0, width: centre +4}}, {to: {left: 4, width: centre +4}}, "
    "{to: {left: 4, back: 0}}, {to: {left: 0, back: 0}}, {to: {left: 0, front: 0}}]"
)
FOOT = (
    "kind: hole, face: left, at: [{width: centre -9, height: centre}, "
    "{width: centre +9, height: centre}], depth: through"
)
BRIDGE = (
    "kind: outline, face: top, start: {left: 0, front: 0}, path: [{to: {right: 0, front: 0}}, "
    "{to: {right: 0, back: 0}}, {to: {left: 0, back: 0}}, {to: {left: 0, back: 7}}, "
    "{to: {right: 9, back: 7}}, {to: {right: 9, front: 7}}, {to: {left: 0, front: 7}}, "
    "{to: {left: 0, front: 0}}]"
)
UPRIGHT = "kind: hole, face: right, at: {width: centre, height: centre}, depth: through"
POCKET = (
    "kind: pocket, face: top, at: {left: 22, width: centre}, length: 18, width: 12, depth: 10, "
    "corner radius: 3"
)
GLAND = "kind: hole, face: left, at: {width: centre, top: 6}, thread: M6, depth: 7"
SPINDLE = (
    "kind: hole, face: left, at: {width: centre, top: 6}, diameter: 3, depth: 13, finish: reamed"
)


def deepest(route_part: list[Plunge]) -> float:
    return -min(move.z for move in route_part)


@pytest.mark.parametrize("size", ["diameter: 2.5", "thread: M3", "diameter: 3, finish: reamed"])
def test_holes_in_the_foot_of_a_stem_are_drilled_through_the_foot(
    size: str, tmp_path: Path
) -> None:
    """100 mm of bar lie under the foot before the outline is cut, and then nothing."""
    text = written("100 x 30 x 8", STEM, f"{FOOT}, {size}", material="mild steel")
    moves = [
        move
        for done in operations(proved(text, tmp_path), "f2")
        for move in done.moves
        if isinstance(move, Plunge)
    ]
    assert moves, "the holes are not left to the person"
    assert deepest(moves) < 20.0


def test_a_thread_through_the_bridge_of_a_stirrup_ends_below_the_bridge(tmp_path: Path) -> None:
    text = written("60 x 40 x 10", BRIDGE, f"{UPRIGHT}, thread: M6", material="mild steel")
    tap = next(o for o in operations(proved(text, tmp_path), "f2") if o.cutter.thread)
    (move,) = tap.moves
    assert isinstance(move, Plunge)
    assert 9.0 < -move.z < 15.0


def test_a_hole_through_both_lugs_still_goes_through_both(tmp_path: Path) -> None:
    """A slot right across leaves air in the middle of the hole, and metal at its far end."""
    slot = "kind: slot, face: right, along: width, position: {height: centre}, width: 14, depth: 20"
    hole = "kind: hole, face: top, at: {right: 8, width: centre}, diameter: 5, depth: through"
    route = proved(written("50 x 16 x 30", slot, hole), tmp_path)
    drills = [o.moves for o in operations(route, "f2") if o.cutter.name.startswith("drill")]
    assert all(isinstance(m, Plunge) and m.through for moves in drills for m in moves)
    assert drills


def test_the_drill_of_a_gland_stops_short_of_the_steam_chest(tmp_path: Path) -> None:
    """The drawing leaves the drill's depth open: at three pitches below the thread its point would
    leave a film of metal to the hollow."""
    build, route = planned(written("50 x 25 x 20", POCKET, SPINDLE, GLAND), tmp_path)
    (move,) = next(o.moves for o in operations(route, "f3") if o.cutter.name.startswith("drill"))
    assert isinstance(move, Plunge)
    assert not [v for v in prove(route, build).violations if v.severity == "error"]
    assert 7.0 + 1.5 <= -move.z <= 13.0 - 1.0
