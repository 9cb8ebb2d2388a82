"""Work strapped down on the table: is it held, does a cutter meet straps, parallels or fence?"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise
from math import dist

from barstock.proving.holding import against_plate
from barstock.proving.placing import FAR, SKIN, stacked
from barstock.proving.proof_record import Violation
from barstock.proving.stock_cutting import Held
from barstock.proving.sweep import Run
from barstock.route import Ground, Strap, Table
from barstock.solids.shapes import Solid, box

LEAST_SOLID = 0.75  # share of what is under a nose that is metal, common practice
LEAST_APART = 0.3  # of the work's longer side between two noses, common practice
LEAST_SEAT = 10.0  # of the fence along the work, or a third of it [mm], common practice
SPAN = 20.0  # times its thickness that work may span between parallels, common practice
CLEAR = 0.02  # meeting by less than this is touching [mm]


def check(held: Held, work: Solid, fresh: Solid) -> Iterator[Violation]:
    """Faults in how `work` is strapped down; fresh: what is cut away in this setup."""
    there, rest = held.setup.holding.table, held.setup.holding.packing
    if there is None:
        return
    if not there.board:
        yield from stacked(held.setup.holding, rest)
    if there.across:
        yield from against_plate.check(there, held, work, fresh)
        return
    yield from _rests(there, work, rest)
    low, high = work.bounds
    noses = [_middle(_on(strap, low, high)) for strap in there.straps]
    apart = max((dist(a, b) for a, b in combinations(noses, 2)), default=0.0)
    if apart < LEAST_APART * max(high[i] - low[i] for i in (0, 1)):
        yield Violation(
            "the work may turn: it is held by one strap, or by straps close together",
            "hold it by two straps further apart",
        )
    for n, strap in enumerate(there.straps, 1):
        yield from _strap(f"strap {n}, over the {strap.over},", strap, there, held, work, fresh)
    yield from _fence(there, held)


def _strap(
    name: str, strap: Strap, there: Table, held: Held, work: Solid, fresh: Solid
) -> Iterator[Violation]:
    rest = held.setup.holding.packing
    if not fresh.empty and _column(fresh, strap, rest, strap.top).volume > 1e-3:
        yield Violation(
            f"{name} lies where metal is cut away in this setup",
            "strap it down elsewhere, or cut that in a setup of its own",
        )
        return
    if _column(work, strap, strap.bears + SKIN, FAR).volume > 1e-3:
        yield Violation(f"{name} would have to go into the work", "set its nose on a flat place")
        return
    bears = _column(work, strap, strap.bears - SKIN, strap.bears).volume / SKIN
    if bears < against_plate.LEAST_BEARING:
        yield Violation(
            f"the nose of {name} bears on {bears:.1f} mm2 of the work at {strap.bears:.2f} mm",
            "set it further over the work, on metal that is still there",
        )
        return
    full = bears * (strap.bears - rest)
    if _column(work, strap, rest, strap.bears).volume < LEAST_SOLID * full:
        yield Violation(
            f"the work is hollow under the nose of {name}", "strap it down where it is solid"
        )
    props = [_both(strap, under) for under in there.under]
    if not any(p and not _column(work, p, rest - SKIN, rest + SKIN).empty for p in props):
        yield Violation(
            f"{name} presses where no parallel is under the work: it would bend",
            "lay the parallel under the nose",
        )


def _rests(there: Table, work: Solid, rest: float) -> Iterator[Violation]:
    low, high = work.bounds
    touching = [_column(work, under, rest - SKIN, rest + SKIN) for under in there.under]
    spans = [found.bounds for found in touching if not found.empty]
    middle = [(low[i] + high[i]) / 2 for i in (0, 1)]
    if not spans or any(
        not min(a[i] for a, _ in spans) < middle[i] < max(b[i] for _, b in spans) for i in (0, 1)
    ):
        yield Violation(
            "the work does not lie on the parallels on both sides of its middle",
            "turn it so that a flat face does, or move them apart",
        )
        return
    thick = high[2] - low[2]
    for i in (0, 1):
        ends = sorted((a[i], b[i]) for a, b in spans)
        free = max((b[0] - a[1] for a, b in pairwise(ends)), default=0.0)
        if free > SPAN * thick:
            yield Violation(
                f"{free:.1f} mm of it lie hollow between the parallels, and it is only "
                f"{thick:.2f} mm thick: it would spring under the cutter",
                "lay it on a flat board",
            )


def _fence(there: Table, held: Held) -> Iterator[Violation]:
    rest, work = held.setup.holding.packing, held.work
    low, high = work.bounds
    against = Solid(None)
    if there.fence_top > rest:
        face = Ground(low=(there.fence.low[0], -SKIN), high=(there.fence.high[0], 1.0))
        against = _column(work, face, rest, there.fence_top)
    long = 0.0 if against.empty else against.bounds[1][0] - against.bounds[0][0]
    if long < min(LEAST_SEAT, (high[0] - low[0]) / 3):
        yield Violation(
            f"the fence touches the work along {long:.2f} mm only",
            "set it as high and as long as the straight side of the work",
        )
    for found in ("back", "centre"):
        if held.setup.zero_y.find == found:
            yield Violation(
                "the back edge the Y zero is found on is hidden behind the fence",
                "find Y on the fence",
            )


def met(held: Held, run: Run) -> str:
    """What a cutter runs into of all that holds work on the table, "" if nothing."""
    there, rest = held.setup.holding.table, held.setup.holding.packing
    if there is None:
        return ""
    if run.tip < CLEAR:
        return "the table"
    things = _standing(there)
    things += [("a parallel", under, rest) for under in there.under if not there.board]
    for name, ground, top in things:
        radius = run.radius_at(top - CLEAR)
        if radius > 0 and run.gap(ground.low, ground.high) < radius - CLEAR:
            return name
    return ""


def above_meets(held: Held, run: Run, low: float, radius: float) -> str:
    """What of straps, nuts and fence is met by what is above `low` [mm], of this radius."""
    there = held.setup.holding.table
    return next(
        (
            name
            for name, part, top in (_standing(there) if there else ())
            if low < top - CLEAR and run.gap(part.low, part.high) < radius - CLEAR
        ),
        "",
    )


def _standing(there: Table) -> list[tuple[str, Ground, float]]:
    """All that stands round the work, each named, with the height of its top [mm]; a strap with
    the packing under its heel."""
    fence = "the angle plate" if there.across else "the fence"
    return [*there.bodies(), (fence, there.fence, there.fence_top)]


def _column(work: Solid, ground: Ground, low: float, high: float) -> Solid:
    """What of the work stands over a rectangle of the table, between two heights."""
    return work.common(box((*ground.low, low), (*ground.high, high)))


def _on(ground: Ground, low: tuple[float, ...], high: tuple[float, ...]) -> Ground:
    """What of a rectangle lies within the work's extremes."""
    whole = Ground(low=(low[0], low[1]), high=(high[0], high[1]))
    return _both(ground, whole) or ground


def _both(a: Ground, b: Ground) -> Ground | None:
    """What two rectangles share."""
    x0, y0 = (max(a.low[i], b.low[i]) for i in (0, 1))
    x1, y1 = (min(a.high[i], b.high[i]) for i in (0, 1))
    return Ground(low=(x0, y0), high=(x1, y1)) if x0 < x1 and y0 < y1 else None


def _middle(ground: Ground) -> tuple[float, float]:
    (x0, y0), (x1, y1) = ground.low, ground.high
    return (x0 + x1) / 2, (y0 + y1) / 2
