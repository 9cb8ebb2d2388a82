"""The general tolerance: what holds for dimensions that state no limits of their own."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from barstock.drawing.tolerance_rows import Row, either_way, read_rows, written_rows
from barstock.quantities import Figure, Length, SizeError, Unit
from barstock.reading.faults import Fault, Place
from barstock.reading.nodes import Entry, Text
from barstock.reading.sizes import Rule

STANDARD = "ISO 2768-m"
"""What holds where the build says nothing."""

ANGLE = 1.0
"""Either way on an angle where the rule gives none [degrees]. Source: ISO 2768-1 table 3, classes
f and m, shorter leg up to 10 mm (from memory)."""

LEAST = 0.5
"""Sizes below this have no limits in ISO 2768-1 [mm]."""

HOW = (
    "write 'ISO 2768-m' (or f, c, v), '±0.1', or figures by decimal places {.x: ±0.2, .xx: ±0.05} "
    "or by size {up to 30: ±0.1, 30 to 120: ±0.2}"
)

_ISO = re.compile(
    r"(?:(?:DIN |BS )?(?:EN )?(?:ISO\s*2768|22768)|DIN\s*7168)(?:-1)?\s*[-: ]?\s*(?:class\s)?"
    r"(very coarse|coarse|medium|fine|[fmcv])[HKL]?$",
    re.I,
)


@dataclass(frozen=True)
class General:
    """A general tolerance. unit: of the figures it was made for; None suits any.

    length: a figure -> tolerance to either side, or both deviations [mm]; raises LookupError with
    what it lacks.
    angle: an angle's shorter leg [mm] -> the same in degrees. edge: a figure -> the same for radii
    and bevels, where they have a rule of their own. lacking: what was asked of it that it does not
    say, once all is read.
    """

    text: str
    length: Rule
    angle: Callable[[float], float]
    unit: Unit | None = None
    edge: Rule | None = None
    lacking: Callable[[], list[Fault]] = list


def read_general(entry: Entry, unit: Unit) -> tuple[General | None, list[Fault]]:
    """The rule written in a build or a part, and what is wrong with it."""
    node = entry.value
    rows = list(written_rows(node))
    if rows:
        return _by_rows(rows, node.place, unit)
    text = " ".join(node.text.split()) if isinstance(node, Text) else ""
    iso = _ISO.match(text)
    if iso:
        return iso_class(iso[1][0].lower(), node.place), []
    try:
        limit = either_way(text, unit)
    except SizeError:
        what = f"'{text}' is no general tolerance" if text else "the general tolerance is missing"
        return None, [Fault(node.place, what, HOW)]
    return General(text, _sized(lambda _: limit), lambda _: ANGLE), []


def iso_class(letter: str, place: Place) -> General:
    """The general tolerance of ISO 2768-1 class f, m, c or v; place: where it is asked for."""
    from barstock.handbook.general_limits import general_angle_limit, general_limit

    small: list[Figure] = []

    def rule(kind: str) -> Rule:
        def limit(figure: Figure) -> float:
            size = abs(figure.value)
            if size >= LEAST:
                return general_limit(size, letter, kind)
            small.append(figure)
            return min(general_limit(LEAST, letter, kind), size / 2)

        return _sized(limit)

    def lacking() -> list[Fault]:
        what = (
            f"ISO 2768-1 gives no limits for sizes under {Length(LEAST):g}, of which here "
            f"{'is one' if len(small) == 1 else f'are {len(small)}'}; those of "
            f"{Length(LEAST):g}, but no more than half the size, are taken"
        )
        return [Fault(place, what, "state their limits", grade="lacking")] if small else []

    return General(
        f"ISO 2768-{letter}",
        rule("length"),
        lambda leg: general_angle_limit(leg, letter),
        edge=rule("edge"),
        lacking=lacking,
    )


def _by_rows(written: list[Row], place: Place, unit: Unit) -> tuple[General | None, list[Fault]]:
    rows, faults = read_rows(written, unit)
    if faults:
        return None, faults
    others = rows.others
    edges = others.get("bevels")
    text = ", ".join(f"{row.word} {row.signed}" for row in written)
    general = General(
        text,
        _sized(rows.length),
        lambda _: others.get("angles", ANGLE),
        unit if rows.places else None,
        edge=None if edges is None else _sized(lambda _: edges),
        lacking=lambda: rows.lacking(place),
    )
    return general, []


def _sized(rule: Rule) -> Rule:
    """The rule, which does not hold for a place at the face itself: that is no size."""
    return lambda figure: rule(figure) if figure.value else 0.0
