"""General tolerances, for dimensions that state no limits of their own.

Source: ISO 2768-1:1989, tables 1 (lengths), 2 (rounded and bevelled edges), 3 (angles). Typed from
memory, checked in tests against a published copy.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from barstock.handbook import general_geometry
from barstock.handbook.answer import Found
from barstock.quantities import Length, Unit, show

SOURCE = "ISO 2768-1:1989 tables 1 to 3"
MEMORY = True

CLASSES = {"f": "fine", "m": "medium", "c": "coarse", "v": "very coarse"}

# upper end of the range [mm]: tolerance either side [mm] in classes f, m, c, v
LENGTHS: dict[float, tuple[float | None, ...]] = {
    3: (0.05, 0.1, 0.2, None),
    6: (0.05, 0.1, 0.3, 0.5),
    30: (0.1, 0.2, 0.5, 1.0),
    120: (0.15, 0.3, 0.8, 1.5),
    400: (0.2, 0.5, 1.2, 2.5),
    1000: (0.3, 0.8, 2.0, 4.0),
    2000: (0.5, 1.2, 3.0, 6.0),
    4000: (None, 2.0, 4.0, 8.0),
}
EDGES: dict[float, tuple[float | None, ...]] = {
    3: (0.2, 0.2, 0.4, 0.4),
    6: (0.5, 0.5, 1.0, 1.0),
    4000: (1.0, 1.0, 2.0, 2.0),
}
# upper end of the shorter leg [mm]: tolerance either side [degrees]
ANGLES: dict[float, tuple[float | None, ...]] = {
    10: (1.0, 1.0, 1.5, 3.0),
    50: (0.5, 0.5, 1.0, 2.0),
    120: (20 / 60, 20 / 60, 0.5, 1.0),
    400: (10 / 60, 10 / 60, 0.25, 0.5),
    float("inf"): (5 / 60, 5 / 60, 10 / 60, 20 / 60),
}
_TABLES = {"length": LENGTHS, "edge": EDGES}


class GeneralLimitError(LookupError):
    """Raised for a size or class the general tolerance says nothing about."""


def general_limit(nominal: float, cls: str = "m", kind: str = "length") -> float:
    """The tolerance to either side of a size [mm].

    nominal [mm]; cls: f, m, c or v; kind: "length", or "edge" for radii and bevels.
    Raises GeneralLimitError below 0.5 mm (where the standard asks for stated limits; a plain 0,
    which is no size, counts as the smallest range), beyond the table, or for an unknown class.
    Source: ISO 2768-1 tables 1 and 2.

    >>> general_limit(25), general_limit(2, "m", "edge")
    (0.2, 0.2)
    """
    if kind not in _TABLES:
        raise GeneralLimitError(f"there is no general tolerance for '{kind}', only length or edge")
    size = abs(nominal)
    if 0 < size < 0.5:
        raise GeneralLimitError(
            f"ISO 2768-1 gives no limits for {Length(size):g}, which is under {Length(0.5):g}: "
            "state its limits"
        )
    return _find(_TABLES[kind], size, cls)


def general_angle_limit(shorter_leg: float, cls: str = "m") -> float:
    """The tolerance to either side of an angle [degrees]; shorter_leg: of the angle [mm].

    Raises GeneralLimitError. Source: ISO 2768-1 table 3.

    >>> general_angle_limit(10), general_angle_limit(40)
    (1.0, 0.5)
    """
    return _find(ANGLES, abs(shorter_leg), cls)


def _find(table: Mapping[float, tuple[float | None, ...]], size: float, cls: str) -> float:
    if cls not in CLASSES:
        raise GeneralLimitError(f"'{cls}' is no class of ISO 2768-1; write f, m, c or v")
    row = next((row for top, row in table.items() if size <= top), None)
    found = row[list(CLASSES).index(cls)] if row else None
    if found is None:
        raise GeneralLimitError(f"ISO 2768-{cls} gives no limits for {Length(size):g}: state them")
    return found


def find(word: str, unit: Unit) -> Iterator[Found]:
    """What `look` shows of ISO 2768, all classes or one."""
    asked = re.fullmatch(r"iso\s?2768(?:-1)?(?:[-\s]?([fmcv])([hkl])?)?", word.lower())
    if asked is None:
        return
    for cls in (asked[1],) if asked[1] else CLASSES:
        column = list(CLASSES).index(cls)
        rows = [
            (f"{name} up to {show(top, unit)}", f"±{show(limit, unit)}")
            for name, table in (("length", LENGTHS), ("radius or bevel", EDGES))
            for top, row in table.items()
            if (limit := row[column]) is not None
        ]
        for top, row in ANGLES.items():
            leg = f"up to {show(top, unit)}" if top < float("inf") else "longer"
            rows.append((f"angle, shorter leg {leg}", f"±{(row[column] or 0) * 60:.0f}'"))
        yield Found(f"ISO 2768-{cls}, {CLASSES[cls]}", tuple(rows), SOURCE, MEMORY)
    if asked[2]:
        yield general_geometry.shown(asked[2].upper(), unit)
