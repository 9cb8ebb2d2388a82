"""Traces what a joint's gap comes from: the pieces' sizes, the fixture, or the hand that fits it
up.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

from barstock.drawing.build import AXES, Face, Vec
from barstock.drawing.part import Joined, Joint, Piece
from barstock.fabricating.filler_gaps import Gap, Link, gap_of
from barstock.fabricating.fixture_seat import held_along
from barstock.fabricating.joining_findings import Finding, Mistake
from barstock.fabricating.joints import PLACED
from barstock.methods import KINDS
from barstock.methods.feature_cuts import axes_of
from barstock.methods.pieces_meeting import SKIN, meeting
from barstock.methods.scarf import scarf_of
from barstock.methods.sheet_dimensions import view_along
from barstock.quantities import Dimension, Length
from barstock.route import GapKind, GapSetBy, GapSize

NEAR = 0.5  # walls further from what goes between them are no fit for soldering [mm]
SAME = 1e-4  # coordinates nearer than this are one [mm]


@dataclass(frozen=True)
class GapFrom:
    """The origin of a gap. gap: what the sizes leave, cold, None where they do not set it; inner:
    the piece that lies within the other, so that the sizes alone set it.
    """

    set_by: GapSetBy
    gap: Gap | None = None
    inner: str = ""


@dataclass(frozen=True)
class Span:
    """A size of a piece along an axis, from low to high in the piece's frame [mm]. share: 0.5 for
    half of a size about a centre line; hollow: between walls that something may go between."""

    name: str
    size: Dimension
    axis: int
    low: float
    high: float
    share: float = 1.0
    hollow: bool = False


def gap_from(joined: Joined, joint: Joint) -> GapFrom:
    """The origin of the gap of a joint whose pieces meet."""
    met = meeting(joint, joined)
    assert met is not None
    leans = scarf_of(joint, joined)
    if leans is not None:
        slide = {
            name: round(end * leans.stretch, 4)
            for name, end in (("least", joint.gap.low), ("most", joint.gap.high))
        }
        set_by = GapSetBy(
            kind=GapKind.SLOPE,
            lengths=slide,
            numbers={"slope": leans.leans[0]},
            names={"along": AXES[leans.along]},
        )
        return GapFrom(set_by)
    first, second = (joined.piece(name) for name in joint.pieces)
    for outer, inner in ((first, second), (second, first)):
        within = _within(joint, outer, inner)
        if within is not None:
            gap = gap_of(joint.name, within)
            return GapFrom(_set_by(GapKind.ONE_IN_THE_OTHER, gap), gap, inner.name)
    if _pulled_together(joined, joint, met.normal.axis):
        thick = {"shim": round(joint.gap.low or joint.gap.middle, 4)}
        return GapFrom(GapSetBy(kind=GapKind.SHIMS, lengths=thick))
    links = _by_fixture(joined, joint, met.normal, met.bounds)
    if links is not None:
        gap = gap_of(joint.name, links)
        return GapFrom(_set_by(GapKind.FIXTURE, gap), gap)
    return GapFrom(GapSetBy(kind=GapKind.AS_WRITTEN))


def gap_differs(joint: Joint, found: GapFrom) -> Finding | None:
    """The fault of a gap that the pieces' sizes may leave otherwise than it is written."""
    gap = found.gap
    if gap is None or not found.inner:
        return None
    if gap.least >= joint.gap.low - 0.005 and gap.most <= joint.gap.high + 0.005:
        return None
    what = (
        f"written {joint.gap.text}, but its sizes leave {Length(gap.least, gap.most):.2f} on "
        f"each side: {_chain(gap.links)}"
    )
    mend = "fit them to it, give those sizes closer limits, or write the gap that they leave"
    return Finding(Mistake.GAP, joint.name, what, mend, stops=False)


def _set_by(kind: GapKind, gap: Gap) -> GapSetBy:
    """A gap that sizes leave, what opens it first."""
    sizes = tuple(
        GapSize(
            name=link.what,
            text=link.size.text,
            unit=link.size.unit,
            low=round(link.size.low, 4),
            nominal=link.size.nominal,
            high=round(link.size.high, 4),
            opens=link.sign > 0,
            half=link.share < 1,
        )
        for link in sorted(gap.links, key=lambda link: -link.sign)
    )
    left = {"least": round(gap.least, 4), "most": round(gap.most, 4)}
    return GapSetBy(kind=kind, lengths=left, sizes=sizes)


def _chain(links: tuple[Link, ...]) -> str:
    """'+ slot 8.2, - tongue 8': the sizes in the drawing's words, what opens the gap first."""
    order = sorted(links, key=lambda link: -link.sign)
    return ", ".join(
        f"{'+' if link.sign > 0 else '-'} {link.what} {link.size.text or f'{link.size.nominal:g}'}"
        for link in order
    )


# -- one piece in the other ------------------------------------------------------------------------


def _within(joint: Joint, outer: Piece, inner: Piece) -> tuple[Link, Link] | None:
    """The size of a hollow of one piece, and of what the other has in the middle of it."""
    for wide in spans(outer):
        if not wide.hollow:
            continue
        axis, low, high = _in_whole(outer, wide)
        for narrow in spans(inner):
            along, start, end = _in_whole(inner, narrow)
            near = abs(low - start) < NEAR and abs(high - end) < NEAR
            whole = narrow.share == 1.0 and not narrow.hollow
            if along == axis and near and whole and _overlap(outer, inner, axis, joint.gap.high):
                return (
                    Link(f"{outer.name} {wide.name}", wide.size, +1, 0.5),
                    Link(f"{inner.name} {narrow.name}", narrow.size, -1, 0.5),
                )
    return None


def _overlap(outer: Piece, inner: Piece, axis: int, apart: float) -> bool:
    """Does the inner piece reach into the outer's box by more than a gap, all ways?"""
    (a, b), (c, d) = outer.box, inner.box
    return all(min(b[i], d[i]) - max(a[i], c[i]) > apart + SKIN for i in range(3))


def spans(piece: Piece) -> list[Span]:
    """The sizes of a piece that its drawing gives, along each axis."""
    part = piece.part
    found = [Span(part.sides[i], part.dimension(i), i, 0.0, part.size[i]) for i in range(3)]
    for feature in part.features:
        for drawn in KINDS[feature.kind].drawn(feature.spec, part):
            name, size, hollow = f"{feature.name} {drawn.name}", drawn.dimension, drawn.hollow
            for axis in range(3):
                a, b = drawn.start[axis], drawn.end[axis]
                if drawn.style == "diameter":
                    if hollow and drawn.view != view_along(axis):
                        radius = max(abs(drawn.end[i] - drawn.start[i]) for i in range(3))
                        found.append(Span(name, size, axis, a - radius, a + radius, 1.0, hollow))
                elif drawn.style == "length" and abs(abs(a - b) - size.nominal) < SAME:
                    found.append(Span(name, size, axis, min(a, b), max(a, b), 1.0, hollow))
    return found


def _in_whole(piece: Piece, span: Span) -> tuple[int, float, float]:
    """Axis of the whole, and where the span lies on it [mm]."""
    axis, sign = _axis_in_whole(piece, span.axis)
    ends = [sign * value + piece.shift[axis] for value in (span.low, span.high)]
    return axis, min(ends), max(ends)


def _axis_in_whole(piece: Piece, axis: int) -> tuple[int, int]:
    way = piece.turn(Face.of(axis, 1).normal)
    found = max(range(3), key=lambda i: abs(way[i]))
    return found, 1 if way[found] > 0 else -1


# -- screwed ---------------------------------------------------------------------------------------


def _pulled_together(joined: Joined, joint: Joint, axis: int) -> bool:
    """Do screws along the axis draw the two faces onto each other?"""
    return any(
        set(joint.pieces) <= {hole.piece for hole in screw.holes}
        and axes_of(joined, screw.holes[0])[0][1].axis == axis
        for screw in joined.screws
    )


def _by_fixture(
    joined: Joined, joint: Joint, normal: Face, bounds: tuple[Vec, Vec]
) -> tuple[Link, ...] | None:
    """From the fixture's pitch through each piece from its hole to the face that is soldered; of a
    piece between two that are held, half of what is left."""
    axis = normal.axis
    held = held_along(joined, axis)
    names = joint.pieces if normal.sign > 0 else joint.pieces[::-1]
    low, high = (joined.piece(name) for name in names)
    level = bounds[0 if normal.sign > 0 else 1][axis]
    if {low.name, high.name} <= held.keys():
        return _pitch(held, low, high, level, level, axis)
    between, cheek = (low, high) if high.name in held else (high, low)
    if cheek.name not in held or between.name in held:
        return None
    ends = [between.box[0][axis], between.box[1][axis]]
    far = ends[0] if abs(level - ends[1]) < NEAR else ends[1]
    other = next(
        (p for p in joined.pieces if p.name in held and p is not cheek
         and any({p.name, between.name} == set(j.pieces) for j in joined.joints)), None
    )  # fmt: skip
    if other is None:
        return None
    cheeks = (other, cheek) if far < level else (cheek, other)
    found = _pitch(held, *cheeks, min(far, level), max(far, level), axis)
    inner = _path(between, axis, min(far, level), max(far, level))
    if found is None or inner is None:
        return None
    links = (*found, *(_turned(link, -1) for link in inner))
    return tuple(Link(k.what, k.size, k.sign, k.share / 2) for k in links)


def _pitch(
    held: dict[str, float], low: Piece, high: Piece, below: float, above: float, axis: int
) -> tuple[Link, ...] | None:
    pitch = held[high.name] - held[low.name]
    one = _path(low, axis, held[low.name], below)
    other = _path(high, axis, held[high.name], above)
    if one is None or other is None or pitch <= 0:
        return None
    block = Link("", Dimension(round(pitch, 4), -PLACED, PLACED), +1)
    return (block, *other, *(_turned(link, -1) for link in one))


def _turned(link: Link, sign: int) -> Link:
    return Link(link.what, link.size, link.sign * sign, link.share)


def _path(piece: Piece, axis: int, start: float, end: float) -> list[Link] | None:
    """The fewest sizes of a piece that lead from one place of the whole to another along an axis;
    None where they do not."""
    ways: dict[float, list[tuple[float, Link]]] = {}

    def tie(low: float, high: float, span: Span, share: float) -> None:
        a, b = round(low, 3), round(high, 3)
        name = f"{piece.name} {span.name}"
        ways.setdefault(a, []).append((b, Link(name, span.size, +1, share)))
        ways.setdefault(b, []).append((a, Link(name, span.size, -1, share)))

    for span in spans(piece):
        along, low, high = _in_whole(piece, span)
        if along != axis:
            continue
        tie(low, high, span, 1.0)
        middle = sum(piece.box[i][axis] for i in range(2)) / 2
        if abs((low + high) / 2 - middle) < SAME:
            tie(low, middle, span, 0.5)
            tie(middle, high, span, 0.5)
    if not ways:
        return None
    first, last = (min(ways, key=lambda at: abs(at - to)) for to in (start, end))
    if abs(first - start) > 0.01 or abs(last - end) > NEAR:
        return None
    found: dict[float, list[Link]] = {first: []}
    waiting = deque([first])
    while waiting:
        at = waiting.popleft()
        for there, link in ways[at]:
            if there not in found:
                found[there] = [*found[at], link]
                waiting.append(there)
    return found.get(last)
