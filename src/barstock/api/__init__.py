"""What barstock does, as functions: the command line and other programs call these.

`import barstock` brings the commonest; all take the folder of a build, and raise a `BarstockError`
(errors.py) that can be shown as it is.
"""

from __future__ import annotations

from barstock.api.builds import (
    LookedOver,
    Planned,
    check,
    compare,
    draw,
    fits,
    guarantees,
    limits,
    look,
    look_over,
    new,
    plan,
    prove,
    read,
    readable,
    route,
    schema,
    why,
    workshop_file,
)
from barstock.api.sums import axis, blocks, close, gauge, gauge_ways, sine, sine_of, stack

__all__ = [
    "LookedOver",
    "Planned",
    "axis",
    "blocks",
    "check",
    "close",
    "compare",
    "draw",
    "fits",
    "gauge",
    "gauge_ways",
    "guarantees",
    "limits",
    "look",
    "look_over",
    "new",
    "plan",
    "prove",
    "read",
    "readable",
    "route",
    "schema",
    "sine",
    "sine_of",
    "stack",
    "why",
    "workshop_file",
]
