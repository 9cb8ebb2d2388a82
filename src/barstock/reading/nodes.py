"""A YAML file as nodes: every text, list and table with its place, and no value interpreted.

Loaded safely: no tags, a limit of size, depth and repeating, numbers left as written. A place that
is marked (&name) may be repeated (*name), and a table takes over what it does not say itself (<<).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from io import StringIO
from pathlib import Path
from typing import Any

from barstock.reading.faults import Fault, Place

LARGEST = 1_000_000
"""Largest file read [bytes]."""

DEEPEST = 20
"""Most lists and tables inside one another."""

MOST_REPEATED = 20_000
"""Most texts, lists and tables that a file takes from its own marked places."""

MERGED = "<<"
"""The name under which a table takes over another."""


@dataclass(frozen=True)
class Text:
    """One word, figure or sentence as written; "" where nothing is."""

    place: Place
    text: str


@dataclass(frozen=True)
class Listing:
    """A list of nodes as written."""

    place: Place
    items: tuple[Node, ...]


@dataclass(frozen=True)
class Entry:
    """A name in a table, with its value."""

    place: Place
    value: Node


@dataclass(frozen=True)
class Table:
    """A table of names with their values."""

    place: Place
    entries: dict[str, Entry] = field(default_factory=dict)


Node = Text | Listing | Table


def plain(node: Node) -> Any:
    """The node as plain strings, lists and dicts."""
    if isinstance(node, Text):
        return node.text
    if isinstance(node, Listing):
        return [plain(item) for item in node.items]
    return {name: plain(entry.value) for name, entry in node.entries.items()}


def inside(node: Node, name: str) -> dict[str, Node]:
    """What a table holds under a name, as nodes by name."""
    entry = node.entries.get(name) if isinstance(node, Table) else None
    if entry is None or not isinstance(entry.value, Table):
        return {}
    return {key: each.value for key, each in entry.value.entries.items()}


def sort(node: Node) -> str:
    """The word for what sort of node it is, to say in a fault."""
    if isinstance(node, Text):
        return f"'{node.text}'" if node.text else "nothing"
    return "a list" if isinstance(node, Listing) else "a table"


def read_nodes(path: Path) -> tuple[Table | None, list[Fault]]:
    """The file's table, and what is wrong with it as YAML; None where it cannot be used."""
    start = Place(str(path), 1, 1)
    try:
        with path.open("rb") as file:
            raw = file.read(LARGEST + 1)
    except FileNotFoundError:
        return None, [Fault(start, f"there is no file {path.name} here", _wanted(path.name))]
    except OSError as wrong:
        reason = (wrong.strerror or "cannot be read").lower()
        return None, [Fault(start, f"the file cannot be read: {reason}", "check its name")]
    except ValueError:
        return None, [Fault(start, "this is no name of a file", "check it")]
    if len(raw) > LARGEST:
        what = f"the file is larger than {LARGEST // 1_000_000} MB"
        return None, [Fault(start, what, "a build is a few pages of text; divide it")]
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as wrong:
        before = raw[: wrong.start].decode("utf-8-sig")
        what = f"byte 0x{raw[wrong.start]:02x} is not UTF-8"
        return None, [Fault(_after(before, str(path)), what, "save the file as UTF-8 text")]
    return read_text(text, str(path))


def read_text(text: str, file: str) -> tuple[Table | None, list[Fault]]:
    """The table written in a text; `file` names it in places."""
    from ruamel.yaml import YAML
    from ruamel.yaml.error import MarkedYAMLError, YAMLError
    from ruamel.yaml.reader import ReaderError

    builder = _Builder(file)
    try:
        root = builder.document(iter(YAML(typ="safe", pure=True).parse(StringIO(text))))
    except _Stop:
        return None, builder.faults
    except MarkedYAMLError as wrong:
        marks = [wrong.problem_mark, wrong.context_mark]
        if "expected ':'" in str(wrong.problem):  # seen only at what follows
            marks.reverse()
        mark = marks[0] or marks[1]
        place = Place(file, mark.line + 1, mark.column + 1) if mark else Place(file, 1, 1)
        problem, opened = str(wrong.problem or wrong.context), wrong.context_mark
        slip = _slip(problem, str(wrong.context), opened.line + 1 if opened else 0)
        return None, [*builder.faults, Fault(place, *slip)]
    except ReaderError as wrong:
        place = _after(text[: wrong.position], file)
        what = "there is a character here that no text file may hold"
        return None, [*builder.faults, Fault(place, what, "take it out")]
    except (YAMLError, ValueError) as wrong:
        first = (str(wrong).splitlines() or ["it is not YAML"])[0]
        return None, [*builder.faults, Fault(Place(file, 1, 1), first)]
    if root is None or builder.refused:
        return None, builder.faults
    if not isinstance(root, Table):
        what = f"the file holds {sort(root)} where names with values are wanted"
        return None, [*builder.faults, Fault(root.place, what, f"begin with {_first(file)}")]
    return root, builder.faults


class _Stop(Exception):  # noqa: N818
    """Raised where there is no sense in reading on."""


class _Builder:
    """Builds nodes from the parser's events."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.faults: list[Fault] = []
        self.refused = False
        self.marked: dict[str, Node] = {}
        self.repeated = 0

    def document(self, events: Iterator[Any]) -> Node | None:
        root: Node | None = None
        for event in events:
            name = type(event).__name__
            if name == "DocumentStartEvent" and root is not None:
                self._fault(event, "a second document begins here", "take the '---' line out")
                raise _Stop
            if name.startswith(("Stream", "Document")):
                continue
            root = self._node(event, events, 0)
        if root is None:
            what = "nothing is written in this file"
            mend = f"start with {_first(self.file)}"
            self.faults.append(Fault(Place(self.file, 1, 1), what, mend))
        return root

    def _node(self, event: Any, events: Iterator[Any], depth: int) -> Node:
        if type(event).__name__ == "AliasEvent":
            return self._repeated(event)
        node = self._written(event, events, depth)
        if event.anchor is not None:
            self.marked[event.anchor] = node
        return node

    def _repeated(self, event: Any) -> Node:
        """What stands at the place that is marked for repeating."""
        node = self.marked.get(event.anchor)
        if node is None:
            mend = f"mark it with '&{event.anchor}' further up; put signs in quotes"
            self._fault(event, f"'*{event.anchor}' repeats a place that is not marked", mend)
            self.refused = True
            return Text(self._place(event), "")
        self.repeated += _count(node)
        if self.repeated > MOST_REPEATED:
            self._fault(event, "the file repeats too much of itself", "write less of it twice")
            raise _Stop
        return node

    def _written(self, event: Any, events: Iterator[Any], depth: int) -> Node:
        name, place = type(event).__name__, self._place(event)
        if event.tag is not None:
            self._refuse(event, f"'{event.tag}' is a YAML tag")
        if name == "ScalarEvent":
            return Text(place, event.value)
        if depth >= DEEPEST:
            self._fault(event, f"more than {DEEPEST} lists or tables inside one another")
            raise _Stop
        if name == "SequenceStartEvent":
            return Listing(place, tuple(self._items(events, depth)))
        return Table(place, self._entries(events, depth))

    def _items(self, events: Iterator[Any], depth: int) -> Iterator[Node]:
        for event in events:
            if type(event).__name__ == "SequenceEndEvent":
                return
            yield self._node(event, events, depth + 1)

    def _entries(self, events: Iterator[Any], depth: int) -> dict[str, Entry]:
        entries: dict[str, Entry] = {}
        taken: list[Table] = []
        for event in events:
            if type(event).__name__ == "MappingEndEvent":
                break
            key = self._node(event, events, depth + 1)
            value = self._node(next(events), events, depth + 1)
            if isinstance(value, Text) and not value.text:
                value = Text(key.place, "")
            if not isinstance(key, Text):
                self._fault(event, f"{sort(key)} stands where a name is wanted", "write a name")
                self.refused = True
            elif key.text == MERGED:
                taken += self._tables(value)
            elif not key.text.strip():
                self._fault(event, "there is no name before this colon", "write one")
                self.refused = True
            elif key.text in entries:
                first = entries[key.text].place.line
                what = f"'{key.text}' is written twice, first in line {first}"
                self._fault(event, what, "keep one, or give the other its own name")
            else:
                entries[key.text] = Entry(key.place, value)
        for table in taken:
            entries = {**table.entries, **entries}
        return entries

    def _tables(self, value: Node) -> list[Table]:
        """The tables whose names hold here too, where none of its own stands."""
        given = value.items if isinstance(value, Listing) else (value,)
        found = [node for node in given if isinstance(node, Table)]
        if len(found) < len(given):
            what = f"{sort(value)} stands where a table to take over is wanted"
            self.faults.append(Fault(value.place, what, "mark one with '&name', write '<<: *name'"))
            self.refused = True
        return found

    def _place(self, event: Any) -> Place:
        return Place(self.file, event.start_mark.line + 1, event.start_mark.column + 1)

    def _fault(self, event: Any, what: str, mend: str = "") -> None:
        self.faults.append(Fault(self._place(event), what, mend))

    def _refuse(self, event: Any, what: str) -> None:
        self._fault(event, f"{what}, which is not read here", "write it out; put signs in quotes")
        self.refused = True


def _count(node: Node) -> int:
    """How many nodes there are in a node, itself among them."""
    if isinstance(node, Text):
        return 1
    if isinstance(node, Listing):
        return 1 + sum(_count(item) for item in node.items)
    return 1 + sum(_count(entry.value) for entry in node.entries.values())


def _after(before: str, file: str) -> Place:
    line, last = before.count("\n") + 1, before.rpartition("\n")[2]
    return Place(file, line, len(last) + 1)


def _first(file: str) -> str:
    """What a file begins with."""
    return "'workshop: …'" if Path(file).name.startswith("workshop") else "'build: …'"


def _wanted(name: str) -> str:
    """How to come by a file that is not there."""
    if name == "workshop.yaml":
        return (
            "'barstock new' with another folder writes one to copy and change; or name one that "
            "several builds share, in build.yaml: 'workshop: ../workshop.yaml'"
        )
    return "check its name"


def _slip(problem: str, context: str, opened: int) -> tuple[str, str]:
    """A parser's complaint in plain words, and what to do. opened: line in which that began."""
    if "\\t" in problem:
        return "a tab stands where spaces are wanted", "indent with spaces"
    if "mapping values are not allowed" in problem:
        return "a second colon in one line", "put the text in quotes, or start a new line"
    if "could not find expected ':'" in problem:
        return "a colon is missing", "write 'name: value'"
    if "cannot start any token" in problem:
        return f"this sign cannot begin a word: {problem}", "put the text in quotes"
    if "quoted scalar" in context:
        return f"the quotation mark of line {opened} is never closed", "close it, or take it out"
    if "flow mapping" in context or "flow sequence" in context:
        bracket = "{" if "flow mapping" in context else "["
        what = f"the bracket {bracket} of line {opened} is not closed before this"
        return what, "close it, or put a comma between two things in it"
    if "expected <block end>" in problem or "unindent" in problem:
        what = f"this line is indented unlike those it belongs with, from line {opened} on"
        return what, "indent it by as many spaces as they are"
    return f"the file cannot be followed here: {problem}", "check indentation, colons and brackets"
