"""Drills' names and fits looked up in the handbook for whoever reads a size."""

from __future__ import annotations

from collections.abc import Callable

from barstock.quantities import Figure, Tables


def tables(general: Callable[[Figure], float] | None = None) -> Tables:
    """The handbook's tables, with the general tolerance for sizes that state no limits."""
    from barstock.handbook.drills import drill
    from barstock.handbook.fits import limits

    return Tables(drill, limits, general)
