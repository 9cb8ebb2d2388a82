"""Demands on all round work in a V-block, whether it lies or stands there."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Collection, Iterator, Sequence

from barstock.handbook.holding_limits import BLOCK_IN_JAWS
from barstock.proving.held_work import Done, Held
from barstock.proving.holding.obstacles import CLEAR, INTO, Obstacle, Shaped, standing
from barstock.proving.holding.v_block_solid import block, clamp, flanks
from barstock.proving.proof_record import Violation
from barstock.quantities import Length
from barstock.route import Body, BodyKind, Holding
from barstock.solids.shapes import Solid
from barstock.workshop.shop import MachineKind

SOLIDS = {BodyKind.V_BLOCK: block, BodyKind.CLAMP: clamp}
NAMES = {BodyKind.CLAMP: "the clamp of the V-block"}
MEND = "move the V-block along the work, or stop the cut higher"


class InVBlock(ABC):
    """Round work in a V-block that a vise holds."""

    name: str
    machines = frozenset({MachineKind.MILL})
    zeros = "XYZ"
    touched: Collection[BodyKind] = frozenset()

    @abstractmethod
    def wide(self, vee: Body) -> float:
        """The width between the jaws on block and work [mm]."""

    @abstractmethod
    def faults(self, held: Held, work: Solid, vee: Body) -> Iterator[Violation]:
        """The faults in how the work lies in the V and is pressed into it."""

    def opening(self, holding: Holding, work: Solid) -> float:
        """The width between the jaws on block and work [mm]."""
        return sum(self.wide(vee) for vee in holding.of(BodyKind.V_BLOCK))

    def check(
        self, held: Held, work: Solid, fresh: Solid, earlier: Sequence[Done]
    ) -> Iterator[Violation]:
        """The faults in how it is held."""
        yield from list(self._all(held, work)) or self._all(held, held.work)

    def obstacles(self, held: Held) -> Sequence[Obstacle]:
        """The bodies to keep clear of, those of the V-block as exact solids."""
        found: list[Obstacle] = []
        for body in held.setup.holding.bodies:
            name = NAMES.get(body.kind, f"the {body.kind}")
            if body.kind in SOLIDS:
                found.append(Shaped(name, SOLIDS[body.kind](body), MEND))
            else:
                found.append(standing(body, name, MEND))
        return found

    def contacts(self, holding: Holding, opening: float) -> Sequence[tuple[str, Solid]]:
        """There are none, for no joined work is held in a V."""
        return ()

    def _all(self, held: Held, work: Solid) -> Iterator[Violation]:
        h = held.setup.holding
        vees = h.of(BodyKind.V_BLOCK)
        if len(vees) != 1:
            yield Violation("the route has no V-block to hold the work in", "plan it anew")
            return
        (vee,) = vees
        wide = self.wide(vee)
        if wide > h.largest_opening + 1e-6:
            yield Violation(
                f"{h.device} opens {Length(h.largest_opening):g} and the V-block wants "
                f"{Length(wide):.2f}",
                "use a larger vise, or a smaller block",
            )
        gripped = min(h.jaw_top, vee.high[2]) - vee.low[2]
        if gripped < BLOCK_IN_JAWS:
            yield Violation(
                f"the jaws grip {Length(gripped):.2f} of the V-block", "stand it on lower parallels"
            )
        if work.common(block(vee, -CLEAR)).volume > INTO:
            yield Violation(
                "the work would have to go into the V-block",
                "the V is too narrow, or it lies too low",
            )
            return
        yield from self.faults(held, work, vee)


def seated(
    held: Held, work: Solid, vee: Body, need: float, sides: tuple[str, str]
) -> Iterator[Violation]:
    """Does the work touch either side of the V along enough of it? need: how much is [mm]."""
    along = 0 if vee.bears == "up" else 2
    for name, flank in zip(sides, flanks(vee, held.setup.holding.jaw_top), strict=True):
        contact = work.common(flank)
        long = sum(lump.bounds[1][along] - lump.bounds[0][along] for lump in contact.lumps())
        if long < need - 1e-6:
            yield Violation(
                f"the work lies along {Length(long):.2f} of the V's {name} side, "
                f"{Length(need):.2f} is the least",
                "move the block along the work, or turn the work in it",
            )


def in_sight(held: Held, hidden: Solid) -> Iterator[Violation]:
    """Can an edge finder touch both sides where a zero is found on the axis, but for what is
    hidden?"""
    seen, (low, high) = held.work.cut(hidden), held.work.bounds
    for i, zero in enumerate((held.setup.zero_x, held.setup.zero_y)):
        if zero.find != "centre" or zero.on is not None:
            continue
        if seen.empty or any(abs(seen.bounds[k][i] - (low, high)[k][i]) > 1e-3 for k in (0, 1)):
            yield Violation(
                f"the sides the {'XY'[i]} zero is found between are hidden by the V-block",
                "let the work stand out of the block",
            )
