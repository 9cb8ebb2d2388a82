"""Work screwed down on a fixture block: is it held, does a cutter meet the screws or the block?"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import dist, pi

from barstock.proving.placing import SKIN
from barstock.proving.proof_record import Violation
from barstock.proving.stock_cutting import Held
from barstock.proving.sweep import Run
from barstock.route import Block, Screw
from barstock.solids.shapes import Solid, box, cylinder

UP = (0.0, 0.0, 1.0)
FAR = 1e3
LEAST_JAWS = 5.0  # of the block between the jaws [mm], common practice
LEAST_BEARING = 0.3  # share of a head or washer, less its hole, that bears; common practice
LEAST_APART = 5.0  # two screws nearer than this let the work turn [mm], common practice
EDGE = 1.0  # metal beside a tapped hole, in screw diameters; common practice
INTO = 1.0  # a cutter may go this far into the block [mm]


def check(held: Held, work: Solid) -> Iterator[Violation]:
    """Faults in how `work` lies on its block, and the block in the vise."""
    h = held.setup.holding
    block = h.block
    if block is None:
        return
    between = h.jaw_top - block.low[2]
    if between < LEAST_JAWS or block.high[2] < h.jaw_top:
        yield Violation(
            f"the jaws grip {between:.2f} mm of the fixture block, and its top is "
            f"{block.high[2] - h.jaw_top:.2f} mm above them",
            "use other parallels under the block",
        )
    wide = block.high[1] - block.low[1]
    if h.largest_opening and wide > h.largest_opening + 1e-6:
        yield Violation(
            f"{h.device} opens {h.largest_opening:g} mm and the block is {wide:.2f} mm wide",
            "use a narrower block, or a larger vise",
        )
    if abs(sum(h.parallels) - block.low[2]) > 0.01 or abs(block.high[2] - h.packing) > 0.01:
        yield Violation("the block does not stand at the height the route says", "stack it anew")
    spots = [(screw.x, screw.y) for screw in block.screws]
    if max((dist(a, b) for a, b in combinations(spots, 2)), default=0.0) < LEAST_APART:
        yield Violation(
            "the work may turn: it is held by one screw, or by screws close together",
            "hold it by two screws further apart",
        )
    for screw in block.screws:
        yield from _screw(screw, block, work)
    touch = work.common(_slab(block, block.high[2] - SKIN, block.high[2] + SKIN))
    size = work.bounds[1][0] - work.bounds[0][0]
    if touch.empty or touch.bounds[1][0] - touch.bounds[0][0] < size / 3:
        yield Violation("the work does not lie on the block", "turn it so that a flat face does")


def _slab(block: Block, low: float, high: float) -> Solid:
    return box((*block.low[:2], low), (*block.high[:2], high))


def _screw(screw: Screw, block: Block, work: Solid) -> Iterator[Violation]:
    name = f"screw {screw.thread} at ({screw.x:.2f}, {screw.y:.2f})"
    edge = EDGE * screw.size
    spot = (screw.x, screw.y)
    if not all(block.low[i] + edge <= spot[i] <= block.high[i] - edge for i in (0, 1)):
        yield Violation(f"{name} is not in the block", "use a larger block")
    foot = (screw.x, screw.y, -FAR)
    shank = cylinder(foot, UP, screw.size / 2, 2 * FAR)
    if work.common(shank).volume > 1e-3:
        yield Violation(
            f"{name} does not go through a hole of the work", "put it where a hole is, or thinner"
        )
        return
    ring = cylinder(foot, UP, screw.head / 2, 2 * FAR)
    under = work.common(ring)
    if under.empty:
        yield Violation(f"{name} holds nothing", "put it where a hole is")
        return
    top = under.bounds[1][2]
    bears = under.common(box((-FAR, -FAR, top - SKIN), (FAR, FAR, top))).volume / SKIN
    whole = pi / 4 * (screw.head**2 - screw.size**2)
    if bears < LEAST_BEARING * whole:
        yield Violation(
            f"the head of {name} bears on {bears:.1f} mm2 only", "put a washer under it"
        )


def meets(held: Held, run: Run) -> str:
    """What of the screws and the block a cutter runs into, "" if nothing."""
    block = held.setup.holding.block
    if block is None:
        return ""
    top = held.work.bounds[1][2]
    for screw in block.screws:
        spot = (screw.x, screw.y)
        gap = run.gap(spot, spot) - screw.head / 2
        if run.tip < top + screw.tall and gap < run.radius_at(top + screw.tall):
            return f"the head of the screw {screw.thread}"
    if run.tip < block.high[2] - INTO and run.gap(block.low[:2], block.high[:2]) < run.radius:
        return f"the fixture block, {block.high[2] - run.tip:.2f} mm deep"
    return ""


def holder_meets(held: Held, run: Run, low: float, radius: float) -> bool:
    """Does what is above `low` [mm], of this radius, meet a screw's head?"""
    block = held.setup.holding.block
    if block is None:
        return False
    top = held.work.bounds[1][2]
    return any(
        low < top + screw.tall
        and run.gap((screw.x, screw.y), (screw.x, screw.y)) < radius + screw.head / 2
        for screw in block.screws
    )
