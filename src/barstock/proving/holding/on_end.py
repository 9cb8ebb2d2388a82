"""Work that stands on end between the jaws of a vise."""

from __future__ import annotations

from barstock.proving.holding.in_vise import InVise


class OnEnd(InVise):
    """As any work in a vise; its end is up."""

    name = "on end"


WAY = OnEnd()
