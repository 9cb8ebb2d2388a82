"""Work screwed down on a fixture block between the jaws: is it held, and does a
cutter meet them?
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from math import dist, pi

from barstock.handbook.holding_limits import BLOCK_IN_JAWS, INTO_BLOCK, SCREWS_APART
from barstock.proving.held_work import Done, Held
from barstock.proving.holding.jaws import jaws
from barstock.proving.holding.obstacles import Obstacle, Upright
from barstock.proving.placing import FAR, SKIN
from barstock.proving.proof_record import Violation
from barstock.quantities import Length
from barstock.route import Body, BodyKind, Holding
from barstock.solids.shapes import Solid, box, cylinder
from barstock.workshop.shop import MachineKind

UP = (0.0, 0.0, 1.0)
LEAST_BEARING = 0.3  # share of a head or washer, less its hole, that bears; common practice
EDGE = 1.0  # metal beside a tapped hole, in screw diameters; common practice
MEND = "hold the work by other screws, or stop the cut higher"


class OnBlock:
    """Work on a block that the jaws grip."""

    name = "fixture block"
    machines = frozenset({MachineKind.MILL})
    zeros = "XYZ"
    touched = frozenset[BodyKind]()

    def opening(self, holding: Holding, work: Solid) -> float:
        """The width of the block [mm]."""
        return sum(block.size[1] for block in holding.of(BodyKind.BLOCK))

    def check(
        self, held: Held, work: Solid, fresh: Solid, earlier: Sequence[Done]
    ) -> Iterator[Violation]:
        """The faults in how the work lies on its block, and the block in the vise."""
        yield from list(_faults(held, work)) or _faults(held, held.work)

    def obstacles(self, held: Held) -> Sequence[Obstacle]:
        """The screws' heads, the block but for a little, and the jaws."""
        h, top = held.setup.holding, held.work.bounds[1][2]
        found: list[Obstacle] = []
        for screw in h.of(BodyKind.SCREW):
            name, spot = f"the head of the screw {screw.thread}", screw.middle[:2]
            tall = top + screw.high[2] - screw.at
            found.append(
                Upright(name, spot, spot, tall, MEND, rounded=screw.size[0] / 2, into=0, beside=0)
            )
        for block in h.of(BodyKind.BLOCK):
            around = block.low[:2], block.high[:2]
            found.append(
                Upright(
                    f"the {block.kind}", *around, block.high[2], MEND, into=INTO_BLOCK, beside=0
                )
            )
            found += jaws(h, block.size[1], block.high[1])
        return found

    def contacts(self, holding: Holding, opening: float) -> Sequence[tuple[str, Solid]]:
        """The block, on which no joined work is laid."""
        return ()


WAY = OnBlock()


def _faults(held: Held, work: Solid) -> Iterator[Violation]:
    h = held.setup.holding
    blocks, screws = h.of(BodyKind.BLOCK), h.of(BodyKind.SCREW)
    if len(blocks) != 1:
        yield Violation("the route has no block to screw the work down on", "plan it anew")
        return
    (block,) = blocks
    between = h.jaw_top - block.low[2]
    if between < BLOCK_IN_JAWS or block.high[2] < h.jaw_top:
        yield Violation(
            f"the jaws grip {Length(between):.2f} of the fixture block, and its top is "
            f"{Length(block.high[2] - h.jaw_top):.2f} above them",
            "use other parallels under the block",
        )
    wide = block.size[1]
    if h.largest_opening and wide > h.largest_opening + 1e-6:
        yield Violation(
            f"{h.device} opens {Length(h.largest_opening):g} and the block is {Length(wide):.2f} "
            "wide",
            "use a narrower block, or a larger vise",
        )
    if abs(sum(h.parallels) - block.low[2]) > 0.01 or abs(block.high[2] - h.packing) > 0.01:
        yield Violation("the block does not stand at the height the route says", "stack it anew")
    spots = [screw.middle[:2] for screw in screws]
    if max((dist(a, b) for a, b in combinations(spots, 2)), default=0.0) < SCREWS_APART:
        yield Violation(
            "the work may turn: it is held by one screw, or by screws close together",
            "hold it by two screws further apart",
        )
    for screw in screws:
        yield from _screw(screw, block, work)
    touch = work.common(_slab(block, block.high[2] - SKIN, block.high[2] + SKIN))
    size = work.bounds[1][0] - work.bounds[0][0]
    if touch.empty or touch.bounds[1][0] - touch.bounds[0][0] < size / 3:
        yield Violation("the work does not lie on the block", "turn it so that a flat face does")


def _slab(block: Body, low: float, high: float) -> Solid:
    return box((*block.low[:2], low), (*block.high[:2], high))


def _screw(screw: Body, block: Body, work: Solid) -> Iterator[Violation]:
    (x, y, _), head = screw.middle, screw.size[0]
    name = f"screw {screw.thread} at ({x:.2f}, {y:.2f})"
    edge = EDGE * screw.diameter
    if not all(block.low[i] + edge <= (x, y)[i] <= block.high[i] - edge for i in (0, 1)):
        yield Violation(f"{name} is not in the block", "use a larger block")
    foot = (x, y, -FAR)
    shank = cylinder(foot, UP, screw.diameter / 2, 2 * FAR)
    if work.common(shank).volume > 1e-3:
        yield Violation(
            f"{name} does not go through a hole of the work", "put it where a hole is, or thinner"
        )
        return
    under = work.common(cylinder(foot, UP, head / 2, 2 * FAR))
    if under.empty:
        yield Violation(f"{name} holds nothing", "put it where a hole is")
        return
    top = under.bounds[1][2]
    bears = under.common(box((-FAR, -FAR, top - SKIN), (FAR, FAR, top))).volume / SKIN
    whole = pi / 4 * (head**2 - screw.diameter**2)
    if bears < LEAST_BEARING * whole:
        yield Violation(
            f"the head of {name} bears on {Length(bears, power=2):.1f} only",
            "put a washer under it",
        )
