"""Work in a toolmaker's clamp block: does it touch back and wall, does the screw press on it?"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.handbook.holding_limits import IN_SIGHT, PLATE_REACHES
from barstock.proving.held_work import Held
from barstock.proving.holding.on_table import OnTable, about_middle, foot
from barstock.proving.placing import FAR, SKIN
from barstock.proving.proof_record import Violation
from barstock.quantities import Length
from barstock.route import Body, BodyKind, Holding
from barstock.solids.shapes import Solid, box

LEAST_SEAT = 0.3  # share of the work's width, and of its height beside the block, that touches back
# or wall; common practice
LEAST_BEARING = 0.6  # share of the screw's end that bears on the work; common practice
INTO = 1e-3  # the work may share no more with the block [mm3]


class InClampBlock(OnTable):
    """Work on end between the walls of the block."""

    name = "clamp block"

    def faults(self, held: Held, work: Solid, fresh: Solid) -> Iterator[Violation]:
        """Foot, back, wall, screw, and where zeros are found."""
        h, (low, high) = held.setup.holding, work.bounds
        parts = h.of(BodyKind.PLAIN)
        backs, walls = ([p for p in parts if p.bears == way] for way in ("front", "right"))
        screws = [s for s in h.of(BodyKind.SCREW) if s.bears == "back"]
        if len(backs) != 1 or len(walls) != 1 or len(screws) != 1:
            yield Violation("the route has no whole clamp block there", "plan it anew")
            return
        (back,), (wall,), (screw,) = backs, walls, screws
        yield from _stands(h, work)
        if any(work.common(box(p.low, p.high)).volume > INTO for p in parts):
            yield Violation("the work would have to go into the clamp block", "use a larger one")
            return
        beside, tall = min(high[2], back.high[2]) - h.packing, high[2] - h.packing
        if beside < PLATE_REACHES * tall:
            yield Violation(
                f"the clamp block reaches {Length(beside):.1f} up the work, {Length(tall):.1f} "
                "tall: it would sway",
                "use a higher one",
            )
        yield from _touches(work, back, h.packing, beside, 0, "back")
        yield from _touches(work, wall, h.packing, beside, 1, "wall")
        yield from _presses(screw, work, fresh)
        seen = work.common(box((-FAR, -FAR, back.high[2] + IN_SIGHT), (FAR, FAR, FAR)))
        edges = {"left": (0,), "right": (1,), "centre": (0, 1)}.get(held.setup.zero_x.find, ())
        if any(seen.empty or abs(seen.bounds[k][0] - (low, high)[k][0]) > 1e-3 for k in edges):
            yield Violation(
                "the edge the X zero is found on is hidden by the clamp block",
                "let the work stand out of the block",
            )
        if held.setup.zero_y.find in ("front", "back", "centre"):
            yield Violation(
                "the edge the Y zero is found on is hidden in the clamp block",
                "find Y on the block's own face",
            )


WAY = InClampBlock()


def _stands(h: Holding, work: Solid) -> Iterator[Violation]:
    parallels, (low, high) = h.of(BodyKind.PARALLEL), work.bounds
    spans = foot(work, parallels, h.packing)
    if not parallels:
        on = work.common(box((*low[:2], h.packing - SKIN), (*high[:2], h.packing + SKIN)))
        spans = [] if on.empty else [on.bounds]
    if not about_middle(spans, work):
        yield Violation("the work does not stand in the clamp block", "stand it on a flat end")


def _touches(
    work: Solid, body: Body, rest: float, beside: float, along: int, name: str
) -> Iterator[Violation]:
    """Does the work touch a face of the block along enough of one axis, and of its height?"""
    low, high = list(body.low), list(body.high)
    low[2], high[2] = rest, rest + beside
    across = 1 - along
    if along == 0:
        low[across] -= SKIN
    else:
        high[across] += SKIN
    touch = work.common(box((low[0], low[1], low[2]), (high[0], high[1], high[2])))
    spans = [0.0] * 3 if touch.empty else [b - a for a, b in zip(*touch.bounds, strict=True)]
    wide = work.bounds[1][along] - work.bounds[0][along]
    if spans[along] < LEAST_SEAT * wide or spans[2] < LEAST_SEAT * beside:
        yield Violation(
            f"the {name} of the clamp block touches {Length(spans[along]):.1f} of the work's "
            f"width, along {Length(spans[2]):.1f} of its height",
            "put a flat face against it",
        )


def _presses(screw: Body, work: Solid, fresh: Solid) -> Iterator[Violation]:
    (a, _, bottom), (b, front, top) = screw.low, screw.high
    behind = box((a, front, bottom), (b, 0.0, top))
    if not fresh.empty and fresh.common(behind).volume > INTO:
        yield Violation(
            "metal is cut away behind the clamp block's screw in this setup",
            "set it lower, or cut that in a setup of its own",
        )
        return
    if work.common(box((a, -FAR, bottom), (b, front - SKIN, top))).volume > INTO:
        yield Violation("the clamp block's screw would have to go into the work", "screw it out")
        return
    bears = work.common(box((a, front, bottom), (b, front + SKIN, top))).volume / SKIN
    if bears < LEAST_BEARING * screw.size[0] * screw.size[2]:
        yield Violation(
            f"the clamp block's screw bears on {Length(bears, power=2):.1f} of the work",
            "set it where the work is in front of it",
        )
        return
    if work.common(behind).volume < LEAST_BEARING * bears * -front:
        yield Violation("the work is hollow behind the clamp block's screw", "turn it")
