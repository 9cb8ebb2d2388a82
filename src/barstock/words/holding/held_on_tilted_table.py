"""Work strapped down on a table that is tilted on the mill's."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.route import BodyKind, Setup
from barstock.words.holding.held_on_table import FENCED, UnderStraps, over, parallel, spot
from barstock.words.holding.tilt_steps import tilt_steps
from barstock.words.holding.way_in_words import on_parallels, stop
from barstock.words.lines import Line, line
from barstock.words.reader import Reader

LOCKED = (
    "a table that gives way under the cut throws the work at you: tighten every lock of its tilt, "
    "then push hard on its raised end before the spindle turns. Straps, nuts and the raised end "
    "stand higher than they seem from the front; go to every end of travel by hand first"
)
"""Common practice."""


class OnTiltedTable(UnderStraps):
    """Work strapped down on the tilted table, against a fence, down to a stop."""

    def held(self, setup: Setup, reader: Reader) -> Iterator[tuple[str, str]]:
        h = setup.holding
        straps = h.of(BodyKind.STRAP)
        yield "Held on", f"the tilting table, under {len(straps)} straps, over the {over(straps)}"
        yield "Up", h.up.value
        yield "Fence", h.fixed_jaw.value
        yield "Stop", stop(setup, reader)
        on = on_parallels(h, reader) or "the tilting table"
        yield "Rests on", f"{h.up.opposite} on {on}"
        lifted = "right" if h.tilt > 0 else "left"
        yield "Tilt", f"{abs(h.tilt):.3g}°, {lifted}-hand end up"

    def steps(self, setup: Setup, reader: Reader) -> Iterator[Line]:
        h = setup.holding
        straps, (fence,), laid = (
            h.of(kind) for kind in (BodyKind.STRAP, BodyKind.FENCE, BodyKind.PARALLEL)
        )
        (table,) = h.of(BodyKind.TILTING_TABLE)
        yield line(
            "Bolt the tilting table to the mill's, the axis it tilts about along Y, its top still "
            "level; try with a dial indicator that it is"
        )
        yield line(
            "Clamp a straight bar on it as the fence, its face true along X by a dial indicator, "
            "and the stop for the left-hand end: the fence's ends along it from the stop, and its "
            "top no higher above the table than said",
            reader.set_roughly("begins", fence.low[0] - table.at),
            reader.set_roughly("ends", fence.high[0] - table.at),
            reader.set_roughly("high", fence.high[2] - table.high[2]),
            caution=FENCED,
        )
        for one in laid:
            yield parallel(one, reader, table.at)
        yield line(
            f"Work against fence and stop; {len(straps)} straps over the {over(straps)}, each "
            "nose's middle as said, measured along the table from the stop. Try that the work has "
            "not moved once they are tight",
            *(spot(n, strap, reader, table.at) for n, strap in enumerate(straps, 1)),
        )
        for told in tilt_steps(h, reader):
            yield Line(told.words, told.axes, told.other, caution=LOCKED)


WAYS = {"tilted table": OnTiltedTable()}
