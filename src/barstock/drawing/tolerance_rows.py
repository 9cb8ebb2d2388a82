"""The rows of a general tolerance that a drawing gives by decimal places or by size."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from math import inf

from barstock.quantities import (
    Figure,
    Length,
    SizeError,
    Unit,
    parse_angle,
    parse_dimension,
    parse_length,
)
from barstock.reading.faults import Fault, Place, nearest
from barstock.reading.nodes import Listing, Node, Table, Text

WHOLE = 0
"""The decimal places of whole numbers."""

_WORDS = {
    "whole": "whole numbers, whole, integers, integer, no decimals",
    "fractions": "fractions, fraction, fractional",
    "angles": "angles, angle, angular, angularity",
    "all": "all, linear, lengths, length, dimensions, sizes, others, decimals",
    "bevels": "bevels, edges, edge, radii, radius, chamfers, chamfer",
    "drills": "drills, drilled holes, drilled, holes, hole",
}
_MEANT = {word: ours for ours, words in _WORDS.items() for word in words.split(", ")}
_COUNTS = ("no", "one", "two", "three", "four", "five")

_PLACES = re.compile(r"[x0]?\.([x0]{1,6})$|([x0])\.?$")
_COUNTED = re.compile(rf"(\d|{'|'.join(_COUNTS)})[- ](?:(?:decimals?|places?)[- ]?){{1,2}}$")
_UP_TO = re.compile(
    r"(?:(?:up to|under|below|to)\s|(?:over |above |from )?(\S+?)\s*(?:to|-|…)\s*)(\S+)$"
)
_OVER = re.compile(r"(?:over|above|from) (\S+)$")
_ROW = re.compile(r"(.+?)\s*[:=]?\s*((?:±|\+).+)$")
_SIGN = re.compile(r"^(?:±|\+\s*/?\s*-)\s*")


@dataclass(frozen=True)
class Row:
    """One row as written: what it is for, how much, and where that stands."""

    word: str
    limit: str
    place: Place

    @property
    def bare(self) -> str:
        """How much, without its sign."""
        return _SIGN.sub("", self.limit.strip())

    @property
    def signed(self) -> str:
        """How much, with its sign: ± but where both are written."""
        return self.limit.strip() if self.bare.startswith("+") else f"±{self.bare}"


@dataclass
class Rows:
    """What a drawing's rows say [mm, degrees].

    places: by decimal places, None those of fractions. sizes: from over one size up to another.
    drilled: lower and upper deviation of holes named by their drill. unsaid: the decimal places
    asked for that no row is for, and how often.
    """

    places: dict[int | None, float] = field(default_factory=dict)
    sizes: list[tuple[float, float, float]] = field(default_factory=list)
    others: dict[str, float] = field(default_factory=dict)
    drilled: tuple[float, float] | None = None
    unsaid: dict[int | None, int] = field(default_factory=dict)

    def length(self, figure: Figure) -> float | tuple[float, float]:
        """The tolerance of a size to either side, or its deviations [mm]. Raises LookupError.

        Of places that no row is for, the next finer row holds, of more places than any the finest.
        """
        size = abs(figure.value)
        if figure.named:
            return self.drilled or _drilled(size)
        by_size = [limit for low, high, limit in self.sizes if low < size <= high]
        if by_size:
            return min(by_size)
        if figure.places in self.places:
            return self.places[figure.places]
        if "all" in self.others:
            return self.others["all"]
        if not self.places:
            raise LookupError(
                f"the general tolerance has no row for {Length(size):g}: state the limits"
            )
        if figure.places == WHOLE and figure.unit is Unit.INCH and None in self.places:
            return self.places[None]  # whole inches go with fractions, common practice
        self.unsaid[figure.places] = self.unsaid.get(figure.places, 0) + 1
        return self.places[self.instead(figure.places)]

    def instead(self, places: int | None) -> int | None:
        """The row that holds for decimal places that none is for."""
        decimals = sorted(each for each in self.places if each is not None)
        finer = [each for each in decimals if places is None or each > places]
        return finer[0] if finer else decimals[-1] if decimals else None

    def lacking(self, place: Place) -> list[Fault]:
        """What was asked of the rows and is not in them, told once at their place."""
        return [
            Fault(
                place,
                f"the general tolerance has no row for {in_words(places)}, which "
                f"{'one size here is' if many == 1 else f'{many} sizes here are'} given in; that "
                f"for {in_words(self.instead(places))} is taken",
                f"add '{_key(places)}: ±…'",
                grade="lacking",
            )
            for places, many in self.unsaid.items()
        ]


def written_rows(node: Node) -> Iterator[Row]:
    """The rows of a table, a list of them or a line of them; none where there is but one figure."""
    if isinstance(node, Table):
        for name, entry in node.entries.items():
            value = entry.value
            yield Row(name, value.text if isinstance(value, Text) else "", entry.place)
    elif isinstance(node, Listing):
        for item in node.items:
            yield from written_rows(item) if isinstance(item, Table) else _in_line(item)
    elif re.search("[,;]", node.text):
        yield from _in_line(node)


def _in_line(node: Node) -> Iterator[Row]:
    for text in re.split("[,;]", node.text) if isinstance(node, Text) else ():
        row = _ROW.match(text.strip())
        yield Row(row[1], row[2], node.place) if row else Row(text.strip(), "", node.place)


def read_rows(rows: list[Row], unit: Unit) -> tuple[Rows, list[Fault]]:
    """What the rows say, and what is wrong with them."""
    found, faults = Rows(), []
    for row in rows:
        try:
            wrong = _add(row, found, unit)
        except SizeError as reason:
            wrong = Fault(row.place, reason.what, "write it like ±0.1")
        faults += [wrong] if wrong else []
    return found, faults


def _add(row: Row, found: Rows, unit: Unit) -> Fault | None:
    word = " ".join(row.word.strip().lower().replace("_", " ").split())
    ours = _MEANT.get(word, "")
    if ours == "angles":
        found.others[ours] = parse_angle(row.bare).nominal
        return None
    if ours == "drills":
        found.drilled = _deviations(row.limit, unit)
        return None
    limit = either_way(row.limit, unit)
    places, counted = _PLACES.match(word), _COUNTED.match(word)
    if ours in ("all", "bevels"):
        found.others[ours] = limit
    elif ours or places or counted:
        found.places[_count(ours, places, counted)] = limit
    elif (size := _up_to(word, unit)) is not None:
        found.sizes.append((*size, limit))
    else:
        known = [".x", ".xx", ".xxx", ".xxxx", *_WORDS, "up to 30"]
        return Fault(row.place, f"'{row.word}' is no number of places", nearest(row.word, known))
    return None


def _count(ours: str, places: re.Match[str] | None, counted: re.Match[str] | None) -> int | None:
    if places:
        return len(places[1] or "")
    if counted:
        return int(counted[1]) if counted[1].isdigit() else _COUNTS.index(counted[1])
    return WHOLE if ours == "whole" else None


def _up_to(word: str, unit: Unit) -> tuple[float, float] | None:
    """The sizes that a row is for: over the one, up to the other [mm]."""
    between, over = _UP_TO.match(word), _OVER.match(word)
    try:
        if between:
            low = parse_length(between[1], unit) if between[1] else 0.0
            high = parse_length(between[2], unit)
            return (low, high) if low < high else None
        return (parse_length(over[1], unit), inf) if over else None
    except SizeError:
        return None


def either_way(text: str, unit: Unit) -> float:
    """A tolerance to either side [mm], with its sign or without. Raises SizeError."""
    size = parse_length(_SIGN.sub("", text.strip()), unit)
    if size <= 0:
        raise SizeError(f"'{text}' is no tolerance", "")
    return size


def _deviations(text: str, unit: Unit) -> tuple[float, float]:
    """A tolerance to either side, or both deviations as of a size (+.004/-.001) [mm]. Raises
    SizeError."""
    if text.lstrip().startswith("+") and not _SIGN.match(text.strip()):
        nominal = parse_dimension(f"1000 {text}", unit)
        return nominal.minus, nominal.plus
    size = either_way(text, unit)
    return -size, size


def in_words(places: int | None) -> str:
    """Decimal places in words.

    >>> in_words(None), in_words(0), in_words(1), in_words(3)
    ('fractions', 'whole numbers', 'one decimal place', '3 decimal places')
    """
    if places is None:
        return "fractions"
    return (
        ("whole numbers", "one decimal place")[places] if places < 2 else f"{places} decimal places"
    )


def _key(places: int | None) -> str:
    return "fractions" if places is None else f".{'x' * places}" if places else "whole"


def _drilled(size: float) -> float:
    """What a hole named by its drill alone is held to [mm]: the medium class, common practice."""
    from barstock.handbook.general_limits import general_limit

    return general_limit(max(size, 0.5), "m")
