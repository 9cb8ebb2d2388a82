"""Work in a vise that is slid under the spindle of a drill press: each drill finds its spot."""

from __future__ import annotations

from barstock.proving.holding.in_vise import InVise
from barstock.workshop.shop import MachineKind


class OnPress(InVise):
    """Work held as in a vise on the mill, but that nothing sets a place: only the
    depth has a zero.
    """

    name = "drill press"
    machines = frozenset({MachineKind.DRILL_PRESS})
    zeros = ""


WAY = OnPress()
