"""Finds between which two surfaces a dimension of the drawing runs, and the chain that makes it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import combinations
from math import radians, tan

from barstock.drawing.build import Build, Face
from barstock.drawing.dimension_runs import CheckSort, End, EndKind, Runs
from barstock.machines import machine_type
from barstock.machines.machine_type import WorkSort
from barstock.methods.cuts import Check, Cut, EdgeCut, HoleCut, LevelCut
from barstock.methods.kind import Kind
from barstock.quantities import Dimension, Unit
from barstock.route import Expect, Operation, Route, Setup
from barstock.tolerancing.chains import Chain, together
from barstock.tolerancing.face_errors import WALLS, Lying, Surface, SurfaceSort, Trace, lone
from barstock.tolerancing.shop_errors import MARKED, CauseKind, cause
from barstock.workshop.shop import Workshop

NEAR = 0.003
"""Places closer than this are the same [mm]."""

LAID_OUT = (CheckSort.POSITION, CheckSort.OUTSIDE, CheckSort.BEVEL, CheckSort.RADIUS)
"""Sorts that come of a scribed line where they are filed."""
JUDGED = (*LAID_OUT, CheckSort.INSIDE, CheckSort.DEPTH)
RIMS = (SurfaceSort.BEVEL, SurfaceSort.MOUTH)
DATUMS = (EndKind.CENTRE_LINE, EndKind.MOUTH)
"""What a dimension is given from besides the part's faces."""


@dataclass(frozen=True)
class Asked:
    """A dimension of a part, the operation that makes it, and the chain by which it does.

    check: as the route has it. chain: deviations from its nominal; None where the dimension is made
    by the tool's own size or shape, not by readings. own, from_face: the surface it makes, and the
    face that is given from, where there is one. along: the part's length along the jaws in this
    setup [mm].
    """

    part: str
    unit: Unit
    operation: Operation
    setup: Setup
    check: Expect
    dimension: Dimension
    chain: Chain | None
    own: Surface | None = None
    from_face: Face | None = None
    along: float = 0.0


def all_asked(
    route: Route, build: Build, workshop: Workshop, kinds: Mapping[str, Kind]
) -> list[Asked]:
    """The checked dimensions of a route, in the route's order."""
    bars = {bar.id: bar.part for bar in route.bars}
    traces: dict[str, Trace] = {}
    found = []
    for setup in route.setups:
        part = build.part(bars.get(setup.work, setup.work))
        if part.name not in traces:
            cuts = {f.name: kinds[f.kind].ways(f.spec, part)[0].cuts for f in part.features}
            traces[part.name] = Trace(part, route, workshop, cuts).follow()
        trace = traces[part.name]
        for operation in setup.operations:
            for expect in operation.checks:
                found.append(_asked_of_dimension(trace, setup, operation, expect))
    return found


def _asked_of_dimension(trace: Trace, setup: Setup, operation: Operation, expect: Expect) -> Asked:
    part = trace.part
    feature, _, name = expect.name.rpartition("/")
    cut, check = _check(trace.cuts.get(feature, ()), name)
    size = check.dimension if check else _as_printed(expect)
    along = part.size[Lying(trace, setup).right.axis]
    blank = Asked(part.name, part.unit, operation, setup, expect, size, None, along=along)
    own = [s for s in trace.surfaces if s.operation == operation.id]
    if isinstance(cut, EdgeCut) or expect.sort is CheckSort.COUNTERSINK:
        made_so = next((s.place for s in own if s.sort in RIMS), None)
        if made_so is not None:
            return replace(blank, chain=made_so)
    if expect.sort not in JUDGED:
        return blank
    if machine_type(setup.machine_kind).work is WorkSort.FILING:
        line = cause(f"filing to the line of {feature}", MARKED, CauseKind.LINE, setup=setup.id)
        return replace(blank, chain=lone(line) if expect.sort in LAID_OUT else None)
    if expect.runs is None:
        return blank
    low, high = (end.face if end.is_face else None for end in expect.runs)
    if low and high:
        made = together((trace.faces[high], 1.0), (trace.faces[low], -1.0))
        return replace(blank, chain=made)
    whole_feature = [s for s in trace.surfaces if s.feature == feature]
    peak = _peak(trace.cuts.get(feature, ()), whole_feature)
    for some in (
        (peak,) if peak else (own, whole_feature)
    ):  # a counterbore's depth is checked with the hole's size
        found = []
        for surface, other, face in _between(trace, operation, cut, expect.runs, some):
            if abs(abs(surface.at - other.at) - size.nominal) < NEAR:
                sign = 1.0 if surface.at >= other.at else -1.0
                made = together((surface.place, sign), (other.place, -sign))
                found.append(replace(blank, chain=made, own=surface, from_face=face))
        if found:
            return max(found, key=_strained)
    return blank


def _strained(asked: Asked) -> float:
    """How far beyond a limit a dimension may come [mm]; of holes alike the worst is judged."""
    made, size = asked.chain, asked.dimension
    assert made is not None
    return max(size.minus - made.low, made.high - size.plus)


def _check(cuts: Iterable[Cut], name: str) -> tuple[Cut | None, Check | None]:
    return next(((c, k) for c in cuts for k in c.checks if k.name == name), (None, None))


def _as_printed(expect: Expect) -> Dimension:
    low, high = expect.low - expect.nominal, expect.high - expect.nominal
    return Dimension(expect.nominal, low, high, expect.text)


def _between(
    trace: Trace, operation: Operation, cut: Cut | None, runs: Runs, some: list[Surface]
) -> Iterator[tuple[Surface, Surface, Face | None]]:
    """The pairs that a check could run between: one of some surfaces, and what it is given from."""
    datum = next((end for end in runs if end.is_face or end.kind in DATUMS), None)
    if datum is None:
        round_ends = any(end.kind is EndKind.ROUND_END for end in runs)
        walls = _rounded(some, cut) if round_ends else some
        for one, other in combinations(reversed(walls), 2):  # of two operations, the later first
            if one.axis == other.axis and operation.id in (one.operation, other.operation):
                yield one, other, None
        return
    if datum.kind is EndKind.MOUTH:
        some = [s for s in some if s.sort is SurfaceSort.FLOOR]
    for origin, face in _origins(trace, cut, datum):
        yield from ((s, origin, face) for s in _centred(some) if s.axis == origin.axis)


def _origins(trace: Trace, cut: Cut | None, datum: End) -> Iterator[tuple[Surface, Face | None]]:
    """Where what a dimension is given from may lie, with the face that it is or lies on."""
    if datum.kind is EndKind.MOUTH:
        assert isinstance(cut, HoleCut | LevelCut)
        yield from ((top, cut.face) for top in _tops(trace, cut))
    elif datum.face is not None:
        yield _face(trace, datum.face), datum.face
    else:
        assert datum.axis is not None
        yield _middle(trace, datum.axis), None


def _centred(own: list[Surface]) -> list[Surface]:
    """The surfaces, and half way between each pair of walls."""
    found = list(own)
    for one, other in combinations([s for s in own if s.sort in WALLS], 2):
        if one.axis == other.axis:
            place = together((one.place, 0.5), (other.place, 0.5))
            middle = (one.at + other.at) / 2
            found.append(
                Surface(
                    one.feature,
                    SurfaceSort.CENTRE,
                    one.axis,
                    middle,
                    place,
                    one.operation,
                    one.setup,
                )
            )
    return found


def _rounded(walls: list[Surface], cut: Cut | None) -> list[Surface]:
    """The centres of a slot's round ends, half its width inward of its end walls.

    The cutter's axis stood there, whatever its diameter.
    """
    assert isinstance(cut, LevelCut)
    found = []
    ends = sorted((s for s in walls if s.sort is SurfaceSort.RUN_WALL), key=lambda s: s.at)
    for end, inward in zip(ends, (1, -1), strict=False):
        links = tuple(
            (k, n) for k, n in end.place.links if getattr(k, "kind", "") is not CauseKind.CUTTER
        )
        axis_at = end.at + inward * cut.across_length / 2
        found.append(replace(end, at=axis_at, place=replace(end.place, links=links)))
    return found


def _peak(cuts: tuple[Cut, ...], surfaces: list[Surface]) -> list[Surface]:
    """Where the two flats of a ridge meet, in height and along; nothing of other features.

    Flats that lie a and b too high meet (a + b) / 2 too high and (b - a) / (2 tan lean) along.
    """
    level = [cut for cut in cuts if isinstance(cut, LevelCut)]
    if len(level) != 2 or level[0].origin != level[1].origin or not level[0].lean:
        return []
    up, one = level[0].face, level[0]
    axis = next(a for a in range(3) if a != up.axis and abs(one.run[a]) > 0.5)
    flats = [s for s in surfaces if abs(s.at - one.origin[up.axis]) < NEAR and s.axis == up.axis]
    flats = sorted(flats, key=lambda s: s.operation)
    if len(flats) != 2:
        return []
    low, high = flats if one.run[axis] < 0 else reversed(flats)
    along = up.sign / 2 / tan(radians(one.lean))
    height = together((low.place, 0.5), (high.place, 0.5))
    shift = together((high.place, along), (low.place, -along))
    return [
        replace(high, place=height),
        replace(high, sort=SurfaceSort.CENTRE, axis=axis, at=one.origin[axis], place=shift),
    ]


def _face(trace: Trace, face: Face) -> Surface:
    at = trace.part.size[face.axis] if face.sign > 0 else 0.0
    return Surface(f"{face} face", SurfaceSort.FACE, face.axis, at, trace.faces[face], "", "")


def _middle(trace: Trace, axis: int) -> Surface:
    low, high = (trace.faces[Face.of(axis, sign)] for sign in (-1, 1))
    place = together((low, 0.5), (high, 0.5))
    return Surface(
        "centre line", SurfaceSort.CENTRE, axis, trace.part.size[axis] / 2, place, "", ""
    )


def _tops(trace: Trace, cut: HoleCut | LevelCut) -> Iterator[Surface]:
    """What a depth is measured from: the face, or the floor that a hole starts on."""
    face = _face(trace, cut.face)
    if isinstance(cut, HoleCut) and abs(cut.at[0][cut.face.axis] - face.at) > NEAR:
        for s in trace.surfaces:
            if s.axis == face.axis and abs(s.at - cut.at[0][face.axis]) < NEAR:
                yield s
    yield face
