"""What stands on the pages of a pack, read back from the print alone."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser

from barstock.pack.pack_pages import Pack
from barstock.words.lines import Line, Value

INCH = 25.4
SCALES = {"mm": 1.0, "in": INCH, "millimetres": 1.0, "inches": INCH}
_TURNED = re.compile(r"([+−]?)(?:(\d+) turns? )?(\d*)(½?) div")
_FIGURE = re.compile(r"[+−]?\d+(?:\.\d+)?")
_LENGTH = re.compile(r"(?:(\d+)-)?(?:(\d+)/(\d+)|(\d+(?:\.\d+)?)) (mm|in)\b")
_READ_IN = re.compile(r"(?:([XYZ, and]+) )?in (millimetres|inches|turns and divisions \([^)]*\))")
_A_TURN = re.compile(r"\((\d+(?:\.\d+)?) (mm|in) a turn, (\d+) divisions\)")


@dataclass
class Row:
    """One line as printed: its words, the readings under each axis, what else is set."""

    setup: str
    operation: int
    words: str
    axes: dict[str, list[str]] = field(default_factory=dict)
    others: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Dialled:
    """How a page says that an axis is read: a scale [mm], or a turn [mm] with so many divisions."""

    scale: float
    divisions: int = 0

    def read(self, text: str) -> float:
        """What a printed reading comes to [mm]; a distance below the touch counts down."""
        text = text.removeprefix("to ").strip()
        below = "below the touch" in text
        turned = _TURNED.match(text)
        if self.divisions and turned:
            sign, turns, whole, half = turned.groups()
            parts = int(whole or 0) + (0.5 if half else 0.0)
            found = (int(turns or 0) + parts / self.divisions) * self.scale
            found = -found if sign == "−" else found
        else:
            figure = _FIGURE.match(text)
            assert figure, text
            found = float(figure[0].replace("−", "-")) * (0.0 if self.divisions else self.scale)
            assert not self.divisions or figure[0] == "0", text
        return -found if below else found


def dials(readings_in: str) -> dict[str, Dialled]:
    """Each axis as the page says it is read."""
    found = {}
    for names, how in _READ_IN.findall(readings_in.partition("; the cutter")[0]):
        wheel = _A_TURN.search(how)
        if wheel:
            dialled = Dialled(float(wheel[1]) * SCALES[wheel[2]], int(wheel[3]))
        else:
            dialled = Dialled(SCALES[how])
        found |= dict.fromkeys([axis for axis in "XYZ" if axis in names] or "XYZ", dialled)
    return found


def lengths(text: str) -> list[float]:
    """Every length in a text that has its unit behind it [mm]."""
    found = []
    for whole, over, under, decimal, unit in _LENGTH.findall(text):
        size = float(decimal) if decimal else int(whole or 0) + int(over) / int(under)
        found.append(size * SCALES[unit])
    return found


def of_pack(pack: Pack) -> Iterator[Row]:
    """The lines of all setups as the pages have them; operation 0 is the setting up."""
    for page in pack.setups:
        for line in page.steps:
            yield _row(page.number, 0, line)
        for one in page.passes:
            for box in one.operations:
                for line in box.lines:
                    yield _row(page.number, box.number, line)


def _row(setup: str, operation: int, line: Line) -> Row:
    def texts(values: tuple[Value, ...]) -> list[str]:
        return [" ".join(run.text for run in value) for value in values]

    axes = {axis: texts(reading.values) for axis, reading in line.axes.items()}
    others = [text for reading in line.other for text in texts(reading.values)]
    return Row(setup, operation, line.words, axes, others)


def of_html(page: str) -> list[Row]:
    """The same, from the text of the web page."""
    found = _Sheets()
    found.feed(page)
    return found.rows


class _Sheets(HTMLParser):
    """Tables of lines, and the setup and operation that each stands under."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: list[Row] = []
        self.setup, self.operation = "", 0
        self.in_ring = self.in_lines = self.in_reading = False
        self.axes: list[str] = []
        self.cells: list[tuple[str, list[str]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        what = given.get("class", "")
        if tag == "section":
            self.setup = given.get("id", "").removeprefix("setup-")
            self.operation = 0
        elif what == "ring":
            self.in_ring = True
        elif tag == "table":
            self.in_lines, self.axes = what == "lines", []
        elif self.in_lines and tag == "tr":
            self.cells = []
        elif self.in_lines and tag in ("td", "th"):
            self.cells.append(("", []))
        elif self.in_lines and what == "reading":
            self.in_reading = True
            self.cells[-1][1].append("")

    def handle_data(self, data: str) -> None:
        if self.in_ring:
            self.operation, self.in_ring = int(data), False
        elif self.in_reading:
            self.cells[-1][1][-1] += data
        elif self.in_lines and self.cells:
            words, readings = self.cells[-1]
            self.cells[-1] = (words + data, readings)

    def handle_endtag(self, tag: str) -> None:
        if tag == "span":
            self.in_reading = False
        elif tag == "table":
            self.in_lines = False
        elif tag == "tr" and self.in_lines and self.cells:
            (words, others), *rest = self.cells
            if not words.strip() and not self.axes:
                self.axes = [name.split()[0] for name, _ in rest]
                return
            shown = {axis: at for axis, (_, at) in zip(self.axes, rest, strict=True) if at}
            self.rows.append(Row(self.setup, self.operation, words, shown, others))
