"""How the pieces of a fabrication meet: whether they do, on what area, and what cuts into it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from itertools import combinations

from barstock import methods
from barstock.drawing.build import AXES, Face, Fault, Part, Vec
from barstock.drawing.part import FixingScrew, Form, Joined, Joint
from barstock.drawing.pieces_reading import sticks_out
from barstock.drawing.vectors import dot, scaled
from barstock.methods.drawn_solid import may_remove, placed
from barstock.methods.feature_cuts import axes_of, filed_flush, hole_of, screw_hole
from barstock.methods.scarf import scarf_faults, scarf_of
from barstock.methods.spigot import spigot_faults, spigot_of
from barstock.quantities import Length, show
from barstock.solids.shapes import Placement, Solid, box, nothing
from barstock.store.kept_values import figure

SKIN = 0.02
"""Faces within this of each other meet [mm]."""
RUN_IN = 1.0
"""Pieces that share more than this run into each other [mm3]."""
OFF = 0.02
"""Holes of a screw whose axes lie further apart are out of line [mm]."""
LEAST_AREA = 0.5
"""Pieces that touch on less do not meet [mm2]."""
ROD_ROUND = 0.5
"""Half of what a rod takes up beside a joint's edge [mm]; common practice."""
OPEN = 0.25
"""A rod reaches an edge beside which this share of the room is air; common practice."""
NICK = 0.02
"""A feature that takes no more than this share of a joint does not cut through it."""


@dataclass(frozen=True)
class Meeting:
    """Where the two pieces of a joint meet.

    low, high: corners of the block about where they do; area [mm2]; normal: the side of the whole
    that the first piece's face looks to, of a slope most nearly; feeds: sides from which
    filler can run in; line: length of its edge, depth: how far filler runs in at most [mm].
    """

    low: Vec
    high: Vec
    area: float
    normal: Face
    line: float
    depth: float
    feeds: tuple[Face, ...]

    @property
    def bounds(self) -> tuple[Vec, Vec]:
        """The two corners of the block about where they meet [mm]."""
        return self.low, self.high


@lru_cache(maxsize=64)
def meeting(joint: Joint, joined: Joined) -> Meeting | None:
    """Where the pieces of a joint meet; None where they do not.

    The side with the largest common area is the joint's; of a spigot all sides are.
    """
    on = (joint.form, joint.gap, *(joined.piece(name) for name in joint.pieces))
    found: Meeting | None = figure(Meeting | None, partial(_met, joint, joined), *on)
    return found


def _met(joint: Joint, joined: Joined) -> Meeting | None:
    stands = spigot_of(joint, joined)
    if stands is not None:
        line, feeds = math.pi * stands.across, stands.feeds
        return Meeting(*stands.bounds, stands.area, stands.mouth, line, stands.deep, feeds)
    leans = scarf_of(joint, joined)
    layers = {} if leans else _layers(joint, joined)
    if not layers and not leans:
        return None
    a, b = (placed(joined.piece(name)) for name in joint.pieces)
    if leans:
        skin = leans.skin(a, b)
        area = skin.volume / SKIN
        if area < LEAST_AREA:
            return None
        normal = max(Face, key=lambda face: dot(face.normal, leans.normal))
        sides = list(leans.spread(*skin.bounds))
        return Meeting(
            *skin.bounds, area, normal, 2 * sum(sides), max(sides), _feeds(normal, skin, a, b)
        )
    areas = {face: layer.volume / thick for face, (layer, thick) in layers.items()}
    normal = max(areas, key=lambda face: areas[face])
    skin = _skin(joint, joined)
    low, high = skin.bounds
    sides = [high[i] - low[i] for i in range(3) if i != normal.axis]
    area = sum(areas.values()) if joint.form is Form.SPIGOT else areas[normal]
    feeds = _feeds(normal, skin, a, b)
    return Meeting(low, high, area, normal, 2 * sum(sides), max(sides), feeds)


def _feeds(normal: Face, skin: Solid, a: Solid, b: Solid) -> tuple[Face, ...]:
    """The sides from which a rod reaches the joint."""
    beside = (face for face in Face if face.axis != normal.axis)
    return tuple(face for face in beside if _open(face, skin, a, b)) or (normal, normal.opposite)


def _skin(joint: Joint, joined: Joined) -> Solid:
    """A thin layer of metal where the pieces meet, on the second one's side."""
    stands = spigot_of(joint, joined)
    if stands is not None:
        return stands.skin()
    leans = scarf_of(joint, joined)
    if leans is not None:
        return leans.skin(*(placed(joined.piece(name)) for name in joint.pieces))
    layers = _layers(joint, joined)
    if joint.form is Form.SPIGOT:
        return nothing().fuse(*(layer for layer, _ in layers.values()))
    return max(layers.values(), key=lambda one: one[0].volume / one[1])[0]


@lru_cache(maxsize=64)
def _layers(joint: Joint, joined: Joined) -> dict[Face, tuple[Solid, float]]:
    """By the side the first piece turns to the second: that layer, and its thickness [mm]."""
    a, b = (placed(joined.piece(name)) for name in joint.pieces)
    found: dict[Face, tuple[Solid, float]] = {}
    for face in Face:
        # pieces drawn with their gap between them meet across it
        for reach in (SKIN, joint.gap.high + SKIN):
            layer = a.moved(Placement(shift=scaled(face.normal, reach))).common(b)
            thick = SKIN if reach == SKIN else _thickness(layer, face)
            if not layer.empty and layer.volume / thick > LEAST_AREA:
                found[face] = (layer, thick)
                break
    return found


def _thickness(layer: Solid, face: Face) -> float:
    """Of a layer of metal along a face's normal [mm]."""
    if layer.empty:
        return SKIN
    low, high = layer.bounds
    return high[face.axis] - low[face.axis]


def _open(face: Face, skin: Solid, a: Solid, b: Solid) -> bool:
    """Can a rod reach the edge of the joint on this side?"""
    low, high = (list(corner) for corner in skin.bounds)
    for i in range(3):
        low[i], high[i] = low[i] - ROD_ROUND, high[i] + ROD_ROUND
    if face.sign > 0:
        low[face.axis], high[face.axis] = high[face.axis], high[face.axis] + 2 * ROD_ROUND
    else:
        low[face.axis], high[face.axis] = low[face.axis] - 2 * ROD_ROUND, low[face.axis]
    beside = box((low[0], low[1], low[2]), (high[0], high[1], high[2]))
    return beside.cut(a, b).volume > OPEN * beside.volume


def fabrication_faults(part: Part) -> Iterator[Fault]:
    """Pieces that do not meet or run into each other, joints cut through, screws out of line."""
    joined = part.joined
    assert joined is not None
    yield from _run_in(part, joined)
    for joint in joined.joints:
        sloping = list(scarf_faults(part, joint, joined))
        yield from sloping
        if sloping:
            continue
        if meeting(joint, joined) is None:
            first, second = (joined.piece(name) for name in joint.pieces)
            apart = placed(first).distance(placed(second))
            what = (
                f"joint '{joint.name}': '{first.name}' and '{second.name}' do not meet, they stand "
                f"{show(apart, part.unit)} apart"
            )
            yield Fault(joint.place, what, "check where the pieces stand", part.name)
            continue
        yield from spigot_faults(part, joint, joined)
        yield from _on_a_slope(part, joint, joined)
        yield from _cut_through(part, joint, joined)
    yield from _loose(part, joined)
    for screw in joined.screws:
        yield from _out_of_line(part, joined, screw)
    yield from _in_air(part, joined)
    yield from _proud(part, joined)


def _run_in(part: Part, joined: Joined) -> Iterator[Fault]:
    for a, b in combinations(joined.pieces, 2):
        common = placed(a).common(placed(b))
        if common.volume > RUN_IN:
            # corners that a smaller cutter, or a file, may take out besides
            common = common.cut(*(placed(one, may_remove(one.part)) for one in (a, b)))
        if common.volume > RUN_IN:
            what = (
                f"'{a.name}' and '{b.name}' run into each other, "
                f"{Length(common.volume, power=3):.0f}"
            )
            yield Fault(b.place, what, "check where the pieces stand, and their sizes", part.name)


def _on_a_slope(part: Part, joint: Joint, joined: Joined) -> Iterator[Fault]:
    """Pieces that meet on a slope where the joint is none for it."""
    if joint.form in (Form.SPIGOT, Form.SCARF) or len(_layers(joint, joined)) < 2:
        return
    found = scarf_of(replace(joint, form=Form.SCARF), joined)
    if found is not None and abs(found.apart) < SKIN:
        what = (
            f"joint '{joint.name}' is a {joint.form} joint, and its pieces meet on a slope of "
            f"{found.leans[0]:.1f}° to the {AXES[found.along]}"
        )
        yield Fault(joint.place, what, "write 'form: scarf'", part.name)


def _cut_through(part: Part, joint: Joint, joined: Joined) -> Iterator[Fault]:
    for feature in part.features:
        removed = methods.KINDS[feature.kind].removes(feature.spec, part)
        skin = _skin(joint, joined)
        share = removed.common(skin).volume / skin.volume
        if share > NICK and feature.name not in joint.cut_by:
            what = f"{feature.name} cuts through joint '{joint.name}', {share:.0%} of it"
            mend = f"move it, or say so at the joint: cut by: [{feature.name}]"
            yield Fault(feature.place, what, mend, part.name, feature.name)


def _in_air(part: Part, joined: Joined) -> Iterator[Fault]:
    """Holes of the whole that meet none of its pieces."""
    for feature in part.features:
        cut = hole_of(feature, part)
        if cut is None:
            continue
        face, deep = cut.face, part.size[cut.face.axis] if cut.through else cut.depth
        for n, at in enumerate(cut.at, 1):
            low, high = ([x + way * cut.diameter / 2 for x in at] for way in (-1, 1))
            ends = (at[face.axis], at[face.axis] - face.sign * deep)
            low[face.axis], high[face.axis] = min(ends), max(ends)
            way = box((low[0], low[1], low[2]), (high[0], high[1], high[2]))
            if all(placed(piece).common(way).volume < RUN_IN / 100 for piece in joined.pieces):
                which = f"hole {n} of {feature.name}" if len(cut.at) > 1 else feature.name
                what = (
                    f"{which} meets no metal: it is counted from the {face} face of the whole, "
                    f"{show(deep, part.unit)} deep, and there is no piece on its way"
                )
                mend = "make it deeper, give it from another face, or drill it in the piece"
                yield Fault(feature.place, what, mend, part.name, feature.name)


def _loose(part: Part, joined: Joined) -> Iterator[Fault]:
    """Pieces that no chain of joints ties to the first."""
    tied = {joined.pieces[0].name}
    for _ in joined.pieces:
        for joint in joined.joints:
            if set(joint.pieces) & tied:
                tied |= set(joint.pieces)
    for piece in joined.pieces:
        if piece.name not in tied:
            what = f"no joint ties '{piece.name}' to '{joined.pieces[0].name}'"
            yield Fault(piece.place, what, "add one under 'joints'", part.name)


def _out_of_line(part: Part, joined: Joined, screw: FixingScrew) -> Iterator[Fault]:
    """Every screw's holes must lie on one axis, and be wide enough."""
    if screw.into is None:
        return
    tapped = axes_of(joined, screw.into)
    bore = screw_hole(joined, screw.into)
    if not bore.thread:
        what = (
            f"fixing screw '{screw.name}' goes into {screw.into.piece}/{screw.into.feature.name}, "
            "which has no thread"
        )
        yield Fault(screw.place, what, "give that hole a 'thread'", part.name)
        return
    for hole in screw.through:
        holes, wide = axes_of(joined, hole), screw_hole(joined, hole).diameter
        if wide < bore.diameter:
            what = (
                f"fixing screw '{screw.name}', {bore.thread}, does not pass {hole.piece}/"
                f"{hole.feature.name}, {show(wide, part.unit)}"
            )
            yield Fault(screw.place, what, f"write 'clearance for: {bore.thread}'", part.name)
        for at, face in tapped:
            near = min(_beside(at, other, face.axis) for other, _ in holes)
            if near > OFF:
                what = (
                    f"fixing screw '{screw.name}': {hole.piece}/{hole.feature.name} lies "
                    f"{show(near, part.unit)} off the axis of {screw.into.piece}/"
                    f"{screw.into.feature.name}"
                )
                yield Fault(screw.place, what, "check the places of both holes", part.name)


def _beside(a: Vec, b: Vec, axis: int) -> float:
    """How far two axes along one direction lie apart [mm]."""
    return math.hypot(*(a[i] - b[i] for i in range(3) if i != axis))


def _proud(part: Part, joined: Joined) -> Iterator[Fault]:
    """What is left over past a face and no feature takes away; what is dimensioned from there."""
    filed = {cut.face for cut in filed_flush(part).values()}
    for face, out in sticks_out(part, joined).items():
        if out > SKIN and face not in filed:
            what = f"the pieces stand {show(out, part.unit)} proud of the {face} face"
            mend = f"file it: kind: flush, face: {face}, with: the piece that lies true"
            yield Fault(part.place, what, mend, part.name)
