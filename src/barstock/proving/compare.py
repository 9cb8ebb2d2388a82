"""The finished work against the drawn part: what is left on, what is gouged, whose work it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from barstock.drawing.build import Vec
from barstock.proving.held_work import Done
from barstock.proving.proof_record import Violation
from barstock.proving.surface import Points, spread, to_skin
from barstock.proving.wanted import Wanted
from barstock.proving.witnesses import FINE, Court, Seen, joined
from barstock.quantities import Length
from barstock.solids.construction import AnyOf
from barstock.solids.shapes import Solid

NEVER = 0.6  # a feature of which more than this share is still there was not made
AT_CUTTER = 1e-3  # metal that a cutter came so near to, it took [mm]


@dataclass(frozen=True)
class Difference:
    """Where the work differs at a `feature` beyond its limit: `depth` its worst deviation [mm], at
    `where`; lumps: as the kernel has them.

    made: the operation that cut it, None where none did.
    """

    feature: str
    depth: float
    where: Vec
    lumps: tuple[Solid, ...]
    made: Done | None = None

    @property
    def volume(self) -> str:
        """The volume in words, nothing where the kernel does not know it [mm3]."""
        volume = sum(lump.volume for lump in self.lumps)
        return f" ({Length(volume, power=3):.2f})" if self.lumps else ""


@dataclass(frozen=True)
class Comparison:
    """The whole difference. deviation: worst [mm]; left, gouged: [mm3]; features: worst of each
    [mm].
    """

    deviation: float
    left: float
    gouged: float
    features: dict[str, float]
    violations: tuple[Violation, ...]


Lumps = list[tuple[Solid, Seen]]


def compare(want: Wanted, finished: Solid, history: list[Done]) -> Comparison:
    """Compare finished with drawn: volumes, worst deviations, a violation wherever
    one is too far.

    Points of both skins are judged, and points of what the kernel finds between the solids, where
    it can; it is never believed alone.
    """
    court = Court(want, finished)
    on, off = court.over_skins()
    too_much, too_little = _between(want, finished)
    left = [(lump, court.left(spread(*lump.mesh(FINE)))) for lump in too_much]
    gouged = [(lump, court.gouged(spread(*lump.mesh(FINE)))) for lump in too_little]
    remains = list(_remains(court, on, left))
    gouges = list(_gouges(court, off, gouged, history))
    worst = dict(zip(court.names, court.deviations().tolist(), strict=True))
    for d in (*remains, *gouges):
        worst[d.feature] = max(worst[d.feature], d.depth)
    faults = [*_name_left(court, remains, gouges, history), *_name_gouged(want, gouges)]
    over, under = (sum(lump.volume for lump in lumps) for lumps in (too_much, too_little))
    return Comparison(max(worst.values()), over, under, worst, tuple(faults))


def _between(want: Wanted, finished: Solid) -> tuple[list[Solid], list[Solid]]:
    """The lumps that the finished work has too much and too little, as the kernel has them."""
    try:
        over, under = finished.differences(want.drawn)
        return over.lumps(), under.cut(*want.may).lumps()
    except ArithmeticError:
        return [], []


def _remains(court: Court, on: Seen, lumps: Lumps) -> Iterator[Difference]:
    """What is left on of each feature."""
    seen = joined([on, *(witness for _, witness in lumps)])
    for n, name in enumerate(court.names):
        here = seen.of(seen.feature == n)
        if len(here.points):
            own = [lump for lump, witness in lumps if (witness.feature == n).any()]
            points, corners = court.want.drawn.mesh(FINE)
            away = to_skin(here.points, points[corners])
            yield Difference(name, *_deepest(replace(here, deep=away)), tuple(own))


def _gouges(court: Court, off: Seen, lumps: Lumps, history: list[Done]) -> Iterator[Difference]:
    """What is missing, by the operation that cut it and the feature it was cut for."""
    seen = joined([off, *(witness for _, witness in lumps)])
    whose = _cut_by(seen.points, history)
    for n in np.unique(whose).tolist():
        done = history[n] if n >= 0 else None
        here = seen.of(whose == n)
        names = court.names[:-1]
        own = [i for i, f in enumerate(names) if done and f in done.operation.features]
        if own:
            nearest = np.array(own)[court.features(here.points)[own].argmax(axis=0)]
            here = Seen(here.points, here.deep, nearest)
        here = here.of(here.deep > court.limits[here.feature])
        for f in np.unique(here.feature).tolist():
            which = here.of(here.feature == f)
            cut = [lump for lump, w in lumps if (_cut_by(w.points, history) == n).any()]
            yield Difference(court.names[f], *_deepest(which), tuple(cut), done)


def _cut_by(points: Points, history: Sequence[Done]) -> NDArray[np.int64]:
    """The number of the first operation that took each point, -1 where none did."""
    whose = np.full(len(points), -1)
    for n, done in reversed(list(enumerate(history))):
        if len(points) and done.tools:
            tools = AnyOf(tuple(tool.construction for tool in done.tools))
            took = tools.moved(done.frame.rotation, done.frame.shift).deep(points) >= -AT_CUTTER
            whose[took] = n
    return whose


def _deepest(seen: Seen) -> tuple[float, Vec]:
    n = int(seen.deep.argmax())
    x, y, z = (round(float(c), 3) for c in seen.points[n])
    return float(seen.deep[n]), (x, y, z)


def _name_left(
    court: Court, remains: list[Difference], gouges: list[Difference], history: list[Done]
) -> Iterator[Violation]:
    for d in remains:
        makers = [done for done in history if d.feature in done.operation.features]
        last = makers[-1] if makers else None
        if d.feature and court.share_left(d.feature) > NEVER:
            what = "never made" if not makers else f"not made where it should be by {last_id(last)}"
            mend = (
                "plan an operation for it" if not makers else "look at its readings and its depth"
            )
        elif any(g.feature == d.feature for g in gouges):
            what = (
                f"out of place or on the wrong hand: {Length(d.depth):.3f} left on here, "
                "and cut away elsewhere"
            )
            mend = "look at which way the work is turned and where zero is"
        elif d.feature and d.lumps and all(_corner(lump, makers) for lump in d.lumps):
            size = min(run.cutter.diameter for done in makers for run in done.runs)
            what = (
                f"a corner is tighter than any cutter used: {Length(d.depth):.3f} is left "
                f"by a cutter of {Length(size):g}"
            )
            mend = "use a smaller cutter, or ask for a larger corner radius"
        else:
            what = f"{Length(d.depth):.3f} left on{d.volume}"
            mend = "cut deeper or further" if makers else "no operation cuts here"
        yield Violation(
            what,
            mend,
            part=court.want.part,
            feature=d.feature,
            where=d.where,
            operation=last_id(last),
            setup=last.setup.id if last else "",
        )


def last_id(done: Done | None) -> str:
    """The id of the last operation, or nothing."""
    return done.operation.id if done else ""


def _corner(lump: Solid, makers: list[Done]) -> bool:
    """Is this a leftover in an upright corner, smaller than the cutter?"""
    for done in makers:
        for run in done.runs:
            if run.plunge:
                continue
            low, high = lump.moved(done.frame.inverse()).bounds
            if max(high[0] - low[0], high[1] - low[1]) <= run.radius + 0.01:
                return True
    return False


def _name_gouged(want: Wanted, gouges: list[Difference]) -> Iterator[Violation]:
    for d in sorted(gouges, key=lambda g: -g.depth):
        if d.made is None:
            yield Violation(
                f"{Length(d.depth):.3f} of metal is missing that no operation cut",
                "the stock is too small",
                part=want.part,
                where=d.where,
            )
            continue
        yield Violation(
            f"{Length(d.depth):.3f} cut away that the drawing keeps{d.volume}",
            "look at its readings, its depth and its cutter",
            part=want.part,
            feature=d.feature,
            where=d.where,
            operation=d.made.operation.id,
            setup=d.made.setup.id,
        )
