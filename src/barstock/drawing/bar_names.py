"""What the bar asks for besides the drawing (faces, ends, sawing) goes by names of its own.

They give way to the names that the user wrote for features: beside a slot called `left end`, the
end of the bar is the `bar left end`.
"""

from __future__ import annotations

from collections.abc import Container

from barstock.drawing.build import Face


def face_name(face: Face, features: Container[str]) -> str:
    """The name of a long face that is brought to size, among the names of a part's features.

    >>> face_name(Face.TOP, ["slot"]), face_name(Face.TOP, ["face top"])
    ('face top', 'bar face top')
    """
    return _free(f"face {face}", features)


def end_name(face: Face, features: Container[str]) -> str:
    """The name of a sawn end that is squared.

    >>> end_name(Face.LEFT, [])
    'left end'
    """
    return _free(f"{face} end", features)


def sawing_name(features: Container[str]) -> str:
    """The name of the sawing of pieces from their bar.

    >>> sawing_name(["saw", "bar saw"])
    'bar bar saw'
    """
    return _free("saw", features)


def _free(name: str, features: Container[str]) -> str:
    return name if name not in features else _free(f"bar {name}", features)
