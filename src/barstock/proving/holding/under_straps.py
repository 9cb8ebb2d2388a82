"""Work strapped down on the table: does it rest, do the straps press on metal, is it located?"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise
from math import dist

from barstock.handbook.holding_limits import SPRINGS, STRAPS_APART, least_length
from barstock.proving.held_work import Held
from barstock.proving.holding.on_table import (
    LEAST_BEARING,
    OnTable,
    about_middle,
    column,
    foot,
)
from barstock.proving.placing import FAR, SKIN
from barstock.proving.proof_record import Violation
from barstock.quantities import Length
from barstock.route import Body, BodyKind, Holding
from barstock.solids.shapes import Solid, box

LEAST_SOLID = 0.75  # share of what is under a nose that is metal, common practice
UNDER = (BodyKind.PARALLEL, BodyKind.BOARD)


class UnderStraps(OnTable):
    """Work on parallels or a board, against a fence, under straps."""

    name = "straps on the table"

    def faults(self, held: Held, work: Solid, fresh: Solid) -> Iterator[Violation]:
        """The faults of parallels, straps and fence."""
        h, (low, high) = held.setup.holding, work.bounds
        under, straps = self.carriers(h), h.of(BodyKind.STRAP)
        yield from _rests(under, work, h.packing)
        noses = [_on(strap, low, high) for strap in straps]
        apart = max((dist(a, b) for a, b in combinations(noses, 2)), default=0.0)
        if apart < STRAPS_APART * max(high[i] - low[i] for i in (0, 1)):
            yield Violation(
                "the work may turn: it is held by one strap, or by straps close together",
                "hold it by two straps further apart",
            )
        for n, strap in enumerate(straps, 1):
            name = f"strap {n}, over the {strap.over},"
            yield from _strap(name, strap, under, h.packing, work, fresh)
        yield from _fence(held)

    def carriers(self, holding: Holding) -> tuple[Body, ...]:
        """The bodies that the work lies on."""
        return holding.of(*UNDER)


WAY = UnderStraps()


def _strap(
    name: str, strap: Body, under: tuple[Body, ...], rest: float, work: Solid, fresh: Solid
) -> Iterator[Violation]:
    bears_at, top = strap.low[2], strap.high[2]
    if not fresh.empty and column(fresh, strap, rest, top).volume > 1e-3:
        yield Violation(
            f"{name} lies where metal is cut away in this setup",
            "strap it down elsewhere, or cut that in a setup of its own",
        )
        return
    if column(work, strap, bears_at + SKIN, FAR).volume > 1e-3:
        yield Violation(f"{name} would have to go into the work", "set its nose on a flat place")
        return
    bears = column(work, strap, bears_at - SKIN, bears_at).volume / SKIN
    if bears < LEAST_BEARING:
        yield Violation(
            f"the nose of {name} bears on {Length(bears, power=2):.1f} of the work at "
            f"{Length(bears_at):.2f}",
            "set it further over the work, on metal that is still there",
        )
        return
    if column(work, strap, rest, bears_at).volume < LEAST_SOLID * bears * (bears_at - rest):
        yield Violation(
            f"the work is hollow under the nose of {name}", "strap it down where it is solid"
        )
    if not any(_props(strap, one, work, rest) for one in under):
        yield Violation(
            f"{name} presses where no parallel is under the work: it would bend",
            "lay the parallel under the nose",
        )


def _props(strap: Body, under: Body, work: Solid, rest: float) -> bool:
    """Is the work carried under a strap's nose by a parallel or the board?"""
    x0, y0 = (max(strap.low[i], under.low[i]) for i in (0, 1))
    x1, y1 = (min(strap.high[i], under.high[i]) for i in (0, 1))
    if x0 >= x1 or y0 >= y1:
        return False
    return not work.common(box((x0, y0, rest - SKIN), (x1, y1, rest + SKIN))).empty


def _rests(under: tuple[Body, ...], work: Solid, rest: float) -> Iterator[Violation]:
    low, high = work.bounds
    spans = foot(work, under, rest)
    if not about_middle(spans, work):
        yield Violation(
            "the work does not lie on the parallels on both sides of its middle",
            "turn it so that a flat face does, or move them apart",
        )
        return
    thick = high[2] - low[2]
    for i in (0, 1):
        ends = sorted((a[i], b[i]) for a, b in spans)
        free = max((b[0] - a[1] for a, b in pairwise(ends)), default=0.0)
        if free > SPRINGS * thick:
            yield Violation(
                f"{Length(free):.1f} of it lie hollow between the parallels, and it is only "
                f"{Length(thick):.2f} thick: it would spring under the cutter",
                "lay it on a flat board",
            )


def _fence(held: Held) -> Iterator[Violation]:
    h, work = held.setup.holding, held.work
    low, high = work.bounds
    long = 0.0
    for fence in h.of(BodyKind.FENCE):
        if fence.high[2] > h.packing and abs(fence.low[1]) <= SKIN:
            face = box((fence.low[0], -SKIN, h.packing), (fence.high[0], 1.0, fence.high[2]))
            against = work.common(face)
            long += 0.0 if against.empty else against.bounds[1][0] - against.bounds[0][0]
    if long < least_length(high[0] - low[0]):
        yield Violation(
            f"the fence touches the work along {Length(long):.2f} only",
            "set it as high and as long as the straight side of the work",
        )
    if held.setup.zero_y.find in ("back", "centre"):
        yield Violation(
            "the back edge the Y zero is found on is hidden behind the fence", "find Y on the fence"
        )


def _on(strap: Body, low: tuple[float, ...], high: tuple[float, ...]) -> tuple[float, float]:
    """The middle of what of a strap lies within the work's extremes, else its own."""
    ends = [(max(strap.low[i], low[i]), min(strap.high[i], high[i])) for i in (0, 1)]
    if any(a >= b for a, b in ends):
        return strap.middle[:2]
    (a, b), (c, d) = ends
    return (a + b) / 2, (c + d) / 2
