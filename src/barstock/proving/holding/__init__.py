"""Is the work held, and what stands about it? One file for each way of holding it.

A way is found by its module's `WAY`, so that a new way is a new file here and nothing else. What
every way answers is in `demands`.
"""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules

from barstock.proving.holding.demands import Demands
from barstock.route import Holding

__all__ = ["WAYS", "way_of"]


def _ways() -> dict[str, Demands]:
    modules = (import_module(f"{__name__}.{found.name}") for found in iter_modules(__path__))
    ways: list[Demands] = [module.WAY for module in modules if hasattr(module, "WAY")]
    return {way.name: way for way in ways}


WAYS: dict[str, Demands] = _ways()


def way_of(holding: Holding) -> Demands:
    """The way a work is held. Raises ValueError where the proof does not know it."""
    if holding.way not in WAYS:
        raise ValueError(f"the proof knows no way of holding work called '{holding.way}'")
    return WAYS[holding.way]
