"""Dimensions as the kinds place them on the sheet."""

from __future__ import annotations

from barstock.drawing.build import Vec
from barstock.methods.dimension_forms import Form
from barstock.methods.kind import Drawn
from barstock.methods.places import moved

VIEWS = ("side", "front", "top")
"""The view that looks along each axis."""


def view_along(axis: int) -> str:
    """The view that looks along `axis`."""
    return VIEWS[axis]


def across(
    form: Form, view: str, here: Vec, axis: int, to: float, *, hollow: bool = False
) -> list[Drawn]:
    """A straight dimension from a point along `axis` to the coordinate `to`; none on a centre."""
    return [
        Drawn(check.name, check.dimension, view, here, moved(here, axis, to), hollow=hollow)
        for check in form.checks
        if here[axis] != to
    ]
