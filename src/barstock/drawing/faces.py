"""The six faces of a part and the axes they are square to."""

from __future__ import annotations

from enum import StrEnum

Vec = tuple[float, float, float]


class Face(StrEnum):
    """The six faces of a part. `left` and `right` are the sawn ends, the rest run along the bar."""

    LEFT = "left"
    RIGHT = "right"
    FRONT = "front"
    BACK = "back"
    BOTTOM = "bottom"
    TOP = "top"

    __hash__ = str.__hash__  # an Enum's own is many times slower, and faces key many tables

    @property
    def axis(self) -> int:
        """The axis that the face is square to: 0, 1, 2 for length, width, height."""
        return _AXIS[self]

    @property
    def sign(self) -> int:
        """The side it is on: +1 where the outward normal points along its axis, -1 against it."""
        return _SIGN[self]

    @property
    def normal(self) -> Vec:
        """Outward unit normal in the part's frame."""
        return _NORMAL[self]

    @property
    def opposite(self) -> Face:
        """The face across the part."""
        return _OPPOSITE[self]

    @staticmethod
    def of(axis: int, sign: int) -> Face:
        """The face square to `axis` on the `sign` side."""
        return _FACES[2 * axis + (sign > 0)]


AXES = ("length", "width", "height")

# Asked for hundreds of thousands of times while planning: looked up, not worked out.
_FACES = tuple(Face)
_OPPOSITE = {face: _FACES[n ^ 1] for n, face in enumerate(Face)}
_AXIS = {face: n // 2 for n, face in enumerate(Face)}
_SIGN = {face: 1 if n % 2 else -1 for n, face in enumerate(Face)}
_NORMAL: dict[Face, Vec] = {
    Face.LEFT: (-1.0, 0.0, 0.0),
    Face.RIGHT: (1.0, 0.0, 0.0),
    Face.FRONT: (0.0, -1.0, 0.0),
    Face.BACK: (0.0, 1.0, 0.0),
    Face.BOTTOM: (0.0, 0.0, -1.0),
    Face.TOP: (0.0, 0.0, 1.0),
}
