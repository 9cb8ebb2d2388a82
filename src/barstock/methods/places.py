"""Where things lie on a part: the axes of a face, levels under it, and sections swept along it."""

from __future__ import annotations

from collections.abc import Sequence

from barstock.drawing.build import Face, Part, Vec
from barstock.drawing.general_tolerance import LEAST
from barstock.handbook.general_limits import general_limit
from barstock.quantities import Dimension
from barstock.solids.shapes import Solid, box, profile

PROUD = 1.0
"""How far a removed solid stands out of the material where it is open [mm]."""


def in_face(axis: int) -> tuple[int, int]:
    """The two axes that lie in a face square to `axis`, in order."""
    return ((1, 2), (0, 2), (0, 1))[axis]


def third(a: int, b: int) -> int:
    """The axis that is neither `a` nor `b`."""
    return 3 - a - b


def unit(axis: int, sign: int = 1) -> Vec:
    """The unit vector along `axis`."""
    return vec({axis: float(sign)})


def vec(values: dict[int, float]) -> Vec:
    """A vector from its components by axis; those not named are 0."""
    return (values.get(0, 0.0), values.get(1, 0.0), values.get(2, 0.0))


def moved(point: Vec, axis: int, to: float) -> Vec:
    """The point with its coordinate along `axis` changed [mm]."""
    return vec({0: point[0], 1: point[1], 2: point[2], axis: to})


def level(part: Part, face: Face, below: float = 0.0) -> float:
    """The coordinate along the face's axis of the plane `below` [mm] under it."""
    return (part.size[face.axis] if face.sign > 0 else 0.0) - face.sign * below


def below(part: Part, face: Face, coordinate: float) -> float:
    """How far under the face a coordinate along its axis lies [mm]."""
    return (level(part, face) - coordinate) * face.sign


def skin(part: Part, face: Face, depth: float) -> tuple[float, float]:
    """The span along the face's axis of the layer `depth` deep, standing proud of it [mm]."""
    floor, roof = level(part, face, depth), level(part, face, -PROUD)
    return (min(floor, roof), max(floor, roof))


def block(spans: dict[int, tuple[float, float]]) -> Solid:
    """A box from its span along each axis [mm]."""
    return box(
        (spans[0][0], spans[1][0], spans[2][0]),
        (spans[0][1], spans[1][1], spans[2][1]),
    )


Flat = tuple[float, float]


def swept(axis: int, pieces: Sequence[tuple[Flat, float]], low: float, high: float) -> Solid:
    """A closed section in the plane square to `axis`, swept from `low` to `high` along it [mm].

    pieces: (end point in the plane's two axes, bulge counter-clockwise from the first to the
    second); the first piece starts at the last one's end.
    """
    u, v = in_face(axis)
    # length x height looks along -width, the other two pairs look along their third axis
    start, along = (high, low - high) if axis == 1 else (low, high - low)
    points = [(vec({u: p[0], v: p[1], axis: start}), bulge) for p, bulge in pieces]
    return profile(points[-1][0], points, vec({axis: along}))


def rounded(
    low: Flat, high: Flat, radii: tuple[float, float, float, float]
) -> list[tuple[Flat, float]]:
    """The pieces of a rectangle with rounded corners, counter-clockwise.

    radii: at (low, low), (high, low), (high, high), (low, high) [mm].
    """
    (a, b), (c, d) = low, high
    quarter = 2**0.5 - 1  # tan(90 degrees / 4)
    r0, r1, r2, r3 = radii
    pieces = [
        ((a + r0, b), quarter if r0 else 0.0),
        ((c - r1, b), 0.0),
        ((c, b + r1), quarter if r1 else 0.0),
        ((c, d - r2), 0.0),
        ((c - r2, d), quarter if r2 else 0.0),
        ((a + r3, d), 0.0),
        ((a, d - r3), quarter if r3 else 0.0),
        ((a, b + r0), 0.0),
    ]
    # a corner without radius, or two that meet, would leave a piece without length
    kept, here = [], pieces[-1][0]
    for end, bulge in pieces:
        if abs(end[0] - here[0]) + abs(end[1] - here[1]) > 1e-7:
            kept.append((end, bulge))
            here = end
    return kept


def sharpest(radius: float, size: Dimension | None = None) -> float:
    """The least radius that will do for an inside corner [mm].

    size: as dimensioned. Where it states no limits, those of ISO 2768-1 table 2, class m, hold;
    below its least size those of that, but no more than half the radius.
    """
    if size is not None and size.stated:
        return size.low
    return max(radius - general_limit(max(radius, LEAST), "m", "edge"), radius / 2)
