"""What the setups ask for and workshop.yaml does not list: taps for fixture blocks, what work is
set true or tilted by, boards under thin work."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from barstock.planning.route import Setup
from barstock.planning.tooling import taps
from barstock.workshop.model import Workshop

SET_BY = ("dial indicator", "protractor")


def unlisted(setups: Sequence[Setup], workshop: Workshop) -> list[str]:
    """What to buy or borrow, in words, with the setups it is for."""
    owned = {instrument.kind for instrument in workshop.instruments}
    wanted: dict[str, list[str]] = {}
    for setup in setups:
        block = setup.holding.block
        threads = {screw.thread for screw in block.screws} if block and block.made else set()
        found = [f"tap {thread}" for thread in sorted(threads) if not taps(workshop, thread)]
        told = " ".join([setup.holding.tilt_by, *(step.words for step in setup.steps)])
        found += [kind for kind in SET_BY if kind in told and kind not in owned]
        table = setup.holding.table
        if table and table.board:
            (x0, y0), (x1, y1) = table.under[0].low, table.under[0].high
            size = f"{10 * ceil((x1 - x0) / 10)} x {10 * ceil((y1 - y0) / 10)}"
            found.append(f"flat board to cut into, {size} x {setup.holding.packing:g} mm")
        for name in found:
            wanted.setdefault(name, []).append(setup.id)
    return [
        f"{name}, for setup{'s' * (len(ids) > 1)} {', '.join(ids)}" for name, ids in wanted.items()
    ]
