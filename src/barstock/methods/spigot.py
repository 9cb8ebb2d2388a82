"""A round piece of a fabrication that stands in a hole of another."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from math import dist, pi

from barstock.drawing.build import Face, Fault, Part, Vec
from barstock.drawing.part import Form, Joined, Joint, Piece
from barstock.methods.feature_cuts import hole_of
from barstock.methods.places import level
from barstock.quantities import show
from barstock.solids.shapes import Solid, cylinder

SKIN = 0.02
"""How thin a layer of the spigot stands for the joint [mm]."""
STANDS = 0.5
"""Least depth that a spigot stands in its hole, in its diameters, to stand true and to hold. Common
practice."""


@dataclass(frozen=True)
class Spigot:
    """A spigot in its hole: inner stands in the hole `hole` of outer, which opens to the side
    `mouth` of the whole.

    entry: the middle of that mouth; end: of the spigot's end in the hole; across: the spigot's
    diameter; bore: the hole's; below: from the spigot's end to the hole's floor, or to where it
    comes out [mm].
    """

    inner: str
    outer: str
    hole: str
    mouth: Face
    entry: Vec
    end: Vec
    across: float
    bore: float
    below: float
    through: bool

    @property
    def deep(self) -> float:
        """How deep it stands in [mm]."""
        return dist(self.entry, self.end)

    @property
    def area(self) -> float:
        """The area of the ring that is soldered [mm2]."""
        return pi * self.across * self.deep

    @property
    def feeds(self) -> tuple[Face, ...]:
        """The sides that filler may be put to."""
        return (self.mouth, self.mouth.opposite) if self.through else (self.mouth,)

    @property
    def bounds(self) -> tuple[Vec, Vec]:
        """The corners of the block about what stands in the hole."""
        half = [0.0 if i == self.mouth.axis else self.across / 2 for i in range(3)]
        both = list(zip(self.entry, self.end, half, strict=True))
        low, high = [min(a, b) - h for a, b, h in both], [max(a, b) + h for a, b, h in both]
        return (low[0], low[1], low[2]), (high[0], high[1], high[2])

    def filled(self) -> Solid:
        """The whole of the hole that the spigot stands in: its metal, and the filler round it."""
        return cylinder(self.entry, self.mouth.opposite.normal, self.bore / 2, self.deep)

    def skin(self) -> Solid:
        """A thin layer of the spigot's metal all round."""
        n = self.mouth.opposite.normal
        whole, core = (
            cylinder(self.entry, n, self.across / 2 - less, self.deep) for less in (0.0, SKIN)
        )
        return whole.cut(core)


@lru_cache(maxsize=64)
def spigot_of(joint: Joint, joined: Joined) -> Spigot | None:
    """How one piece of a joint stands in the other; None where no round one does."""
    if joint.form is not Form.SPIGOT:
        return None
    first, second = (joined.piece(name) for name in joint.pieces)
    ways = [*_ways(first, second), *_ways(second, first)]
    return max(ways, key=lambda way: way.deep, default=None)


def _ways(outer: Piece, inner: Piece) -> Iterator[Spigot]:
    if not inner.part.round:
        return
    low, high = inner.box
    axis = inner.looking(Face.RIGHT).axis
    middle = [(a + b) / 2 for a, b in zip(low, high, strict=True)]
    for feature in outer.part.features:
        bore = hole_of(feature, outer.part)
        if bore is None or outer.looking(bore.face).axis != axis:
            continue
        face, mouth = bore.face, outer.looking(bore.face)
        for at in bore.at:
            entry = list(outer.at(at))
            aside = dist(*([p[i] for i in range(3) if i != axis] for p in (entry, middle)))
            end = list(entry)
            end[axis] = (low if mouth.sign > 0 else high)[axis]
            deep = (entry[axis] - end[axis]) * mouth.sign
            if aside > bore.diameter / 2 or deep <= SKIN or bore.diameter < inner.part.size[1]:
                continue
            room = abs(at[face.axis] - level(outer.part, face.opposite))
            yield Spigot(
                inner.name,
                outer.name,
                feature.name,
                mouth,
                (entry[0], entry[1], entry[2]),
                (end[0], end[1], end[2]),
                inner.part.size[1],
                bore.diameter,
                (room if bore.through else bore.depth) - deep,
                bore.through,
            )


def spigot_faults(part: Part, joint: Joint, joined: Joined) -> Iterator[Fault]:
    """A round piece that stands in no hole, hangs in it, or stands too little in it."""
    pieces = [joined.piece(name) for name in joint.pieces]
    if joint.form is not Form.SPIGOT or not any(piece.part.round for piece in pieces):
        return
    found, unit = spigot_of(joint, joined), part.unit
    about = f"joint '{joint.name}': "
    if found is None:
        what = f"{about}no round piece of the two stands in a hole of the other that takes it"
        yield Fault(joint.place, what, "check hole, diameter and places", part.name)
        return
    least = STANDS * found.across
    if found.deep < least - SKIN:
        what = (
            f"{about}'{found.inner}' stands {show(found.deep, unit)} deep in {found.outer}/"
            f"{found.hole}; half of its diameter, {show(least, unit)}, is the least to hold"
        )
        yield Fault(joint.place, what, "make the hole deeper", part.name, grade="warning")
    if found.below > SKIN:
        floor = "the far side of" if found.through else "the floor of"
        what = (
            f"{about}'{found.inner}' ends {show(found.below, unit)} above {floor} {found.outer}/"
            f"{found.hole}, and would drop there while the filler runs"
        )
        mend = "let it stand on the floor, or flush with the far side"
        yield Fault(joint.place, what, mend, part.name, grade="warning")
    elif not found.through:
        what = (
            f"{about}{found.outer}/{found.hole} is blind: what the flux gives off drives the "
            "filler out again"
        )
        mend = f"let it out: a hole right through, or a small flat filed along '{found.inner}'"
        yield Fault(joint.place, what, mend, part.name, grade="warning")
