"""A face filed flush: what stands proud of a fabrication's face, left over on a piece, is filed
away.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise, product
from math import hypot
from typing import Any, Literal

from pydantic import Field

from barstock.drawing.build import AXES, Face, Part
from barstock.drawing.dimension_runs import CheckSort, EndKind, over
from barstock.drawing.other_hands import ByHand, FeatureFields
from barstock.drawing.part import Joined
from barstock.drawing.pieces_reading import sticks_out
from barstock.drawing.questions import Ask
from barstock.methods.cuts import Check, FlushCut, Way
from barstock.methods.kind import Drawn, Kind
from barstock.methods.places import PROUD, block, in_face, level, vec
from barstock.quantities import show
from barstock.solids.shapes import Solid

SHARES = tuple(n / 12 for n in range(1, 12))
"""Where along a strip a spot is looked for."""

SKIN = 0.05
"""So far under a side there is metal where the side is [mm]."""

ROUND_IT = ((0.0, 0.0), (0.2, 0.0), (-0.2, 0.0), (0.0, 0.2), (0.0, -0.2))
"""About a spot the side is looked at for being whole [mm]."""

LEVEL = 0.005
"""A piece whose side lies within this of the face is what the rest is filed level with [mm]."""


class FlushFields(FeatureFields[ByHand]):
    """A face filed flush, as written."""

    kind: Literal["flush"] = Field("flush", description="What stands proud is filed flush.")
    face: Face = Field(description="The face of the whole that it is filed level with.")
    with_: str = Field(alias="with", description="The piece whose side is that face.")


@dataclass(frozen=True)
class Flush:
    """Everything proud of `face` goes; `spot`, in the face's two axes, lies on the piece it is
    filed level with. proud: by how much it stands out [mm]; metal: how much that is [mm3]."""

    face: Face
    spot: tuple[float, float]
    proud: float
    metal: float


class FlushKind(Kind):
    """The kind of a face filed flush."""

    name = "flush"
    filed = True
    summary = "What is left over past a face of a fabrication, filed level with a piece."
    fields: type[FeatureFields[Any]] = FlushFields

    def resolve(self, fields: FlushFields, part: Part, ask: Ask) -> Flush | None:
        """The filing in millimetres, or None after reporting what is wrong."""
        face, joined = fields.face, part.joined
        if joined is None:
            what = "only a fabrication is filed flush: a part has nothing left over"
            ask.fault(None, what, "leave it out")
            return None
        names = [piece.name for piece in joined.pieces]
        if fields.with_ not in names:
            ask.fault("with", f"there is no piece '{fields.with_}' here", f"one of {names}")
            return None
        low, high = joined.piece(fields.with_).box
        off = abs((high if face.sign > 0 else low)[face.axis] - level(part, face))
        if off > LEVEL:
            what = (
                f"the {face} of '{fields.with_}' lies {show(off, part.unit)} off "
                f"the {face} face that the {AXES[face.axis]} gives"
            )
            ask.fault("with", what, "name the piece whose side is the finished face")
            return None
        proud = sticks_out(part, joined)[face]
        if proud <= LEVEL:
            ask.fault("face", f"nothing stands proud of the {face}", "leave it out")
            return None
        spot = _clear_spot(face, fields.with_, joined)
        if spot is None:
            what = f"'{fields.with_}' shows no surface on the {face} beside what stands proud"
            ask.fault("with", what, "name a piece that shows there")
            return None
        return Flush(face, spot, proud, _metal_beyond(face, level(part, face), joined))

    def removes(self, spec: Flush, part: Part) -> Solid:
        """All that stands proud of the face."""
        low, high = part.raw
        spans = {i: (low[i] - PROUD, high[i] + PROUD) for i in range(3)}
        ends = (level(part, spec.face), level(part, spec.face, -spec.proud - PROUD))
        spans[spec.face.axis] = (min(ends), max(ends))
        return block(spans)

    def drawn(self, spec: Flush, part: Part) -> list[Drawn]:
        """It has no dimension of its own: the overall size says it."""
        return []

    def ways(self, spec: Flush, part: Part) -> list[Way]:
        """It is filed, whatever stands proud."""
        axis = spec.face.axis
        others = [f for f in part.features if f.kind == self.name and f.spec.face.axis == axis]
        last = not others or others[-1].spec == spec
        name = AXES[axis]
        runs = over(axis, EndKind.FILED_FACE)
        check = Check(name, part.dimension(axis), CheckSort.OUTSIDE, runs)
        checks = (check,) if last else ()
        return [Way("filed", (FlushCut(spec.face, spec.spot, spec.proud, spec.metal, checks),))]


def _metal_beyond(face: Face, at: float, joined: Joined) -> float:
    """How much of the pieces, taken as boxes, stands out past a level of a face [mm3]."""
    u, v = in_face(face.axis)
    found = 0.0
    for low, high in (piece.box for piece in joined.pieces):
        end = (high if face.sign > 0 else low)[face.axis]
        out = min((end - at) * face.sign, high[face.axis] - low[face.axis])
        found += max(0.0, out) * (high[u] - low[u]) * (high[v] - low[v])
    return found


def _clear_spot(face: Face, piece: str, joined: Joined) -> tuple[float, float] | None:
    """A place near the middle of the widest strip of a piece's side that nothing stands out beyond,
    where the piece has metal: beside its holes.
    """
    from barstock.methods.joined_metal import metal_of  # which knows every kind, and so this one

    u, v = in_face(face.axis)
    one = joined.piece(piece)
    metal, (low, high) = metal_of(replace(joined, pieces=(one,))), one.box
    side, boxes = (1 if face.sign > 0 else 0), [p.box for p in joined.pieces if p.name != piece]
    own = (low, high)[side][face.axis]
    others = [box for box in boxes if (box[side][face.axis] - own) * face.sign > LEVEL]
    lines = [sorted({low[i], high[i], *(e[i] for box in others for e in box)}) for i in (u, v)]
    strips = []
    for a, b in pairwise(lines[0]):
        for c, d in pairwise(lines[1]):
            middle = ((a + b) / 2, (c + d) / 2)
            inside = low[u] < middle[0] < high[u] and low[v] < middle[1] < high[v]
            covered = any(
                lo[u] < middle[0] < hi[u] and lo[v] < middle[1] < hi[v] for lo, hi in others
            )
            if inside and not covered:
                strips.append(((b - a) * (d - c), (a, b), (c, d)))
    under = own - face.sign * SKIN
    for _, (a, b), (c, d) in sorted(strips, reverse=True):
        for s, t in sorted(product(SHARES, SHARES), key=lambda at: hypot(at[0] - 0.5, at[1] - 0.5)):
            spot = (a + s * (b - a), c + t * (d - c))
            about = ((spot[0] + x, spot[1] + y) for x, y in ROUND_IT)
            if all(metal(vec({u: x, v: y, face.axis: under})) for x, y in about):
                return spot
    return None


KIND = FlushKind()
