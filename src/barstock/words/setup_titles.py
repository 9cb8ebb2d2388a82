"""The titles of setups: what each is for, in words."""

from __future__ import annotations

from barstock.quantities import counted
from barstock.route import Setup

MOST = 3
"""Features named at most."""


def setup_title(setup: Setup) -> str:
    """The title of a setup: what is worked on; of one kept from an earlier route, what is left of
    it too.
    """
    names = list(dict.fromkeys(name for o in setup.operations for name in o.features))
    if len(names) > MOST:
        names = [*names[:MOST], f"{len(names) - MOST} more"]
    title = ", ".join(names) or f"saw {counted(setup.pieces, 'piece')}"
    if setup.left is None:
        return title
    return f"{title}, {_left(setup.left, setup.copies)}"


def _left(left: int, copies: int) -> str:
    return f"left to do on {left} of {copies}" if left else "done"
