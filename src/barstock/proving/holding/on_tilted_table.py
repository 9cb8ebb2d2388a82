"""Work strapped down on a tilted table: what is demanded of it as of work on a level one, seen with
the table turned back."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from barstock.proving.held_work import Done, Held
from barstock.proving.holding.obstacles import Obstacle, Shaped
from barstock.proving.holding.on_table import MEND, named
from barstock.proving.holding.under_straps import UnderStraps
from barstock.proving.placing import SKIN, stacked, tilted
from barstock.proving.proof_record import Violation
from barstock.quantities import Length
from barstock.route import Body, BodyKind, Holding, TiltBy
from barstock.solids.shapes import Solid, box

STOPPED = 0.5  # from the work's end to where the stop is said to be [mm]; common practice
SAME = 1e-6  # of the table's tilt and what leans with it [degrees]


class OnTiltedTable(UnderStraps):
    """Work under straps on a table that is tilted on the mill's."""

    name = "tilted table"

    def check(
        self, held: Held, work: Solid, fresh: Solid, earlier: Sequence[Done]
    ) -> Iterator[Violation]:
        """The faults in how it is held: all that stands on the table leans with it, the work lies
        on it or on its parallels, and is held as on a level one."""
        h = held.setup.holding
        if h.tilt_set is None or h.tilt_set.by is not TiltBy.TILTING_TABLE:
            yield Violation("nothing says that the table is tilted", "set it by its own scale")
        if any(abs(body.lean - h.tilt) > SAME for body in h.bodies):
            yield Violation(
                "something that stands on the tilted table does not lean as the work does",
                "plan it anew",
            )
            return
        tables = h.of(BodyKind.TILTING_TABLE)
        if len(tables) != 1:
            yield Violation("the route has no tilting table there", "plan it anew")
            return
        yield from stacked(h, h.packing)
        back = tilted(-h.tilt)
        level = replace(
            held,
            setup=held.setup.model_copy(update={"holding": _levelled(h, tables[0])}),
            work=held.work.moved(back),
        )
        rest = level.work.bounds[0][2]
        if abs(rest - level.setup.holding.packing) > SKIN:
            yield Violation(
                f"the work lies {Length(rest - tables[0].high[2]):.2f} above the tilted table, its "
                f"parallels are {Length(h.packing):g} high",
                "choose parallels that make the height",
            )
            return
        if abs(level.work.bounds[0][0] - tables[0].at) > STOPPED:
            yield Violation("the work does not lie against the stop there", "plan it anew")
        yield from self.faults(level, work.moved(back), fresh.moved(back))

    def carriers(self, holding: Holding) -> tuple[Body, ...]:
        """The parallels that the work lies on, or the table."""
        return super().carriers(holding) or holding.of(BodyKind.TILTING_TABLE)

    def obstacles(self, held: Held) -> Sequence[Obstacle]:
        """The table and all that stands on it, as they lean."""
        return [
            Shaped(named(b), box(b.low, b.high).moved(tilted(b.lean)), MEND)
            for b in held.setup.holding.bodies
        ]


WAY = OnTiltedTable()


def _levelled(holding: Holding, table: Body) -> Holding:
    """The holding on the table turned back; its packing is then the height that the work rests
    at."""
    rest = table.high[2] + holding.packing
    return holding.model_copy(update={"tilt": 0.0, "packing": rest})
