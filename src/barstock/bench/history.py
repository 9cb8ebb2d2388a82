"""The log's history is written as CSV or JSON and read back; the same lines brought in again change
nothing.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Sequence
from typing import Any

from pydantic import ValidationError

from barstock.bench.entry import Entry
from barstock.errors import WrongUseError
from barstock.reading.fields import in_words

VERSION = 1
NAMES = tuple(name for name in Entry.model_fields if name != "row")
GUARD = "'"
FORMULA = ("=", "+", "-", "@", "\t", "\r", GUARD)
"""Words beginning so are taken for formulas by spreadsheets; a mark stands before them in CSV."""


def to_json(build: str, entries: Sequence[Entry]) -> str:
    """Every line of the log as JSON, oldest first."""
    lines = [e.model_dump(mode="json", exclude={"row"}) for e in entries]
    told = {"build": build, "version": VERSION, "lines": lines}
    return json.dumps(told, indent=1, ensure_ascii=False) + "\n"


def to_csv(entries: Sequence[Entry]) -> str:
    """Every line of the log as CSV, oldest first, under a header; times in universal time, lengths
    in mm.
    """
    out = io.StringIO()
    writer = csv.DictWriter(out, NAMES, lineterminator="\n")
    writer.writeheader()
    for entry in entries:
        row = entry.model_dump(mode="json", exclude={"row"})
        writer.writerow({name: _guarded(value) for name, value in row.items()})
    return out.getvalue()


def _guarded(value: Any) -> Any:
    return GUARD + value if isinstance(value, str) and value.startswith(FORMULA) else value


def from_text(text: str) -> list[Entry]:
    """The lines of a history, JSON or CSV. Raises WrongUseError saying which line is wrong."""
    rows = _json_rows(text) if text.lstrip()[:1] == "{" else _csv_rows(text)
    found = []
    for n, row in enumerate(rows, 1):
        try:
            found.append(Entry.model_validate(row))
        except ValidationError as wrong:
            first = wrong.errors()[0]
            where = ".".join(map(str, first["loc"])) or "the line"
            told = in_words(first["msg"])
            raise WrongUseError(f"line {n} of the history: {where}: {told}") from None
    return found


def _json_rows(text: str) -> list[Any]:
    try:
        told = json.loads(text)
    except (ValueError, RecursionError) as wrong:
        raise WrongUseError(f"this is no history: {wrong}") from None
    if told.get("version") != VERSION or not isinstance(told.get("lines"), list):
        raise WrongUseError(f"this is no history of version {VERSION}; export it again")
    rows: list[Any] = told["lines"]
    return rows


def _csv_rows(text: str) -> list[dict[str, Any]]:
    reader = csv.DictReader(io.StringIO(text.removeprefix("\ufeff")))
    lacking = {"kind", "id", "at"} - set(reader.fieldnames or ())
    if lacking:
        raise WrongUseError(f"this is no history: the header lacks {', '.join(sorted(lacking))}")
    try:
        return [{k: _plain(v) for k, v in row.items() if v} for row in reader]
    except csv.Error as wrong:
        raise WrongUseError(f"this is no history: {wrong}") from None


def _plain(value: Any) -> Any:
    guarded = isinstance(value, str) and value[:1] == GUARD and value[1:2] in FORMULA
    return value[1:] if guarded else value
