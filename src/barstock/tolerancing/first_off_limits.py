"""Finds what the first copy must measure where a dimension is made, so that all that follows holds.

The drawing's limits are for the finished part. Where a stop, a zero or a later setup takes its
share of them, the size made here must lie closer: within what its own readings may be out by
(`guarantee.Guarantee.allowed`), about the size worked to.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor

from barstock.drawing.dimension_runs import CheckSort
from barstock.measuring.instruments import able, tells
from barstock.quantities import INCH, Unit
from barstock.route import Expect, HowRead, ReadingWay, Route
from barstock.route.statements import Remedy
from barstock.tolerancing.dimension_ends import Asked
from barstock.tolerancing.guarantee import TINY, Guarantee
from barstock.tolerancing.shop_errors import Cause, CauseKind
from barstock.workshop.shop import Instrument

STEPS = {Unit.MM: (0.01, 0.001), Unit.INCH: (0.0005 * INCH, 0.0001 * INCH)}
"""Working limits are given to the first of these [mm]; to the second where there is little room."""


@dataclass(frozen=True)
class Held:
    """Limits closer than the drawing's [mm], and what else to do.

    Where low is high only `besides` tells what makes the dimension hold.
    """

    low: float
    high: float
    besides: tuple[Remedy, ...] = ()


def with_working_limits(
    route: Route, judged: Sequence[Guarantee], owned: Sequence[Instrument] = ()
) -> Route:
    """The route, each check with the working limits of its dimension where they are the closer,
    and by what is owned that tells them."""
    asked = {(g.asked.operation.id, g.asked.check.name): g.asked for g in judged}
    found = {(g.asked.operation.id, g.asked.check.name): h for g in judged for h in _held(g)}

    def checked(operation: str, check: Expect) -> Expect:
        held = found.get((operation, check.name))
        if held is None:
            return check
        new = {"hold_low": held.low, "hold_high": held.high, "besides": held.besides}
        return check.model_copy(
            update=new | _finer_instrument(asked[operation, check.name], held, owned)
        )

    setups = []
    for setup in route.setups:
        operations = tuple(
            o.model_copy(update={"checks": tuple(checked(o.id, c) for c in o.checks)})
            for o in setup.operations
        )
        setups.append(setup.model_copy(update={"operations": operations}))
    return route.model_copy(update={"setups": tuple(setups)})


def _held(g: Guarantee) -> Iterator[Held]:
    """The working limits of one dimension; nothing where the drawing's own do, or none would."""
    d, best = g.asked.dimension, g.cures[0] if g.cures else None
    if not g.holds and best is None:
        return
    cure = None if g.holds else best
    chain = cure.chain if cure else g.chain
    aim = cure.aim if cure and cure.aim is not None else d.nominal
    besides = cure.remedies if cure else ()
    own = [
        abs(times) * (g.allowed or {}).get(link.name, 0.0)
        for link, times in chain.links
        if isinstance(link, Cause)
        and link.kind is CauseKind.READING
        and link.setup == g.asked.setup.id
    ]
    low, high = aim - sum(own), aim + sum(own)
    closer = low > d.low + TINY or high < d.high - TINY
    if not closer or not any(own):
        if besides:
            yield Held(0.0, 0.0, besides)
        return
    yield Held(*_inward(max(low, d.low), min(high, d.high), g.asked.unit), besides)


def _finer_instrument(asked: Asked, held: Held, owned: Sequence[Instrument]) -> dict[str, object]:
    """Another instrument where the one chosen for the drawing's limits is too coarse for those to
    hold; where none owned tells them, what to do."""
    check, room = asked.check, (held.high - held.low) / 2 + TINY
    now = next((i for i in owned if i.name == check.with_), None)
    if now is None or held.high <= 0 or tells(now) <= room:
        return {}
    finer = [i for i in able(check.sort, asked.dimension.middle, owned) if 0 < tells(i) <= room]
    if finer and check.sort is not CheckSort.DEPTH:  # down a hole, what goes in was chosen
        return {"with_": finer[0].name, "with_kind": finer[0].kind}
    coarse = HowRead(
        kind=ReadingWay.COARSE_TO_HOLD,
        lengths={"tells": tells(now)},
        names={"instrument": now.name},
    )
    return {"read": (*check.read, coarse)}


def _inward(low: float, high: float, unit: Unit) -> tuple[float, float]:
    """Both to a figure that can be read, the finer one where the coarse leaves too little."""
    coarse, fine = STEPS[unit]
    step = coarse if high - low >= 4 * coarse else fine
    return (
        round(ceil(low / step - 1e-6) * step, 6),
        round(floor(high / step + 1e-6) * step, 6),
    )
