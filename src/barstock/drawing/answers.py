"""Answers what a feature kind asks of the text: values parsed, limits found, faults placed."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

from barstock.drawing.build import Face, Part
from barstock.drawing.general_tolerance import General
from barstock.drawing.positions import Positions
from barstock.drawing.questions import Located, Point
from barstock.quantities import Dimension
from barstock.reading.faults import Fault, Place, nearest
from barstock.reading.nodes import Entry, Listing, Table, Text, sort
from barstock.reading.sizes import Sizes

EDGES = ("radius", "bevel", "corner radius")
"""Fields whose general limits are those of rounded and bevelled edges (ISO 2768-1 table 2)."""

AT_45 = re.compile(r"(?<=[\d.\"])\s?[x×]\s?45(?:\s?°|\s?deg\w*\.?)?|^C(?=[\d.])", re.I)
"""What drawings write beside the leg of a bevel: 1 x 45°, C1."""

SHARE, WIDE = 0.25, 0.5
"""Limits so wide to either side, as a share of the size and in mm too, are likelier a slip of the
pen than meant. Common practice."""


@dataclass
class Asked:
    """An `Ask` (see there) for one feature, as written in `table` under the name at `place`.

    unread: of the faults, those of sizes that cannot be read, whatever the part's own size.
    """

    table: Table
    place: Place
    feature: str
    part: Part
    general: General
    faults: list[Fault] = field(default_factory=list)
    unread: list[Fault] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.sizes = Sizes(self.part.unit, self._unread, self.general.length)
        edge = self.general.edge or self.general.length
        self.edges = Sizes(self.part.unit, self._unread, edge)
        self.positions = Positions(self.part, self.sizes.size, self.sizes.angle, self._report)

    def given(self, field: str) -> bool:
        """Was the field written?"""
        return self._find(field) is not None

    def size(self, field: str, *, needed: bool = True, positive: bool = True) -> Dimension | None:
        """The field as a dimension with limits."""
        entry = self._entry(field, needed)
        sizes = self.edges if field.split(".")[0] in EDGES else self.sizes
        node = entry.value if entry else None
        if field == "bevel" and isinstance(node, Text):
            node = Text(node.place, AT_45.sub("", node.text))
        size = sizes.size(node) if node else None
        if entry is None or size is None:
            return None
        if positive and not size.stated and size.low <= 0 < size.nominal:
            # a general tolerance as wide as the size does not mean that it may be left out
            size = replace(size, minus=-size.nominal / 2)
        if size.nominal < 0 or (positive and size.low <= 0):
            word = "more than 0" if positive else "0 or more"
            zero = "" if size.nominal <= 0 else ", its low limit too"
            self._unread(entry.value.place, f"'{_last(field)}' must be {word}{zero}", "")
            return None
        either_way = (size.plus - size.minus) / 2
        if size.stated and sizes is self.sizes and WIDE < either_way > SHARE * size.nominal:
            what = f"'{_last(field)}' has limits out of all proportion to its size: '{size.text}'"
            self._report(entry.value.place, what, "check them for a slip of the pen", "warning")
        return size

    def length(self, field: str, *, needed: bool = True) -> float | None:
        """The field as a bare length [mm]."""
        entry = self._entry(field, needed)
        return self.sizes.length(entry.value) if entry else None

    def angle(self, field: str, leg: float, *, needed: bool = True) -> Dimension | None:
        """The field as an angle with limits [degrees]; leg: its shorter one [mm]."""
        entry = self._entry(field, needed)
        sizes = replace(self.sizes, general_angle=lambda _: self.general.angle(leg))
        return sizes.angle(entry.value) if entry else None

    def face(self, field: str, *, needed: bool = True) -> Face | None:
        """The field as a face name."""
        entry = self._entry(field, needed)
        if entry is None:
            return None
        text = entry.value.text if isinstance(entry.value, Text) else ""
        if text not in list(Face):
            what = f"{sort(entry.value)} is no face"
            self._report(entry.value.place, what, nearest(text, list(Face)))
            return None
        return Face(text)

    def points(self, field: str, face: Face, *, needed: bool = True) -> list[Point] | None:
        """The field as a position or a pattern on `face`."""
        entry = self._entry(field, needed)
        return self.positions.points(entry, face) if entry else None

    def offset(self, field: str, axis: int, *, needed: bool = True) -> Located | None:
        """The field as a position along one axis only."""
        entry = self._entry(field, needed)
        return self.positions.offset(entry, axis) if entry else None

    def fault(self, field: str | None, what: str, mend: str = "", grade: str = "error") -> None:
        """Report a fault at the field (or at the feature where field is None)."""
        entry = self._find(field) if field else None
        place = self.place if entry is None else entry.value.place
        self._report(place, what, mend, grade)

    def _unread(self, place: Place, what: str, mend: str) -> None:
        self._report(place, what, mend)
        self.unread.append(self.faults[-1])

    def _report(self, place: Place, what: str, mend: str, grade: str = "error") -> None:
        self.faults.append(Fault(place, what, mend, self.part.name, self.feature, grade))

    def _entry(self, field: str, needed: bool) -> Entry | None:
        entry = self._find(field)
        if entry is None and needed:
            name = _last(field)
            self.fault(field.rpartition(".")[0] or None, f"'{name}' is missing", f"add '{name}: …'")
        return entry

    def _find(self, field: str) -> Entry | None:
        entry = Entry(self.place, self.table)
        for step in field.split("."):
            node = entry.value
            if isinstance(node, Table) and step in node.entries:
                entry = node.entries[step]
            elif isinstance(node, Listing) and step.isdigit() and int(step) < len(node.items):
                item = node.items[int(step)]
                entry = Entry(item.place, item)
            else:
                return None
        return entry


def _last(field: str) -> str:
    return next(step for step in reversed(field.split(".")) if not step.isdigit())
