"""The finished solid against the drawn one: what is left on, what is gouged, whose work it is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from barstock.drawing.build import Part, Vec
from barstock.drawing.record_walk import every
from barstock.proving.held_work import Done
from barstock.proving.proof_record import Violation
from barstock.proving.surface import Triangles, spread, to_skin
from barstock.quantities import Dimension
from barstock.solids.shapes import Placement, Solid, box, nothing

EXACT = 0.02  # how near the finished surface comes to the drawn one [mm]
SPARE = 0.1  # a drill's extra depth is not dimensioned: it may end this far off [mm]
FINE = 0.01  # mesh deflection of what is compared [mm]
UNSURE = 0.05  # volumes that disagree by more are not believed [mm3]
ALL = 10_000  # places of the finished skin looked at where the kernel is in doubt
NOTHING = 0.003  # a difference no deeper than this is the readings' rounding [mm]


@dataclass(frozen=True)
class Wanted:
    """A part as drawn.

    removes: what the drawing takes away, by feature; may: what may also go; allowed: how far the
    surface may lie off the nominal one, by feature, "" for the envelope [mm].
    """

    part: str
    drawn: Solid
    removes: dict[str, Solid]
    may: tuple[Solid, ...] = ()
    allowed: dict[str, float] | None = None

    def limit(self, feature: str) -> float:
        """The allowed deviation at a feature [mm]."""
        return (self.allowed or {}).get(feature, EXACT)


def wanted(part: Part) -> Wanted:
    """What the drawing wants of a part."""
    from barstock.methods import KINDS
    from barstock.methods.drawn_solid import drawn_solid, may_remove

    may = [KINDS[f.kind].may_remove(f.spec, part) for f in part.features]
    if part.joined:
        may += [
            may_remove(piece.part).moved(Placement(piece.rows, piece.shift))
            for piece in part.joined.pieces
        ]
    allowed = {f.name: _allowed(f.spec) for f in part.features}
    allowed[""] = _allowed((part.length, part.width, part.height))
    return Wanted(
        part.name,
        drawn_solid(part),
        {f.name: KINDS[f.kind].removes(f.spec, part) for f in part.features},
        tuple(solid for solid in may if solid is not None and not solid.empty),
        allowed,
    )


def _allowed(spec: Any) -> float:
    sizes = [d for d in every(Dimension, spec) if d.plus > d.minus]
    off = max((abs(d.middle - d.nominal) for d in sizes if d.stated), default=0.0)
    half = min(((d.plus - d.minus) / 2 for d in sizes if d.stated), default=EXACT)
    return off + min(EXACT, max(half, NOTHING))


@dataclass(frozen=True)
class Difference:
    """A part of the difference: at a `feature`, `depth` its worst deviation [mm], at `where`."""

    solid: Solid
    feature: str
    depth: float
    where: Vec


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


@dataclass(frozen=True)
class Apart:
    """The metal a finished solid has too much, `on`, and too little, `off`, lump by lump.

    missing: all it has not, with what may go besides [mm3].
    """

    on: list[Difference]
    off: list[Difference]
    missing: float

    @property
    def deviation(self) -> float:
        """The deviation of the worst place [mm]."""
        return max((d.depth for d in [*self.on, *self.off]), default=0.0)

    def odd(self, want: Wanted, finished: Solid) -> float:
        """By how much the volumes fail to add up [mm3]."""
        left = sum(d.solid.volume for d in self.on)
        return finished.volume - want.drawn.volume - left + self.missing


def compare(want: Wanted, finished: Solid, history: list[Done]) -> Comparison:
    """Compare finished with drawn: volumes, worst deviations, a violation wherever
    one is too far.
    """
    skin = _skin(want.drawn)
    exact = _tried(want, finished, skin)
    found = exact or _tried(want, finished, skin, NOTHING)
    if found is None:
        what = "the finished piece cannot be compared with the drawing, so nothing is proved"
        mend = "two faces all but touch there: move one, or make it a little deeper"
        return Comparison(0.0, 0.0, 0.0, {}, (Violation(what, mend, want.part),))
    unsure = exact is None or abs(found.odd(want, finished)) > UNSURE
    if exact and found.deviation > NOTHING:
        again = _tried(want, finished, skin, NOTHING)
        if again and again.deviation < found.deviation:
            made_up = _overlooked(want, finished, skin, again.deviation) is None
            found, unsure = (again, False) if made_up else (found, unsure)
    remains = [
        d for lump in found.on if lump.depth > NOTHING for d in _left(want, lump.solid, skin)
    ]
    gouges = [_gouged(want, lump, history) for lump in found.off if lump.depth > NOTHING]
    worst = dict.fromkeys(["", *want.removes], 0.0)
    for d in [*remains, *(g for g, _ in gouges)]:
        worst[d.feature] = max(worst.get(d.feature, 0.0), d.depth)
    faults = [
        *(_balance(want, finished, found, skin) if unsure else ()),
        *_name_left(want, remains, gouges, history),
        *_name_gouged(want, gouges),
    ]
    left, gouged = (sum(d.solid.volume for d in lumps) for lumps in (found.on, found.off))
    return Comparison(found.deviation, left, gouged, worst, tuple(faults))


def _tried(want: Wanted, finished: Solid, skin: Triangles, within: float = 0.0) -> Apart | None:
    """The difference; None where the kernel cannot work it out.

    Nearly equal faces make up films. Taken for one (`within` so much), the difference is to be
    believed where no place of either skin says otherwise.
    """
    try:
        return _apart(want, finished, skin, within)
    except ArithmeticError:
        return None


def _apart(want: Wanted, finished: Solid, skin: Triangles, within: float = 0.0) -> Apart:
    """Faces `within` so much of each other are taken for one [mm]."""
    left = finished.cut(want.drawn, within=within)
    missing = want.drawn.cut(finished, within=within)
    gouged = missing.cut(*want.may, within=within)
    on = [Difference(lump, "", *_deepest(lump, skin)) for lump in left.lumps()]
    # The kernel may make up a lump of slivers; what is left on lies outside the drawn solid.
    on = [d for d in on if d.depth <= NOTHING or not want.drawn.contains(d.where)]
    open_skin = _skin(want.drawn.cut(*want.may)) if want.may and not gouged.empty else skin
    off = [Difference(lump, "", *_deepest(lump, open_skin)) for lump in gouged.lumps()]
    return Apart(on, off, missing.volume)


def _balance(want: Wanted, finished: Solid, found: Apart, skin: Triangles) -> Iterator[Violation]:
    """The volumes do not add up: is there a place that the kernel overlooked?

    It may lose a sliver between two nearly equal faces, which is no harm.
    """
    where = _overlooked(want, finished, skin, found.deviation)
    if where is not None:
        yield Violation(
            f"the comparison with the drawing is {found.odd(want, finished):.3f} mm3 out, so it "
            "proves nothing",
            "change a size by a hair, or the order of the cuts",
            part=want.part,
            where=where,
        )


def _overlooked(want: Wanted, finished: Solid, skin: Triangles, deviation: float) -> Vec | None:
    """A place of the finished skin further off than the worst that was found, if there is one, or
    one of the drawn skin that is deeper in metal.

    A place may also lie on the skin that is left where all is gone that may go.
    """
    far = max(deviation, NOTHING) + FINE
    points = spread(*want.drawn.mesh(FINE), ALL)
    for x, y, z in points[to_skin(points, _skin(finished)) > far].tolist():
        if finished.contains((x, y, z)):
            return x, y, z
    points = spread(*finished.mesh(FINE), ALL)
    away = to_skin(points, skin)
    if want.may:
        away = np.minimum(away, to_skin(points, _skin(want.drawn.cut(*want.may))))
    for x, y, z in points[away > far].tolist():
        if not any(may.contains((x, y, z)) for may in want.may):
            return x, y, z
    return None


def _skin(solid: Solid) -> Triangles:
    points, corners = solid.mesh(FINE)
    skin: Triangles = points[corners]
    return skin


def _deepest(solid: Solid, skin: Triangles) -> tuple[float, Vec]:
    points = spread(*solid.mesh(FINE))
    away = to_skin(points, skin)
    x, y, z = points[int(away.argmax())]
    return float(away.max()), (round(float(x), 3), round(float(y), 3), round(float(z), 3))


def _left(want: Wanted, lump: Solid, skin: Triangles) -> Iterator[Difference]:
    """A lump left on, shared among the features it belongs to."""
    rest = lump
    for name, region in want.removes.items():
        here = lump.common(region)
        if here.volume > 1e-6:
            yield Difference(here, name, *_deepest(here, skin))
            rest = rest.cut(region)
    for outside in rest.lumps():
        yield Difference(outside, "", *_deepest(outside, skin))


def _gouged(want: Wanted, gouge: Difference, history: list[Done]) -> tuple[Difference, Done | None]:
    """A gouge with the feature it was cut for, and the operation that cut it."""
    lump = gouge.solid
    shares = [(sum(t.common(lump).volume for t in done.swept), done) for done in history]
    share, done = max(shares, key=lambda s: s[0], default=(0.0, None))
    blamed = done if share > 1e-6 else None
    return replace(gouge, feature=_feature(want, lump, blamed)), blamed


def _feature(want: Wanted, lump: Solid, done: Done | None) -> str:
    own = [f for f in done.operation.features if f in want.removes] if done else []
    names = own or list(want.removes)
    return min(names, key=lambda name: want.removes[name].distance(lump), default="")


def _name_left(
    want: Wanted,
    remains: list[Difference],
    gouges: list[tuple[Difference, Done | None]],
    history: list[Done],
) -> Iterator[Violation]:
    low, high = want.drawn.bounds
    for name in dict.fromkeys(d.feature for d in remains):
        here = [d for d in remains if d.feature == name]
        deep = max(here, key=lambda d: d.depth)
        if deep.depth <= want.limit(name):
            continue
        makers = [done for done in history if name in done.operation.features]
        last = makers[-1] if makers else None
        volume = sum(d.solid.volume for d in here)
        region = want.removes.get(name, nothing()).common(box(low, high))
        if name and volume > 0.6 * region.volume:
            what = "never made" if not makers else f"not made where it should be by {last_id(last)}"
            mend = (
                "plan an operation for it" if not makers else "look at its readings and its depth"
            )
        elif any(g.feature == name for g, _ in gouges):
            what = (
                f"out of place or on the wrong hand: {deep.depth:.3f} mm left on here, "
                "and cut away elsewhere"
            )
            mend = "look at which way the work is turned and where zero is"
        elif name and all(_corner(d, makers) for d in here if d.depth > want.limit(name)):
            size = min(run.cutter.diameter for done in makers for run in done.runs)
            what = (
                f"a corner is tighter than any cutter used: {deep.depth:.3f} mm is left "
                f"by a cutter of {size:g} mm"
            )
            mend = "use a smaller cutter, or ask for a larger corner radius"
        else:
            what = f"{deep.depth:.3f} mm left on ({volume:.2f} mm3)"
            mend = "cut deeper or further" if makers else "no operation cuts here"
        yield Violation(
            what,
            mend,
            part=want.part,
            feature=name,
            where=deep.where,
            operation=last_id(last),
            setup=last.setup.id if last else "",
        )


def last_id(done: Done | None) -> str:
    """The id of the last operation, or nothing."""
    return done.operation.id if done else ""


def _corner(d: Difference, makers: list[Done]) -> bool:
    """Is this a leftover in an upright corner, smaller than the cutter?"""
    for done in makers:
        for run in done.runs:
            if run.plunge:
                continue
            low, high = d.solid.moved(done.frame.inverse()).bounds
            if max(high[0] - low[0], high[1] - low[1]) <= run.radius + 0.01:
                return True
    return False


def _name_gouged(want: Wanted, gouges: list[tuple[Difference, Done | None]]) -> Iterator[Violation]:
    for d, done in sorted(gouges, key=lambda g: -g[0].depth):
        spare = SPARE if any(d.solid.distance(may) < NOTHING for may in want.may) else 0.0
        if d.depth <= want.limit(d.feature) + spare:
            continue
        if done is None:
            yield Violation(
                f"{d.depth:.3f} mm of metal is missing that no operation cut",
                "the stock is too small",
                part=want.part,
                where=d.where,
            )
            continue
        yield Violation(
            f"{d.depth:.3f} mm cut away that the drawing keeps ({d.solid.volume:.2f} mm3)",
            "look at its readings, its depth and its cutter",
            part=want.part,
            feature=d.feature,
            where=d.where,
            operation=done.operation.id,
            setup=done.setup.id,
        )
