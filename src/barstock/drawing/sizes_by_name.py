"""The sizes written in a build by name, and the build's text with other sizes in their place.

A size goes by where it stands: part/length, part/feature/width, part/feature/at/left.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from barstock.reading.nodes import Entry, Node, Table, Text, inside

HOLDERS = ("parts", "fabrications")
OF_PARTS = ("pins", "fits", "mechanism")
"""What names parts."""
UNSAID = "features"
"""Left out of a size's name."""
FIGURE = re.compile(r"\s*[-+]?(?:\d+-\d+/\d+|\d+/\d+|\d*\.?\d+)", re.ASCII)
OVERALL = ("length", "width", "height")
OF_THE_BAR = ("bar", "as bought")


def written_sizes(build: Table, part: str) -> dict[str, str]:
    """Every single figure or word written of a part or a fabrication, by name."""
    found: dict[str, str] = {}
    for holder in HOLDERS:
        entry = build.entries.get(holder)
        if entry is not None and isinstance(entry.value, Table) and part in entry.value.entries:
            found.update(_texts(part, entry.value.entries[part].value))
    return found


def written_features(build: Table) -> dict[str, list[str]]:
    """The features written of every part and fabrication, by its name."""
    owners = {name: of for holder in HOLDERS for name, of in inside(build, holder).items()}
    return {name: list(inside(of, "features")) for name, of in owners.items()}


def _texts(name: str, node: Node) -> Iterator[tuple[str, str]]:
    if isinstance(node, Text):
        yield name, node.text
    elif isinstance(node, Table):
        for word, entry in node.entries.items():
            yield from _texts(name if word == UNSAID else f"{name}/{word}", entry.value)


def with_sizes(build: Table, sizes: Mapping[str, str]) -> Table:
    """The build's table with other figures under these names.

    A part with another overall size is no longer tied to the bar named for it. Raises
    KeyError for a name under which nothing is written.
    """
    left = dict(sizes)
    entries = {}
    for word, entry in build.entries.items():
        made = entry.value
        if word in HOLDERS and isinstance(made, Table):
            made = _changed("", made, left)
        entries[word] = Entry(entry.place, made)
    if left:
        raise KeyError(next(iter(left)))
    return replace(build, entries=entries)


def only_parts(build: Table, names: Collection[str]) -> Table:
    """The build's table with a few of its parts and fabrications, and nothing that names others.

    What is left then varies freely, and is read quickly.
    """
    entries = {word: entry for word, entry in build.entries.items() if word not in OF_PARTS}
    for holder in HOLDERS:
        entry = build.entries.get(holder)
        if entry is not None and isinstance(entry.value, Table):
            kept = {name: each for name, each in entry.value.entries.items() if name in names}
            entries[holder] = Entry(entry.place, Table(entry.value.place, kept))
    return replace(build, entries=entries)


def _changed(before: str, table: Table, sizes: dict[str, str]) -> Table:
    entries = {}
    freed = OF_THE_BAR if any(f"{before}/{side}" in sizes for side in OVERALL) else ()
    for word, entry in table.entries.items():
        if word in freed:
            continue
        name = before if word == UNSAID else f"{before}/{word}".strip("/")
        value = entry.value
        if isinstance(value, Text) and name in sizes:
            value = Text(value.place, sizes.pop(name))
        elif isinstance(value, Table):
            value = _changed(name, value, sizes)
        entries[word] = Entry(entry.place, value)
    return replace(table, entries=entries)


def restated(text: str, value: float) -> str:
    """A size as written, but with another figure; its limits, unit or fit stay.

    Raises ValueError where it does not begin with a figure.

    >>> restated("8.0 +0.05/0", 8.25), restated("1.5°", 2.0)
    ('8.25 +0.05/0', '2°')
    """
    found = FIGURE.match(text)
    if found is None:
        raise ValueError(f"'{text}' does not begin with a figure")
    return f"{value:.12g}{text[found.end() :]}"
