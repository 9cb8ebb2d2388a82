"""General tolerances of ISO 2768-2 for form, squareness, symmetry and run-out.

Source: ISO 2768-2:1989 tables 1 to 4 (withdrawn in 2021, still on many drawings), mm. Typed from
memory, checked in tests against tables printed elsewhere.
"""

from __future__ import annotations

from barstock.handbook.answer import Found
from barstock.quantities import Unit, show

SOURCE = "ISO 2768-2:1989 tables 1 to 4"
MEMORY = True

CLASSES = ("H", "K", "L")

# what: upper end of the nominal length [mm]: width of the tolerance in classes H, K, L [mm]
TABLES: dict[str, dict[float, tuple[float, float, float]]] = {
    "straight and flat": {
        10: (0.02, 0.05, 0.1), 30: (0.05, 0.1, 0.2), 100: (0.1, 0.2, 0.4), 300: (0.2, 0.4, 0.8),
        1000: (0.3, 0.6, 1.2), 3000: (0.4, 0.8, 1.6),
    },
    "square, shorter side": {
        100: (0.2, 0.4, 0.6), 300: (0.3, 0.6, 1.0), 1000: (0.4, 0.8, 1.5), 3000: (0.5, 1.0, 2.0),
    },
    "symmetrical": {
        100: (0.5, 0.6, 0.6), 300: (0.5, 0.6, 1.0), 1000: (0.5, 0.8, 1.5), 3000: (0.5, 1.0, 2.0),
    },
}  # fmt: skip

RUN_OUT = (0.1, 0.2, 0.5)
"""Circular run-out in classes H, K, L [mm]."""


def shown(cls: str, unit: Unit) -> Found:
    """What `look` shows of a class: H, K or L."""
    column = CLASSES.index(cls)
    rows = [
        (f"{what} up to {show(top, unit)}", show(widths[column], unit))
        for what, table in TABLES.items()
        for top, widths in table.items()
    ]
    rows.append(("circular run-out", show(RUN_OUT[column], unit)))
    return Found(f"ISO 2768-2 {cls}, form and position", tuple(rows), SOURCE, MEMORY)
