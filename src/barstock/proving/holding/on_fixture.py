"""Does the work sit on its fixture: on the block as that came out, over its holes, at its pins?"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.proving.placing import SKIN
from barstock.proving.proof_record import Violation
from barstock.quantities import Length
from barstock.route import FixtureBlock, FixtureScrewHole, FixtureStop
from barstock.solids.shapes import Placement, Solid, cylinder

UP = (0.0, 0.0, 1.0)
NEAR = 0.1  # a pin so far from the side it is to stop does not locate it [mm]; common practice
THIN = 0.6  # radius of a rod that goes through every screw's hole [mm]
INTO = 2.0  # how far that rod goes into the work [mm]
ROUNDED = 0.06  # work and block share no more by rounding and the block's limits [mm]
BIT = 0.05  # less metal in a rod's way is rounding [mm3]


def seated(fixture: FixtureBlock, block: Solid, work: Solid) -> Iterator[Violation]:
    """The faults in how joined work, in the frame of the whole, stands on its block."""
    a, b, c = fixture.rows
    on = work.moved(Placement((a, b, c), fixture.shift).inverse())  # in the block's own frame
    top = block.bounds[1][2]
    if any(min(_extent(lump)) > ROUNDED for lump in on.common(block).lumps()):
        yield Violation("the work runs into the fixture's block", "look at where it stands")
    if on.distance(block) > SKIN:
        yield Violation("the work does not lie on the fixture's block", "look at where it stands")
    for hole in fixture.holes:
        yield from _hole(hole, block, on)
    for stop in fixture.stops:
        yield from _pin(stop, block, on, top)


def _extent(solid: Solid) -> list[float]:
    low, high = solid.bounds
    return [b - a for a, b in zip(low, high, strict=True)]


def _hole(hole: FixtureScrewHole, block: Solid, on: Solid) -> Iterator[Violation]:
    """Is there room for a thin rod down the hole's axis, in block and work?"""
    low, high = block.bounds
    out = hole.face.normal
    mouth = [hole.left, hole.front, high[2] - hole.below]
    axis = hole.face.axis
    deep = hole.depth or high[axis] - low[axis]
    x, y, z = (m - deep * o for m, o in zip(mouth, out, strict=True))
    rod = cylinder((x, y, z), out, THIN, deep + INTO)
    for solid, of in ((block, "the fixture's block"), (on, "the work")):
        if solid.common(rod).volume > BIT:
            place = f"({Length(hole.left, hole.front, between=', '):g})"
            if hole.below:
                place += f", {Length(hole.below):g} below its top"
            yield Violation(f"{of} has no hole for '{hole.screw}' at {place}", "drill it there")


def _pin(stop: FixtureStop, block: Solid, work: Solid, top: float) -> Iterator[Violation]:
    name = f"the pin at ({Length(stop.left, stop.front, between=', '):g})"
    radius = stop.size / 2
    foot = (stop.left, stop.front, 0.0)
    if block.common(cylinder(foot, UP, radius - SKIN, top)).volume > BIT:
        yield Violation(f"the fixture's block has no hole for {name}", "drill it there")
    root = (stop.left, stop.front, top + SKIN)
    if work.common(cylinder(root, UP, radius - SKIN, stop.tall)).volume > BIT:
        yield Violation(f"{name} stands in the work", "move it out of the way")
    elif work.common(cylinder(root, UP, radius + NEAR, stop.tall)).empty:
        yield Violation(f"{name} touches nothing", f"set it against {stop.piece}")
