"""The general tolerance: what holds for dimensions that state no limits of their own."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from barstock.quantities import Figure, SizeError, Unit, parse_angle, parse_length
from barstock.reading.faults import Fault, Place, nearest
from barstock.reading.nodes import Entry, Node, Table, Text

STANDARD = "ISO 2768-m"
"""What holds where the build says nothing."""

ANGLE = 1.0
"""Either way on an angle where the rule gives none [degrees]. Source: ISO 2768-1 table 3, classes
f and m, shorter leg up to 10 mm (from memory)."""

HOW = "write 'ISO 2768-m' (or f, c, v), '±0.1', or figures by decimal places {.x: ±0.2, .xx: ±0.05}"

_ISO = re.compile(r"ISO\s*2768(?:-1)?\s*[-: ]?\s*([fmcv])[HKL]?$", re.I)
_PLACES = {"whole": 0, ".x": 1, ".xx": 2, ".xxx": 3, ".xxxx": 4, "fraction": None}


@dataclass(frozen=True)
class General:
    """A general tolerance. unit: of the figures it was made for; None suits any.

    length: a figure -> tolerance to either side [mm]; raises LookupError with what it lacks.
    angle: an angle's shorter leg [mm] -> the same in degrees. edge: a figure -> the same for radii
    and bevels, where they have a rule of their own.
    """

    text: str
    length: Callable[[Figure], float]
    angle: Callable[[float], float]
    unit: Unit | None = None
    edge: Callable[[Figure], float] | None = None


def read_general(entry: Entry, unit: Unit) -> tuple[General | None, list[Fault]]:
    """The rule written in a build or a part, and what is wrong with it."""
    node = entry.value
    if isinstance(node, Table):
        return _by_places(node, unit)
    text = " ".join(node.text.split()) if isinstance(node, Text) else ""
    iso = _ISO.match(text)
    if iso:
        return iso_class(iso[1].lower()), []
    try:
        either_way = _either_way(text, unit)
    except SizeError:
        what = f"'{text}' is no general tolerance" if text else "the general tolerance is missing"
        return None, [Fault(node.place, what, HOW)]
    return General(text, lambda _: either_way, lambda _: ANGLE), []


def iso_class(letter: str) -> General:
    """The general tolerance of ISO 2768-1 class f, m, c or v."""
    from barstock.handbook.general_limits import general_angle_limit, general_limit

    def length(figure: Figure) -> float:
        # a place at the face itself is no size
        return general_limit(figure.value, letter) if figure.value else 0.0

    return General(
        f"ISO 2768-{letter}",
        length,
        lambda leg: general_angle_limit(leg, letter),
        edge=lambda figure: general_limit(figure.value, letter, "edge"),
    )


def _by_places(table: Table, unit: Unit) -> tuple[General | None, list[Fault]]:
    faults: list[Fault] = []
    by_places: dict[int | None, float] = {}
    angle = ANGLE
    for name, entry in table.entries.items():
        word = name.strip().lower().removesuffix("s")
        try:
            if word == "angle":
                angle = parse_angle(_bare(entry.value)).nominal
            elif word in _PLACES:
                by_places[_PLACES[word]] = _either_way(_bare(entry.value), unit)
            else:
                mend = nearest(name, [*_PLACES, "angle"])
                faults.append(Fault(entry.place, f"'{name}' is no number of places", mend))
        except SizeError as wrong:
            faults.append(Fault(entry.value.place, wrong.what, "write it like ±0.1"))
    if not by_places and not faults:
        faults.append(Fault(table.place, "the general tolerance is missing", HOW))

    def length(figure: Figure) -> float:
        if figure.places in by_places:
            return by_places[figure.places]
        places = "fractions" if figure.places is None else f"{figure.places} decimal places"
        raise LookupError(f"the general tolerance has no figure for {places}: state the limits")

    text = ", ".join(f"{name} {_bare(e.value)}" for name, e in table.entries.items())
    return None if faults else General(text, length, lambda _: angle, unit), faults


def _bare(node: Node) -> str:
    return re.sub(r"^(?:±|\+\s*/?\s*-)\s*", "", node.text.strip()) if isinstance(node, Text) else ""


def _either_way(text: str, unit: Unit) -> float:
    size = parse_length(_bare(Text(Place("", 0, 0), text)), unit)
    if size <= 0:
        raise SizeError(f"'{text}' is no tolerance", HOW)
    return size
