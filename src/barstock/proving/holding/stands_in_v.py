"""Round work standing in a V-block, between it and the fixed jaw."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from barstock.handbook.holding_limits import IN_SIGHT, stands_in_v
from barstock.proving.held_work import Held
from barstock.proving.holding.in_v_block import InVBlock, in_sight, seated
from barstock.proving.holding.in_vise import under
from barstock.proving.holding.jaws import jaws
from barstock.proving.holding.obstacles import Obstacle
from barstock.proving.placing import FAR, SKIN, stacked
from barstock.proving.proof_record import Violation
from barstock.quantities import Length
from barstock.route import Body, BodyKind
from barstock.solids.shapes import Solid, box


class StandsInV(InVBlock):
    """Work standing in an upright V that looks at the fixed jaw; the moving jaw
    presses the block.
    """

    name = "V-block, standing"
    touched: Collection[BodyKind] = frozenset({BodyKind.V_BLOCK})

    def wide(self, vee: Body) -> float:
        """The jaws stand open by work and block together [mm]."""
        return -vee.low[1]

    def obstacles(self, held: Held) -> Sequence[Obstacle]:
        """The block, the jaws, and what is under the work."""
        h, opening = held.setup.holding, held.opening
        return [*super().obstacles(held), *jaws(h, opening), *under(h, opening)]

    def faults(self, held: Held, work: Solid, vee: Body) -> Iterator[Violation]:
        """The faults up the V, up the fixed jaw, and where zeros are found."""
        h, (low, high) = held.setup.holding, work.bounds
        if vee.bears != "back":
            yield Violation("the V of the block does not look at the fixed jaw", "plan it anew")
            return
        yield from stacked(h, h.packing)
        need = stands_in_v(high[0] - low[0], high[2] - low[2])
        yield from seated(held, work, vee, need, ("left", "right"))
        contact = work.common(box((-FAR, -SKIN, -FAR), (FAR, 1.0, min(h.jaw_top, vee.high[2]))))
        tall = sum(lump.bounds[1][2] - lump.bounds[0][2] for lump in contact.lumps())
        if tall < need - 1e-6:
            yield Violation(
                f"the fixed jaw holds {Length(tall):.2f} of the work's height, "
                f"{Length(need):.2f} is the least",
                "stand the work lower, or turn it in the V",
            )
        top = max(h.jaw_top, vee.high[2]) + IN_SIGHT
        yield from in_sight(held, box((-FAR, -FAR, -FAR), (FAR, FAR, top)))


WAY = StandsInV()
