"""Work stood against an angle plate: does it touch plate and table, do the straps press on it?"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.proving.placing import SKIN
from barstock.proving.proof_record import Violation
from barstock.proving.stock_cutting import Held
from barstock.route import Across, Table
from barstock.solids.shapes import Solid, box

LEAST_BEARING = 30.0  # of a strap on the work [mm2]; common practice
LEAST_SOLID = 0.6  # share of what is between strap and plate that is metal, common practice
LEAST_SEAT = 0.3  # share of the work's width that touches the plate, and of what of its height is
# beside it; common practice
STANDS = 0.5  # share of the work's height that the plate reaches at least; common practice
ONE = 4.0  # times its width that work one strap holds may be tall; common practice


def check(there: Table, held: Held, work: Solid, fresh: Solid) -> Iterator[Violation]:
    """Faults in how `work` stands; fresh: what is cut away in this setup."""
    rest = held.setup.holding.packing
    low, high = work.bounds
    tall = high[2] - rest
    spots = [(g.low, g.high) for g in there.under] or [(low[:2], high[:2])]
    feet = [work.common(box((*a, rest - SKIN), (*b, rest + SKIN))) for a, b in spots]
    stands = [foot.bounds for foot in feet if not foot.empty]
    if not stands or any(
        not min(a[i] for a, _ in stands) < (low[i] + high[i]) / 2 < max(b[i] for _, b in stands)
        for i in (0, 1)
    ):
        on = "on the parallels" if there.under else "on the table"
        yield Violation(f"the work does not stand {on}", "stand it on a flat end")
    beside = min(high[2], there.fence_top)
    if beside - rest < STANDS * tall:
        yield Violation(
            f"the plate is {beside - rest:.1f} mm high and the work {tall:.1f} mm tall: it would "
            "sway",
            "use a higher plate",
        )
    (x0, _), (x1, y1) = there.fence.low, there.fence.high
    touch = work.common(box((x0, -SKIN, rest), (x1, y1, beside)))
    spans = [0.0, 0.0, 0.0] if touch.empty else [b - a for a, b in zip(*touch.bounds, strict=True)]
    if spans[0] < LEAST_SEAT * (high[0] - low[0]) or spans[2] < LEAST_SEAT * (beside - rest):
        yield Violation(
            f"the plate touches {spans[0]:.1f} mm of the work's width, along {spans[2]:.1f} mm of "
            "its height",
            "put a flat face against it",
        )
    if not there.across or (
        len(there.across) == 1 and tall > ONE * (there.across[0].top - there.across[0].bottom)
    ):
        yield Violation("the work may tip under one strap", "put a second one across it")
    for n, strap in enumerate(there.across, 1):
        yield from _strap(f"strap {n}", strap, work, fresh)
    if held.setup.zero_y.find in ("back", "centre"):
        yield Violation(
            "the back edge the Y zero is found on is hidden behind the plate", "find Y on the plate"
        )


def _strap(name: str, strap: Across, work: Solid, fresh: Solid) -> Iterator[Violation]:
    low, high = work.bounds
    front = strap.high[1]
    behind = (low[0], front, strap.bottom), (high[0], 0.0, strap.top)
    if not fresh.empty and fresh.common(box(*behind)).volume > 1e-3:
        yield Violation(
            f"metal is cut away behind {name} in this setup",
            "set it lower, or cut that in a setup of its own",
        )
        return
    before = work.common(
        box((low[0], low[1] - 1.0, strap.bottom), (high[0], front - SKIN, strap.top))
    )
    if before.volume > 1e-3:
        yield Violation(f"{name} would have to go into the work", "set it on a flat place")
        return
    skin = box((low[0], front, strap.bottom), (high[0], front + SKIN, strap.top))
    bears = work.common(skin).volume / SKIN
    if bears < LEAST_BEARING:
        yield Violation(
            f"{name} bears on {bears:.1f} mm2 of the work", "set it where the work is in front"
        )
        return
    if work.common(box(*behind)).volume < LEAST_SOLID * bears * -front:
        yield Violation(f"the work is hollow behind {name}", "set it where it is solid")
    for nut in strap.nuts:
        side = box((*nut.low, strap.bottom), (*nut.high, strap.top))
        if work.common(side).volume > 1e-3:
            yield Violation(f"a stud of {name} would go through the work", "set it further out")
