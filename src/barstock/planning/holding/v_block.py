"""Round work in a V-block that a vise holds, whether it lies or stands there."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import sqrt
from typing import Self

from barstock.drawing.build import Part, Vec
from barstock.errors import UnplannableError
from barstock.handbook.holding_limits import BLOCK_IN_JAWS, IN_SIGHT
from barstock.planning.holding.grip import Grip
from barstock.planning.holding.metal import Needed, Seat
from barstock.planning.holding.round_turning import turned_to
from barstock.planning.holding.vise import about, over_parallels
from barstock.planning.holding.way import Way
from barstock.planning.tasks.pose import Box, Lie, Pose, lay
from barstock.planning.tasks.task import Task
from barstock.quantities import Length
from barstock.route import Body, BodyKind, Holding, Turned
from barstock.workshop.holding_kits import VBlock
from barstock.workshop.shop import Vise, Workshop

ROOT2 = sqrt(2.0)
ON_FLANK = 1.0  # of a V's side past where the round touches it [mm]; common practice
WITHIN = 0.5  # of a V's side that is left there of the thickest round [mm]; common practice
GRIP = BLOCK_IN_JAWS + 3.0  # of the block between the jaws [mm]; common practice
SEES = IN_SIGHT + 2.0  # of the work above all that holds it [mm]; common practice
VEE_GONE = 0.2  # share of what a V-block presses, or zero is found on; common practice
EACH = 8  # points along each line that are looked at

Points = Sequence[Vec]


@dataclass(frozen=True)
class Heights:
    """Heights over the bed between which something stands, from which on it is better so [mm], and
    what that is."""

    least: float
    most: float
    wished: float
    what: str


@dataclass(frozen=True)
class InV(Way):
    """Round work in a V. mouth: width of the V it is in [mm]; vise: the one to use, where it is not
    free.
    """

    block: VBlock
    mouth: float
    vise: str = ""

    @abstractmethod
    def bodies(self, lie: Lie) -> tuple[Body, ...]:
        """The block, and what else holds work that lies so."""

    @abstractmethod
    def wide(self, flat: Lie) -> float:
        """How far the jaws stand open [mm]. flat: the work on the bed."""

    @abstractmethod
    def heights(self, flat: Lie, tasks: Sequence[Task], vise: Vise) -> Heights:
        """How high what stands on the parallels must be over the bed. Raises UnplannableError."""

    def gripped(self, vise: Vise, lie: Lie, rest: float) -> float:
        """The height that the jaws grip of what stands on parallels so high [mm]."""
        return vise.jaw_depth - rest

    @abstractmethod
    def carried(self, flat: Lie) -> float:
        """The height of what stands on the parallels, of work whose lowest point is at 0 [mm]."""

    @abstractmethod
    def points(self, lie: Lie) -> tuple[Points, Points, Points]:
        """Points on the table where metal must be: where V, clamp and jaw press the work; what the
        edge finder must touch; what it touches in any place.
        """

    def in_device(self, name: str) -> Self | None:
        """The same way by the vise of that name."""
        return replace(self, vise=name)

    @classmethod
    def placed(cls, holding: Holding) -> Sequence[Body]:
        """The block and the clamp must stand in the same place."""
        return holding.of(BodyKind.V_BLOCK, BodyKind.CLAMP)

    def hold(
        self,
        pose: Pose,
        box: Box,
        tasks: Sequence[Task],
        shop: Workshop,
        wanted: Sequence[float] = (),
    ) -> Grip:
        """The work is held in the widest vise that will do, on the fewest and lowest parallels."""
        offered = [v for v in shop.vises if self.vise in ("", v.name)]
        trouble = UnplannableError("workshop.yaml lists no vise to hold the V-block in")
        for n, vise in enumerate(sorted(offered, key=lambda v: -v.opening)):
            try:
                return self._by(vise, pose, box, tasks, shop)
            except UnplannableError as reason:
                trouble = reason if n == 0 else trouble
        raise trouble

    def _by(self, vise: Vise, pose: Pose, box: Box, tasks: Sequence[Task], shop: Workshop) -> Grip:
        """Work in the block in that vise."""
        flat = lay(pose, box, 0.0)
        opening = self.wide(flat)
        if vise.opening < opening:
            raise UnplannableError(
                f"no vise opens {Length(opening):.1f} for the V-block ({pose.name}); {vise.name} "
                f"opens {Length(vise.opening):g}"
            )
        parallels = parallels_between(self.heights(flat, tasks, vise), shop.parallels)
        rest = sum(parallels)
        lie = lay(pose, box, rest - self.carried(flat))
        bodies = self.bodies(lie)
        thick, under = shop.parallel_thickness, bool(parallels) and not self.carried(flat)
        return Grip(
            vise.name,
            lie.packing,
            parallels,
            under and any(over_parallels(t, flat, thick, opening) for t in tasks),
            vise,
            self.gripped(vise, lie, rest),
            lie.extent[1][2] - vise.jaw_depth,
            about(bodies[0].middle[0], vise),
            opening,
            frozenset({round(lie.packing, 4)}),
            lie.packing,
            lie.packing,
            bodies,
        )

    def turned(self, pose: Pose, tasks: Sequence[Task], done: Sequence[Task]) -> Turned | None:
        """The work is turned until a cut made before looks where it must."""
        return turned_to(pose, tasks, done)

    def needs(self, pose: Pose, box: Box, part: Part) -> Needed:
        """It needs metal where it is pressed, and where zeros are found."""
        lie = lay(pose, box, 0.0)
        pressed, seen, any_of = (tuple(map(lie.of_part, on)) for on in self.points(lie))
        return Seat((pressed, seen), any_of, frozenset(), VEE_GONE)


def vees_for(blocks: Sequence[VBlock], across: float) -> list[tuple[VBlock, float]]:
    """The blocks that take a round so thick, each with the narrower V that does [mm].

    Raises UnplannableError.
    """
    wide = across / ROOT2 + 2 * WITHIN
    found = []
    for block in blocks:
        good = [v for v in (block.small_v, block.large_v) if v >= wide]
        found += [(block, min(good))] if good else []
    if not found:
        widest = max(max(block.small_v, block.large_v) for block in blocks)
        most = ROOT2 * (widest - 2 * WITHIN)
        raise UnplannableError(
            f"the V-block takes rounds of up to {Length(most):.1f}, and this is {Length(across):g} "
            f"across; add one with a V at least {Length(wide):.1f} wide to workshop.yaml"
        )
    return found


def parallels_between(heights: Heights, owned: Sequence[float]) -> tuple[float, ...]:
    """Those that bring something to between two heights over the bed [mm], or none."""
    least, most, what = max(heights.least, 0.0), heights.most, heights.what
    if most < least:
        raise UnplannableError(
            f"{what} cannot be held: it must stand {Length(least):.1f} or more above the bed "
            f"for the cutter, and {Length(most):.1f} or less to be gripped"
        )
    choices = [(), *((p,) for p in owned), *combinations(owned, 2)]
    good = [c for c in choices if least - 1e-6 <= sum(c) <= most + 1e-6]
    if not good:
        raise UnplannableError(
            f"no parallels owned bring {what} to between "
            f"{Length(least, most, between=' and '):.1f} above the bed of the vise; add such a "
            "pair to workshop.yaml"
        )
    return min(good, key=lambda c: (sum(c) < heights.wished - 1e-6, len(c), sum(c)))


def rounded(point: Vec) -> Vec:
    """A point rounded to a tenth of a micrometre."""
    return (round(point[0], 4), round(point[1], 4), round(point[2], 4))


def spread(span: tuple[float, float], count: int = EACH) -> list[float]:
    """The middles of as many equal pieces of a span."""
    return [span[0] + (span[1] - span[0]) * (n + 0.5) / count for n in range(count)]
