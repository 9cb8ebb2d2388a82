"""Vectors in a part's frame, added and multiplied."""

from __future__ import annotations

from barstock.drawing.faces import Vec


def dot(a: Vec, b: Vec) -> float:
    """The scalar product of two vectors."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vec, b: Vec) -> Vec:
    """The vector product of two vectors."""
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )


def plus(a: Vec, b: Vec, times: float = 1.0) -> Vec:
    """The vector a + times * b."""
    return (a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2])


def scaled(a: Vec, by: float) -> Vec:
    """The vector a times a number."""
    return (a[0] * by, a[1] * by, a[2] * by)
