"""How the work is held, in words. One file for each way of holding it, or for a few that are alike.

A way is found by its module's `WAYS`; one without words of its own is told by its bodies and jaws.
"""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules

from barstock.route import Setup
from barstock.words.holding.way_in_words import WayInWords
from barstock.words.lines import Line
from barstock.words.reader import Reader

__all__ = ["held_words", "setting_up"]


def _ways() -> dict[str, WayInWords]:
    modules = (import_module(f"{__name__}.{found.name}") for found in iter_modules(__path__))
    return {name: way for module in modules for name, way in getattr(module, "WAYS", {}).items()}


WAYS = _ways()


def _way(setup: Setup) -> WayInWords:
    return WAYS.get(setup.holding.way) or WayInWords()


def held_words(setup: Setup, reader: Reader) -> tuple[tuple[str, str], ...]:
    """How the work is held, as (label, words) pairs."""
    return tuple(_way(setup).held(setup, reader))


def setting_up(setup: Setup, reader: Reader) -> tuple[Line, ...]:
    """What is done to set the holding up, line by line."""
    return tuple(_way(setup).steps(setup, reader))
