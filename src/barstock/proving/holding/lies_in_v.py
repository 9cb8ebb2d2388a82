"""Round work lying in a V-block that the jaws grip, clamped down into it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from barstock.handbook.holding_limits import IN_SIGHT, clamp_bears, least_length
from barstock.proving.held_work import Held
from barstock.proving.holding.in_v_block import InVBlock, in_sight, seated
from barstock.proving.holding.jaws import jaws
from barstock.proving.holding.obstacles import Obstacle
from barstock.proving.placing import FAR, SKIN, stacked
from barstock.proving.proof_record import Violation
from barstock.quantities import Length
from barstock.route import Body, BodyKind
from barstock.solids.shapes import Solid, box

FINDS = 3.0  # of the block's sides above the jaws for an edge finder [mm], common practice


class LiesInV(InVBlock):
    """Work lying in a V that looks up; the zero across may be found on the block's sides."""

    name = "V-block, lying"
    touched: Collection[BodyKind] = frozenset({BodyKind.V_BLOCK})

    def wide(self, vee: Body) -> float:
        """The jaws stand open by the block's width [mm]."""
        return vee.size[1]

    def obstacles(self, held: Held) -> Sequence[Obstacle]:
        """The block and clamp, and the jaws beside the block."""
        h = held.setup.holding
        beside = [j for vee in h.of(BodyKind.V_BLOCK) for j in jaws(h, vee.size[1], vee.high[1])]
        return [*super().obstacles(held), *beside]

    def faults(self, held: Held, work: Solid, vee: Body) -> Iterator[Violation]:
        """The faults along the V, under the clamp, and where zeros are found."""
        h, (low, high) = held.setup.holding, work.bounds
        if vee.bears != "up":
            yield Violation("the V of the block does not look up", "plan it anew")
            return
        yield from stacked(h, vee.low[2])
        yield from seated(held, work, vee, least_length(high[0] - low[0]), ("front", "back"))
        clamps = h.of(BodyKind.CLAMP)
        if not clamps:
            yield Violation("nothing holds the work down in the V-block", "clamp it")
        for clamp in clamps:
            yield from _pressed(work, clamp)
        top = vee.high[2] + IN_SIGHT
        over = (vee.low[0] - IN_SIGHT, -FAR, -FAR), (vee.high[0] + IN_SIGHT, FAR, top)
        yield from in_sight(held, box(*over))
        if held.setup.zero_y.on is BodyKind.V_BLOCK and vee.high[2] - h.jaw_top < FINDS:
            yield Violation(
                "the sides of the V-block that the Y zero is found between are hidden by the jaws",
                "stand the block higher",
            )


WAY = LiesInV()


def _pressed(work: Solid, clamp: Body) -> Iterator[Violation]:
    a, b, z = clamp.low[0], clamp.high[0], clamp.at
    under = work.common(box((a, -FAR, z - SKIN), (b, FAR, z + SKIN)))
    long = 0.0 if under.empty else under.bounds[1][0] - under.bounds[0][0]
    proud = work.common(box((a, -FAR, z + SKIN), (b, FAR, FAR)))
    length = work.bounds[1][0] - work.bounds[0][0]
    if long < clamp_bears(b - a, length) - 1e-6 or not proud.empty:
        yield Violation(
            f"the clamp of the V-block bears on {Length(long):.2f} of the work, at {Length(z):.2f}",
            "clamp it where it has not been cut",
        )
