"""Changing a build's text: only what is meant changes, and changing it back leaves no trace."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from barstock.reading.editing import EditError, put, remove, rename, source
from barstock.reading.nodes import plain, read_text
from barstock.reading.spans import Path as Where
from barstock.reading.spans import Span, spans

SAMPLES = Path(__file__).parents[2] / "src" / "barstock" / "samples"
FILES = sorted(SAMPLES.glob("*/build.yaml"))
EVERY = 7
"""Of the values of a long file one in so many is tried, beginning elsewhere in each file."""


def values(span: Span, path: Where = ()) -> Iterator[Where]:
    """Where each text stands."""
    if span.flow is None:
        yield path
    for name, inner in span.inner.items():
        yield from values(inner, (*path, name))


def tables(span: Span, path: Where = ()) -> Iterator[Where]:
    if span.flow is not None and span.inner and all(isinstance(n, str) for n in span.inner):
        yield path
    for name, inner in span.inner.items():
        yield from tables(inner, (*path, name))


def said(text: str) -> object:
    """What the reader of builds makes of it."""
    table, faults = read_text(text, "build.yaml")
    assert table is not None, faults
    return plain(table)


def some(found: list[Where], n: int) -> list[Where]:
    return found if len(found) < 40 else found[n % EVERY :: EVERY]


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.parent.name)
def test_setting_a_value_and_setting_it_back(file: Path) -> None:
    text = file.read_text("utf-8")
    for path in some(list(values(spans(text))), len(text)):
        was = source(text, path)
        other = put(text, path, "3-7/16 ±.002")
        expected = said(text)
        inside = expected
        for step in path[:-1]:
            inside = inside[step]  # type: ignore[index]
        inside[path[-1]] = "3-7/16 ±.002"  # type: ignore[index]
        assert said(other) == expected, path
        assert other.count("#") == text.count("#"), path
        assert put(other, path, was) == text, path


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.parent.name)
def test_adding_and_taking_out(file: Path) -> None:
    text = file.read_text("utf-8")
    new = "kind: slot\n# the width of the key\nface: top\nposition: {width: centre}"
    for path in some(list(tables(spans(text))), len(text)):
        flow = spans(text).at(path).flow
        added = put(text, (*path, "a new one"), "{kind: slot}" if flow else new)
        assert added != text
        assert source(added, (*path, "a new one")) == ("{kind: slot}" if flow else new)
        assert remove(added, (*path, "a new one")) == text, path


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.parent.name)
def test_another_name_and_the_old_one(file: Path) -> None:
    text = file.read_text("utf-8")
    for path in some([p for p in tables(spans(text)) if p and isinstance(p[-1], str)], len(text)):
        other = rename(text, path, "another name")
        assert rename(other, (*path[:-1], "another name"), str(path[-1])) == text


TEXT = """\
# a box
build: Box   # its name
parts:
  box:
    length: 1-3/8      # over all
    bore: "8 H7"
    at: {left: 5, width: centre}
    features:
      slot:
        # which slot
        kind: slot
        width: 8
    material: brass
"""


@pytest.mark.parametrize(
    ("path", "new", "line"),
    [
        ("length", "1-7/16", "    length: 1-7/16      # over all"),
        ("bore", "8 H8", '    bore: "8 H8"'),
        ("length", "#36", '    length: "#36"      # over all'),
        ("length", "{of: 3}", "    length: {of: 3}      # over all"),
        ("at", "{left: 6, width: centre}", "    at: {left: 6, width: centre}"),
        ("at", "centre", "    at: centre"),
    ],
)
def test_a_line_is_written_as_one_would(path: str, new: str, line: str) -> None:
    changed = put(TEXT, ("parts", "box", path), new)
    differing = set(changed.splitlines()) ^ set(TEXT.splitlines())
    assert line in differing
    assert len(differing) == 2
    assert put(changed, ("parts", "box", path), source(TEXT, ("parts", "box", path))) == TEXT


def test_a_block_keeps_its_comments_and_its_place() -> None:
    where = ("parts", "box", "features", "slot")
    written = source(TEXT, where)
    assert written == "kind: slot\nwidth: 8"
    deeper = put(TEXT, where, "kind: slot\nwidth: 9 # wider\nends: square")
    assert "        width: 9 # wider\n        ends: square\n    material" in deeper
    assert "        # which slot\n" in deeper


def test_the_last_one_out_and_the_first_one_in() -> None:
    bare = remove(TEXT, ("parts", "box", "features", "slot"))
    assert "    features: {}\n" in bare
    again = put(bare, ("parts", "box", "features", "slot"), "kind: slot\nwidth: 8")
    assert said(again) == said(TEXT)


@pytest.mark.parametrize("ending", ["\n", ""])
def test_at_the_end_of_the_file(ending: str) -> None:
    text = "build: Box\nparts:\n  box:\n    length: 3" + ending
    added = put(text, ("parts", "box", "width"), "8 H7")
    assert said(added)["parts"]["box"]["width"] == "8 H7"  # type: ignore[index]
    assert remove(added, ("parts", "box", "width")) == text


@pytest.mark.parametrize("text", ["", "\n", "# nothing yet\n"])
def test_the_first_value_of_a_file(text: str) -> None:
    made = put(text, ("times",), "3")
    assert made.strip().endswith("times: 3")
    assert made.startswith(text.strip())


def test_line_ends_of_other_systems_stay() -> None:
    text = TEXT.replace("\n", "\r\n")
    changed = put(text, ("parts", "box", "length"), "2")
    assert changed.count("\r\n") == text.count("\r\n")
    assert put(changed, ("parts", "box", "length"), "1-3/8") == text
    added = put(text, ("parts", "box", "features", "key"), "kind: slot\nwidth: 3")
    assert added.count("\n") == added.count("\r\n") == text.count("\n") + 3
    assert remove(added, ("parts", "box", "features", "key")) == text


@pytest.mark.parametrize("bad", ["{left: 5", "[1, 2", "left: 5\n wrong: [", "a\n: b\n- c"])
def test_what_cannot_be_followed_is_refused(bad: str) -> None:
    with pytest.raises(EditError, match="cannot be"):
        put(TEXT, ("parts", "box", "at"), bad)


def test_a_name_that_is_taken() -> None:
    with pytest.raises(EditError, match="there is a 'bore' already"):
        rename(TEXT, ("parts", "box", "length"), "bore")
