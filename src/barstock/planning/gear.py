"""What the setups are worked with that workshop.yaml does not list: the taps of fixture blocks, and
what work is set true or tilted by."""

from __future__ import annotations

from collections.abc import Sequence

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
        for name in found:
            wanted.setdefault(name, []).append(setup.id)
    return [
        f"{name}, for setup{'s' * (len(ids) > 1)} {', '.join(ids)}" for name, ids in wanted.items()
    ]
