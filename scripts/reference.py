"""Fill in what docs/ takes from the program itself: tables of fields, and the commands' help.

python scripts/reference.py            writes them
python scripts/reference.py --check    fails where a page is not up to date

A page holds a mark, the part made here, and an end:

    <!-- fields: HoleFields -->    a table of what may be written
    <!-- help: check -->           what 'barstock check --help' says
    <!-- times: usual -->          the shop's time figures
    <!-- end -->
"""

from __future__ import annotations

import os
import re
import sys
import types
from collections.abc import Iterator
from enum import StrEnum
from pathlib import Path
from typing import Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from barstock.drawing.build import Face
from barstock.drawing.build_fields import BuildFields, PartFields
from barstock.methods import KINDS
from barstock.methods.place_fields import At, Where
from barstock.reading.fields import Written
from barstock.workshop.shop import ShopTimes
from barstock.workshop.shop_fields import TIMES, WorkshopFields

DOCS = Path(__file__).parents[1] / "docs"
MADE = re.compile(r"(<!-- (fields|help|times): (\S+) -->\n).*?(<!-- end -->)", re.S)
WORDS = {"str": "words", "bool": "true or false", "int": "a whole number", "float": "a number"}
WIDE = "80"


def records() -> dict[str, type[BaseModel]]:
    """Every record that may be written, by name."""
    found: dict[str, type[BaseModel]] = {}
    waiting = [BuildFields, PartFields, WorkshopFields, *(kind.fields for kind in KINDS.values())]
    while waiting:
        record = waiting.pop()
        if record.__name__ not in found:
            found[record.__name__] = record
            waiting += [r for info in record.model_fields.values() for r in _records(info)]
    return found


def _records(info: FieldInfo | Any) -> Iterator[type[BaseModel]]:
    hint = info.annotation if isinstance(info, FieldInfo) else info
    if isinstance(hint, type) and issubclass(hint, BaseModel):
        yield hint
    for part in get_args(hint):
        yield from _records(part)


def table(record: type[BaseModel]) -> str:
    """What may be written in a record, as a table."""
    rows = ["| name | written | what |", "| --- | --- | --- |"]
    for name, info in record.model_fields.items():
        called = info.alias or name
        star = " \\*" if info.is_required() else ""
        rows.append(f"| `{called}`{star} | {_written(info)} | {_what(info)} |")
    return "\n".join(rows) + "\n"


def _written(info: FieldInfo) -> str:
    if info.annotation is str and info.metadata:  # of an Annotated only the bare type is left
        return "a size"
    return " or ".join(dict.fromkeys(_sorts(info.annotation)))


def _sorts(hint: Any) -> Iterator[str]:
    """How a value of this type is written."""
    for alias, words in ((Written, "a size"), (Where, "a place"), (At, "places")):
        if hint == alias:
            yield words
            return
    origin, parts = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        for part in parts:
            yield from _sorts(part)
    elif origin is Literal:
        yield ", ".join(f"`{word}`" for word in parts)
    elif origin in (list, tuple):
        yield "a list of " + " or ".join(dict.fromkeys(map(_many, _sorts(parts[0]))))
    elif origin is dict:
        yield "a table"
    elif origin is not None:  # Annotated
        yield from _sorts(parts[0])
    elif hint is Face:
        yield "a face"
    elif isinstance(hint, type) and issubclass(hint, StrEnum):
        yield ", ".join(f"`{word}`" for word in hint)
    elif isinstance(hint, type) and issubclass(hint, BaseModel):
        yield "a table"
    elif hint is not type(None):
        yield WORDS[hint.__name__]


def _many(words: str) -> str:
    if words.startswith("a list of "):
        return words.replace("a list", "lists", 1)
    return words.removeprefix("a ").removesuffix("s") + "s"


def _what(info: FieldInfo) -> str:
    words = (info.description or "").replace("|", "\\|")
    default = None if info.is_required() else info.get_default(call_default_factory=True)
    if default in (None, "", [], {}, ()) or default is False:
        return words
    if isinstance(default, str) and f"`{default}`" == _written(info):
        return words
    shown = str(default).lower() if isinstance(default, bool) else default
    return f"{words} Without it: `{shown}`."


def help_of(command: str) -> str:
    """What the program says of a command ("barstock" for the whole)."""
    from typer.testing import CliRunner

    os.environ |= {"COLUMNS": WIDE, "TERMINAL_WIDTH": WIDE}
    from barstock.cli.commands import app

    words = ["--help"] if command == "barstock" else [command, "--help"]
    said = CliRunner().invoke(app, words, prog_name="barstock").output
    return "```text\n" + "\n".join(line.rstrip() for line in said.strip().splitlines()) + "\n```\n"


def times(_: str) -> str:
    """The shop's time figures and what they usually are."""
    usual = ShopTimes()
    rows = [f"| `{name}` | {getattr(usual, field):g} |" for name, field in TIMES.items()]
    return "\n".join(["| name | minutes |", "| --- | --- |", *rows]) + "\n"


def filled(page: str) -> str:
    """A page with its made parts made anew."""
    known = records()
    makers = {"fields": lambda name: table(known[name]), "help": help_of, "times": times}

    def make(found: re.Match[str]) -> str:
        head, what, name, end = found.groups()
        return f"{head}\n{makers[what](name)}\n{end}"

    return MADE.sub(make, page)


if __name__ == "__main__":
    stale = []
    for path in sorted(DOCS.glob("*.md")):
        page = path.read_text(encoding="utf-8")
        if filled(page) != page:
            stale.append(path.name)
            if "--check" not in sys.argv:
                path.write_text(filled(page), encoding="utf-8")
    if stale and "--check" in sys.argv:
        sys.exit(f"stale: {', '.join(stale)}; run scripts/reference.py")
