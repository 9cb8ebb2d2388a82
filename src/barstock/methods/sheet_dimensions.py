"""Dimensions as the kinds place them on the sheet."""

from __future__ import annotations

from barstock.drawing.build import Vec
from barstock.methods.dimension_forms import Form
from barstock.methods.kind import Drawn
from barstock.methods.places import moved


def view_along(axis: int) -> str:
    """The view that looks along `axis`."""
    return ("side", "front", "top")[axis]


def across(form: Form, view: str, here: Vec, axis: int, to: float) -> list[Drawn]:
    """A straight dimension from a point along `axis` to the coordinate `to`; none on a centre."""
    return [
        Drawn(check.name, check.dimension, view, here, moved(here, axis, to))
        for check in form.checks
    ]
