"""A table of standard parts, one row a size, and how `look` asks it.

A table is asked by one of its words and a size (key 12, circlip 10, bearing 608), or by the word
alone for all of it. Lengths in its rows are in its own unit and are shown in the user's.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from barstock.handbook.answer import Found, NotHeldError
from barstock.quantities import SizeError, Unit, parse_length, show

Cell = float | str | None


def plain(size: str) -> str:
    """A size without capitals, blanks and the trade's several ways of saying number.

    >>> plain("No. 4"), plain("#4"), plain("M 3"), plain("2 BA"), plain("10 mm")
    ('4', '4', 'm3', '2ba', '10')
    """
    size = re.sub(r"(?<=\d)\s*mm$", "", size.strip())
    return re.sub(r"^(?:no\.?|number|#)(?=\d)", "", re.sub(r"\s+", "", size.lower()))


def by_name(rows: Mapping[str, tuple[Cell, ...]], size: str, _: Unit) -> str | None:
    """The row of that very name."""
    return next((name for name in rows if plain(name) == plain(size)), None)


def by_range(rows: Mapping[str, tuple[Cell, ...]], size: str, unit: Unit) -> str | None:
    """The row "over so much to so much" that holds a length."""
    try:
        length = parse_length(size, unit)
    except SizeError:
        return None
    for name in rows:
        over, most = (parse_length(end) for end in name.removeprefix("over ").split(" to "))
        if over < length <= most + 1e-9:
            return name
    return None


@dataclass(frozen=True)
class SizedTable:
    """A table of sizes. words: what it is asked by; columns: of each row of `rows`, by its name.

    unit: of the rows' figures, a text is shown as it stands; notes: shown with every row; pick:
    finds the row of a size.
    """

    name: str
    words: tuple[str, ...]
    columns: tuple[str, ...]
    rows: Mapping[str, tuple[Cell, ...]] = field(repr=False)
    source: str
    memory: bool = True
    unit: Unit = Unit.MM
    notes: tuple[tuple[str, str], ...] = ()
    pick: Callable[[Mapping[str, tuple[Cell, ...]], str, Unit], str | None] = by_name

    def figure(self, size: str, column: str) -> float:
        """A length of a row by its name [mm]. Raises KeyError for a size or column it has not."""
        cell = self.rows[size][self.columns.index(column)]
        if not isinstance(cell, int | float):
            raise KeyError(f"{self.name} {size} has no length '{column}'")
        return cell * self.unit.scale

    def find(self, word: str, unit: Unit) -> Iterator[Found]:
        """What `look` shows for a word. Raises NotHeldError for a size that is not in it."""
        asked = self._size_in(word)
        if asked is None:
            return
        if not asked:
            yield Found(self.name, tuple(self._line(row, unit) for row in self.rows), *self._from())
            return
        row = self.pick(self.rows, asked, unit)
        if row is None:
            names = list(self.rows)
            raise NotHeldError(f"there is no {self.name} {asked} ({names[0]}, … {names[-1]})")
        cells = tuple(zip(self.columns, self._shown(row, unit), strict=True))
        rows = tuple((column, cell) for column, cell in cells if cell) + self.notes
        yield Found(f"{self.name} {row}", rows, *self._from())

    def _from(self) -> tuple[str, bool]:
        return self.source, self.memory

    def _size_in(self, word: str) -> str | None:
        """The size asked for, "" for the whole table, None where no word of this table is in it."""
        text = " ".join(word.lower().split())
        for each in sorted(self.words, key=len, reverse=True):
            found = re.fullmatch(rf"(?:(.*\S)\s+)?{re.escape(each)}s?(?:\s+(\S.*))?", text)
            if found and not (found[1] and found[2]):
                return found[1] or found[2] or ""
        return None

    def _shown(self, row: str, unit: Unit) -> Iterator[str]:
        for cell in self.rows[row]:
            yield (
                "" if cell is None
                else cell if isinstance(cell, str)
                else show(cell * self.unit.scale, unit)
            )  # fmt: skip

    def _line(self, row: str, unit: Unit) -> tuple[str, str]:
        cells = zip(self.columns, self._shown(row, unit), strict=True)
        return row, ", ".join(f"{column} {cell}" for column, cell in cells if cell)


def ask(tables: Iterable[SizedTable], word: str, unit: Unit) -> Iterator[Found]:
    """What all of these tables hold under a word. Raises NotHeldError where none has the size."""
    found: list[Found] = []
    reasons: list[str] = []
    for table in tables:
        try:
            found.extend(table.find(word, unit))
        except NotHeldError as reason:
            reasons.append(str(reason))
    if reasons and not found:
        raise NotHeldError("; ".join(reasons))
    yield from found
