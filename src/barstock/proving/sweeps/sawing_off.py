"""The sweep of sawing a bar across into pieces: each then goes its own way, so that nothing is
swept here.
"""

from __future__ import annotations

from barstock.proving.sweeps.move_sweep import MoveSweep
from barstock.route import SawOff


class SawingOff(MoveSweep):
    """The sweep of sawing off."""

    move = SawOff


SWEEP = SawingOff()
