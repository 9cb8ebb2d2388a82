"""Feature kinds, one file each: fields, shape, dimensions, ways of being made.

A kind is found by its module's `KIND`, so that a new kind is a new file here and nothing else.
"""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules

from barstock.methods.kind import Kind

__all__ = ["KINDS"]


def _kinds() -> dict[str, Kind]:
    modules = (import_module(f"{__name__}.{found.name}") for found in iter_modules(__path__))
    kinds: list[Kind] = [module.KIND for module in modules if hasattr(module, "KIND")]
    return {kind.name: kind for kind in kinds}


KINDS: dict[str, Kind] = _kinds()
