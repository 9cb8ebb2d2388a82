"""Where the holes of a pattern lie: how each place is given, checked and drawn."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from barstock.drawing.build import AXES, Face, Part
from barstock.drawing.dimension_runs import CheckSort, End, EndKind
from barstock.drawing.questions import Located, Point, Ring, Spread
from barstock.methods.cuts import Check
from barstock.methods.dimension_forms import Form, position_check
from barstock.methods.places import in_face, level
from barstock.quantities import show

Placed = tuple[tuple[int, Form], ...]
"""How places are given, each along an axis."""

Spreads = tuple[tuple[int, Spread, float], ...]
"""How far apart those of a row lie along an axis, and the coordinate of its first."""


def placed(points: list[Point], part: Part, face: Face) -> tuple[Placed, Spreads]:
    """How the centres are given: of a row its first place, and how far apart the rest lie."""
    places: dict[tuple[int, str, float], tuple[int, Form]] = {}
    rows: dict[tuple[int, str, Spread], list[Located]] = {}
    for point in points:
        for axis, found in zip(in_face(face.axis), (point.u, point.v), strict=True):
            if found.spread is not None:
                rows.setdefault((axis, found.given_from, found.spread), []).append(found)
            else:
                _place(places, found, part, axis)
    spreads = []
    for (axis, _, spread), row in rows.items():
        _place(places, min(row, key=lambda one: one.dimension.nominal), part, axis)
        spreads.append((axis, spread, min(one.value for one in row)))
    return tuple(places.values()), tuple(spreads)


def _place(
    places: dict[tuple[int, str, float], tuple[int, Form]], found: Located, part: Part, axis: int
) -> None:
    form = place_form(found, part, axis)
    key = (axis, found.given_from, round(found.dimension.nominal, 6))
    if form is not None:
        places.setdefault(key, (axis, form))


def place_form(found: Located, part: Part, axis: int) -> Form | None:
    """How a place along an axis is given; None where it is plainly on the centre line."""
    check = position_check(found, axis, EndKind.HOLE)
    centre = found.given_from == "centre"
    origin = part.size[axis] / 2 if centre else level(part, Face(found.given_from))
    return None if check is None else Form("at", found.value, check, origin)


def on_circle(ring: Ring) -> str:
    """The note that stands beside the holes of a pitch circle."""
    text = ring.size.text or show(ring.size.nominal, ring.size.unit)
    return f", on a ⌀{text} circle" + (f" from {ring.start:g}°" if ring.start else "")


def place_checks(places: Placed, spreads: Spreads) -> list[Check]:
    """The checks of its places, numbered where several are given from the same side, and of how far
    apart they lie.
    """
    checks: list[Check] = []
    seen: Counter[str] = Counter()
    for check in (c for _, form in places for c in form.checks):
        seen[check.name] += 1
        times = seen[check.name]
        if times > 1:
            check = replace(check, name=f"{check.name} ({times})", nth=times)
        checks.append(check)
    for axis, spread, _ in spreads:
        other = EndKind.LAST_HOLE if spread.steps > 1 else EndKind.NEXT_HOLE
        runs = End(EndKind.HOLE, axis=axis), End(other, axis=axis)
        name = f"{spread.name} {AXES[axis]}"
        checks.append(Check(name, spread.size, CheckSort.POSITION, runs))
    return checks
