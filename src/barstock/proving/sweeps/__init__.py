"""What each kind of move takes away. One file for each.

A kind is found by its module's `SWEEP`, so that a new kind of move is a new file here and nothing
else of the proof. What every one answers is in `move_sweep`.
"""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules

from barstock.proving.sweeps.move_sweep import MoveSweep
from barstock.route import Move

__all__ = ["SWEEPS", "sweep_of"]


def _sweeps() -> dict[type[Move], MoveSweep]:
    modules = (import_module(f"{__name__}.{found.name}") for found in iter_modules(__path__))
    sweeps: list[MoveSweep] = [module.SWEEP for module in modules if hasattr(module, "SWEEP")]
    return {sweep.move: sweep for sweep in sweeps}


SWEEPS = _sweeps()


def sweep_of(move: Move) -> MoveSweep:
    """What is known of a move's kind."""
    return SWEEPS[type(move)]
