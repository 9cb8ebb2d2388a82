"""Work stood against an angle plate: does it touch plate and table, do the straps press on it?"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.handbook.holding_limits import PLATE_REACHES
from barstock.proving.held_work import Held
from barstock.proving.holding.on_table import LEAST_BEARING, OnTable, about_middle, foot
from barstock.proving.placing import SKIN
from barstock.proving.proof_record import Violation
from barstock.quantities import Length
from barstock.route import Body, BodyKind
from barstock.solids.shapes import Solid, box

LEAST_SOLID = 0.6  # share of what is between strap and plate that is metal, common practice
LEAST_SEAT = 0.3  # share of the work's width that touches the plate, and of what of its height is
# beside it; common practice
ONE = 4.0  # times its width that work one strap holds may be tall; common practice


class AgainstPlate(OnTable):
    """Work on end against an angle plate, straps across its front."""

    name = "angle plate"

    def faults(self, held: Held, work: Solid, fresh: Solid) -> Iterator[Violation]:
        """The faults of foot, plate and straps."""
        h, (low, high) = held.setup.holding, work.bounds
        parallels, straps = h.of(BodyKind.PARALLEL), h.of(BodyKind.STRAP)
        spans = foot(work, parallels, h.packing)
        if not parallels:
            touching = work.common(box((*low[:2], h.packing - SKIN), (*high[:2], h.packing + SKIN)))
            spans = [] if touching.empty else [touching.bounds]
        if not about_middle(spans, work):
            on = "on the parallels" if parallels else "on the table"
            yield Violation(f"the work does not stand {on}", "stand it on a flat end")
        plates, tall = h.of(BodyKind.ANGLE_PLATE), high[2] - h.packing
        if len(plates) != 1:
            yield Violation("the route has no angle plate there", "plan it anew")
            return
        yield from _plate(plates[0], work, h.packing)
        if not straps or (len(straps) == 1 and tall > ONE * straps[0].size[2]):
            yield Violation("the work may tip under one strap", "put a second one across it")
        for n, strap in enumerate(straps, 1):
            yield from _strap(f"strap {n}", strap, work, fresh)
        for nut in h.of(BodyKind.NUT):
            if work.common(box(nut.low, nut.high)).volume > 1e-3:
                yield Violation("a strap's stud would go through the work", "set it further out")
        if held.setup.zero_y.find in ("back", "centre"):
            yield Violation(
                "the back edge the Y zero is found on is hidden behind the plate",
                "find Y on the plate",
            )


WAY = AgainstPlate()


def _plate(plate: Body, work: Solid, rest: float) -> Iterator[Violation]:
    low, high = work.bounds
    tall, beside = high[2] - rest, min(high[2], plate.high[2])
    if beside - rest < PLATE_REACHES * tall:
        yield Violation(
            f"the plate is {Length(beside - rest):.1f} high and the work {Length(tall):.1f} "
            "tall: it would sway",
            "use a higher plate",
        )
    touch = work.common(box((plate.low[0], -SKIN, rest), (*plate.high[:2], beside)))
    spans = [0.0, 0.0, 0.0] if touch.empty else [b - a for a, b in zip(*touch.bounds, strict=True)]
    if spans[0] < LEAST_SEAT * (high[0] - low[0]) or spans[2] < LEAST_SEAT * (beside - rest):
        yield Violation(
            f"the plate touches {Length(spans[0]):.1f} of the work's width, along "
            f"{Length(spans[2]):.1f} of its height",
            "put a flat face against it",
        )


def _strap(name: str, strap: Body, work: Solid, fresh: Solid) -> Iterator[Violation]:
    low, high = work.bounds
    (_, _, bottom), (_, front, top) = strap.low, strap.high
    behind = box((low[0], front, bottom), (high[0], 0.0, top))
    if not fresh.empty and fresh.common(behind).volume > 1e-3:
        yield Violation(
            f"metal is cut away behind {name} in this setup",
            "set it lower, or cut that in a setup of its own",
        )
        return
    before = work.common(box((low[0], low[1] - 1.0, bottom), (high[0], front - SKIN, top)))
    if before.volume > 1e-3:
        yield Violation(f"{name} would have to go into the work", "set it on a flat place")
        return
    bears = work.common(box((low[0], front, bottom), (high[0], front + SKIN, top))).volume / SKIN
    if bears < LEAST_BEARING:
        yield Violation(
            f"{name} bears on {Length(bears, power=2):.1f} of the work",
            "set it where the work is in front",
        )
        return
    if work.common(behind).volume < LEAST_SOLID * bears * -front:
        yield Violation(f"the work is hollow behind {name}", "set it where it is solid")
