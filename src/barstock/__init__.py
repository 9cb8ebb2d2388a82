"""The package barstock plans, proves and follows the making of small mechanisms from bar."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from barstock.api import (
        Planned,
        check,
        close,
        draw,
        fits,
        gauge,
        guarantees,
        limits,
        look,
        new,
        plan,
        prove,
        read,
        schema,
        sine,
        stack,
    )
    from barstock.errors import BarstockError

__version__ = "0.1.0"

__all__ = [
    "BarstockError",
    "Planned",
    "check",
    "close",
    "draw",
    "fits",
    "gauge",
    "guarantees",
    "limits",
    "look",
    "new",
    "plan",
    "prove",
    "read",
    "readable",
    "schema",
    "sine",
    "stack",
]


def __getattr__(name: str) -> Any:
    """The library's functions, brought in when first asked for."""
    if name not in __all__:
        raise AttributeError(f"module 'barstock' has no attribute {name!r}")
    if name == "BarstockError":
        from barstock import errors

        return errors.BarstockError
    from barstock import api

    return getattr(api, name)
