"""A fabrication as drawn, turned into what is joined: pieces, joints, holdings, screws.

Where two pieces meet is found by their boxes; how much of their faces meet, by their solids.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import dist, pi, sqrt

from barstock.drawing import fabrication as drawn
from barstock.drawing.model import Face, Feature, Part, Vec
from barstock.handbook.materials import mass
from barstock.handbook.threads import clearance, thread
from barstock.joining.growth import Hold
from barstock.joining.model import FACE_UP, Form, Holding, Joint, Piece, Vector
from barstock.joining.screws import ScrewPlace
from barstock.joining.swallow import Swallow, swallows
from barstock.methods.drawn_solid import drawn_solid, placed
from barstock.solids.shapes import Placement

LEDGE = 1.0
"""How far a face must go on beyond the other piece for a fillet to lie on it [mm]. Common
practice."""

SKIN = 0.01  # how far a piece is pressed into its neighbour to see where they touch [mm]
STILL = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
"""Nothing turned."""


def pieces_of(joined: drawn.Joined) -> tuple[Piece, ...]:
    """The pieces with their masses, as drawn."""
    return tuple(Piece(p.name, p.part.material, _mass(p.part)) for p in joined.pieces)


@cache
def _mass(part: Part) -> float:
    return mass(part.material, drawn_solid(part).volume)


def joints_of(joined: drawn.Joined) -> tuple[Joint, ...]:
    """The joints with the lengths they are fed along and the sides they may be fed from."""
    return tuple(_joint(joined, joint) for joint in joined.joints)


def _joint(joined: drawn.Joined, joint: drawn.Joint) -> Joint:
    a, b = (joined.piece(name) for name in joint.pieces)
    screwed = any(
        set(joint.pieces) <= {hole.piece for hole in screw.holes} for screw in joined.screws
    )
    given = Joint(
        joint.name, joint.pieces, Form(joint.form), joint.fillers, joint.gap.low, joint.gap.high,
        (), 0.0, 0.0, joint.fillet, screwed,
    )  # fmt: skip
    meeting = meeting_face(a, b)
    if meeting is None:
        return _spigot(given, a, b)
    area, edges = _patch(a, b, meeting)
    longest = max(edges, key=lambda edge: edge[1])[1]
    feeds = tuple(feed for feed, _ in edges)
    return replace(given, feeds=feeds, line=longest, depth=area / longest)


def meeting_face(a: drawn.Piece, b: drawn.Piece) -> Face | None:
    """The side of a, as it looks in the whole, that lies on b; None for one inside the other."""
    (a_low, a_high), (b_low, b_high) = a.box, b.box
    for face in Face:
        mine = a_high[face.axis] if face.sign > 0 else a_low[face.axis]
        its = b_low[face.axis] if face.sign > 0 else b_high[face.axis]
        if abs(mine - its) < 1e-6:
            return face
    return None


def _patch(a: drawn.Piece, b: drawn.Piece, face: Face) -> tuple[float, list[tuple[Vector, float]]]:
    """Area where a's face lies on b [mm2], and each edge of it: how it is fed, and its length."""
    n = face.normal
    pressed = Placement(STILL, (SKIN * n[0], SKIN * n[1], SKIN * n[2]))
    common = placed(a).moved(pressed).common(placed(b))
    area = common.volume / SKIN
    low, high = common.bounds
    edges = []
    for side in Face:
        if side.axis == face.axis:
            continue
        along = next(i for i in range(3) if i not in (side.axis, face.axis))
        edge = high[side.axis] if side.sign > 0 else low[side.axis]
        on_a, on_b = (_beyond(piece, side, edge) for piece in (a, b))
        up = 1.0 if on_a and not on_b else -1.0 if on_b and not on_a else 0.0
        feed = tuple(e + up * m for e, m in zip(side.normal, n, strict=True))
        size = sqrt(sum(v * v for v in feed))
        edges.append(((feed[0] / size, feed[1] / size, feed[2] / size), high[along] - low[along]))
    return area, edges


def _beyond(piece: drawn.Piece, side: Face, edge: float) -> bool:
    """Does the piece go on past the edge by a ledge?"""
    end = piece.box[1 if side.sign > 0 else 0][side.axis]
    return (end - edge) * side.sign >= LEDGE


def _spigot(given: Joint, a: drawn.Piece, b: drawn.Piece) -> Joint:
    """One piece inside the other: round, along the axis it leaves it by."""
    low = [max(p, q) for p, q in zip(a.box[0], b.box[0], strict=True)]
    high = [min(p, q) for p, q in zip(a.box[1], b.box[1], strict=True)]
    sizes = [h - lo for lo, h in zip(low, high, strict=True)]
    ends = [f for f in Face for p in (a, b)
            if abs(p.box[1 if f.sign > 0 else 0][f.axis] - (high if f.sign > 0 else low)[f.axis])
            > LEDGE]  # fmt: skip
    axis = ends[0].axis if ends else sizes.index(max(sizes))
    across = min(size for i, size in enumerate(sizes) if i != axis)
    feeds = tuple(f.normal for f in Face if f.axis == axis)
    return replace(given, feeds=feeds, line=pi * across, depth=sizes[axis])


def holdings_of(joined: drawn.Joined, weight: float = 0.0) -> tuple[Holding, ...]:
    """On the fixture in every attitude but hanging from it; without one, held by its own screws.

    weight: of the fixture [g].
    """
    if joined.fixture is None:
        return (Holding("on the bricks", frozenset(), tuple(FACE_UP.values())),)
    under = joined.fixture.under
    ways = [FACE_UP[under.opposite]]
    ways += [FACE_UP[face] for face in Face if face.axis != under.axis]
    fixed = {hole.piece for screw in joined.screws if screw.fixes for hole in screw.holes}
    return (
        Holding("on the fixture", frozenset(fixed), tuple(ways), frozenset(),
                joined.fixture.material, weight),
    )  # fmt: skip


def screw_places(joined: drawn.Joined, fixture_thick: float = 0.0) -> tuple[ScrewPlace, ...]:
    """Where each fixing screw goes: the ones into or through the fixture only where its thickness
    is known [mm]."""
    found = []
    for screw in joined.screws:
        if screw.fixes and not fixture_thick:
            continue
        grip = sum(_grip(joined, hole) for hole in screw.through)
        gaps = [j.gap for j in joined.joints if set(j.pieces) <= {h.piece for h in screw.holes}]
        least, most = grip + sum(g.low for g in gaps), grip + sum(g.high for g in gaps)
        if screw.into is None:
            deep, blind, into = fixture_thick, False, _fixture(joined).material
        else:
            bore = screw.into.feature.spec.bore
            deep, blind = bore.depth, not bore.through
            into = joined.piece(screw.into.piece).part.material
            if not screw.through:
                least = most = fixture_thick
        found.append(
            ScrewPlace(screw.name, thread_of(screw), least, most, into, deep, blind,
                       of=screw.material)
        )  # fmt: skip
    return tuple(found)


def thread_of(screw: drawn.FixingScrew) -> str:
    """The thread of a fixing screw: its own, or that of the hole it goes into."""
    return screw.thread or (screw.into.feature.spec.bore.thread if screw.into else "")


def fixture_holds(joined: drawn.Joined) -> tuple[Hold, ...]:
    """Every hole that a piece hangs in, in the plane of the fixture: of screws on the fixture, and
    of screws through a piece into another. Of each piece the first locates."""
    u, v = (i for i in range(3) if i != _fixture(joined).under.axis)
    found: list[Hold] = []
    for screw in joined.screws:
        form = thread(thread_of(screw))
        holes = screw.through or ((screw.into,) if screw.into else ())
        for hole in holes:
            at = hole_at(joined, screw, hole)
            free = clearance(form.name) if not screw.through else hole.feature.spec.bore.diameter
            first = all(hold.piece != hole.piece for hold in found)
            found.append(Hold(screw.name, hole.piece, (at[u], at[v]), free, form.major, first))
    return tuple(found)


def hole_at(joined: drawn.Joined, screw: drawn.FixingScrew, hole: drawn.ScrewHole) -> Vec:
    """Where a hole of a screw starts, in the whole [mm]: of a pattern, the one nearest to the
    screw's last hole."""
    last = screw.holes[-1]
    piece = joined.piece(last.piece)
    aim = piece.at(last.feature.spec.at[0])
    own = joined.piece(hole.piece)
    axis = own.looking(hole.feature.spec.face).axis
    flat = [i for i in range(3) if i != axis]
    spots = [own.at(at) for at in hole.feature.spec.at]
    return min(spots, key=lambda p: dist([p[i] for i in flat], [aim[i] for i in flat]))


def swallowed(part: Part, out: float) -> tuple[Swallow, ...]:
    """Of every fixing screw whose place another hole takes: is all of its holes gone? out: how far
    a drill may be from where it is to be [mm]; what the drawing sets them apart is added."""
    joined = part.joined
    assert joined is not None
    features = {f.name: f for f in part.features}
    found = []
    for screw in joined.screws:
        new = features.get(screw.replaced_by)
        if new is None or new.kind != "hole":
            continue
        drill = new.spec.bore.drill or new.spec.bore.diameter
        for hole in screw.holes:
            bore = hole.feature.spec.bore
            apart = _apart(joined, screw, hole, new)
            old = bore.thread or bore.diameter
            found.append(swallows(f"{screw.name} in {hole.piece}", old, drill, out + apart))
    return tuple(found)


def _apart(
    joined: drawn.Joined, screw: drawn.FixingScrew, hole: drawn.ScrewHole, new: Feature
) -> float:
    at, axis = hole_at(joined, screw, hole), new.spec.face.axis
    flat = [i for i in range(3) if i != axis]
    nearest = min(dist([at[i] for i in flat], [p[i] for i in flat]) for p in new.spec.at)
    return round(nearest, 6)


def _grip(joined: drawn.Joined, hole: drawn.ScrewHole) -> float:
    """Metal between the head and where a hole comes out [mm]."""
    spec, part = hole.feature.spec, joined.piece(hole.piece).part
    sunk = spec.mouth.counterbore[1] if spec.mouth.counterbore else 0.0
    return float(part.size[spec.face.axis] - sunk)


def _fixture(joined: drawn.Joined) -> drawn.Fixture:
    if joined.fixture is None:
        raise ValueError("there is no fixture; add 'fixture: {under: bottom}'")
    return joined.fixture
