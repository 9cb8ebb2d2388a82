"""Does the work sit on its fixture: on the block as that came out, over its holes, at its pins?"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.proving.placing import SKIN
from barstock.proving.proof_record import Violation
from barstock.route import FixtureBlock, FixtureStop
from barstock.solids.shapes import Placement, Solid, cylinder

UP = (0.0, 0.0, 1.0)
NEAR = 0.1  # a pin so far from the side it is to stop does not locate it [mm]; common practice
THIN = 0.6  # radius of a rod that goes through every screw's hole [mm]
INTO = 2.0  # how far that rod goes into the work [mm]
RUN_IN = 0.5  # work and block that share more than this run into each other [mm3]
BIT = 0.05  # less metal in a rod's way is rounding [mm3]


def seated(fixture: FixtureBlock, block: Solid, work: Solid) -> Iterator[Violation]:
    """The faults in how joined work, in the frame of the whole, stands on its block."""
    a, b, c = fixture.rows
    on = work.moved(Placement((a, b, c), fixture.shift).inverse())  # in the block's own frame
    top = block.bounds[1][2]
    if on.common(block).volume > RUN_IN:
        yield Violation("the work runs into the fixture's block", "look at where it stands")
    if on.distance(block) > SKIN:
        yield Violation("the work does not lie on the fixture's block", "look at where it stands")
    for hole in fixture.holes:
        rod = cylinder((hole.left, hole.front, 0.0), UP, THIN, top + INTO)
        for solid, of in ((block, "the fixture's block"), (on, "the work")):
            if solid.common(rod).volume > BIT:
                what = f"{of} has no hole for '{hole.screw}' at ({hole.left:g}, {hole.front:g})"
                yield Violation(what, "drill it where the screw goes")
    for stop in fixture.stops:
        yield from _pin(stop, block, on, top)


def _pin(stop: FixtureStop, block: Solid, work: Solid, top: float) -> Iterator[Violation]:
    name = f"the pin at ({stop.left:g}, {stop.front:g})"
    radius = stop.size / 2
    foot = (stop.left, stop.front, 0.0)
    if block.common(cylinder(foot, UP, radius - SKIN, top)).volume > BIT:
        yield Violation(f"the fixture's block has no hole for {name}", "drill it there")
    root = (stop.left, stop.front, top + SKIN)
    if work.common(cylinder(root, UP, radius - SKIN, stop.tall)).volume > BIT:
        yield Violation(f"{name} stands in the work", "move it out of the way")
    elif work.common(cylinder(root, UP, radius + NEAR, stop.tall)).empty:
        yield Violation(f"{name} touches nothing", f"set it against {stop.piece}")
