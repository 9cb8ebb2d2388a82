"""Work that stands on end between the jaws of a vise."""

from __future__ import annotations

from barstock.proving.holding.in_vise import InVise


class OnEnd(InVise):
    """Work held as any in a vise, with its end up."""

    name = "on end"


WAY = OnEnd()
