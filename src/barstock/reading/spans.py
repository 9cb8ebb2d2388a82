"""Where in a YAML text each value stands, to change it there and leave every other letter alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from io import StringIO
from typing import Any

Path = tuple[str | int, ...]
"""From the whole text inward: names of tables, numbers of lists from 0."""


@dataclass
class Span:
    """A value: text[start:end] is what is written. key: of its name, (-1, -1) where it has none.

    style: quotation mark or sign of a block text, "" where plain. flow: in brackets; None for a
    text. inner: what is inside by name, or by number; text: what a text says. mark: the name by
    which it may be repeated elsewhere, "" where it has none.
    """

    start: int
    end: int
    key: tuple[int, int] = (-1, -1)
    style: str = ""
    flow: bool | None = None
    text: str = ""
    mark: str = ""
    inner: dict[str | int, Span] = field(default_factory=dict)

    def at(self, path: Path) -> Span:
        """The value at a path. Raises KeyError where nothing is."""
        here = self
        for step in path:
            here = here.inner[step]
        return here


@lru_cache(8)
def spans(text: str) -> Span:
    """The whole text as spans, not to be changed.

    Raises ValueError where it is no YAML that is read here.
    """
    from ruamel.yaml import YAML
    from ruamel.yaml.error import YAMLError

    events = iter(YAML(typ="safe", pure=True).parse(StringIO(text)))
    try:
        for event in events:
            if not type(event).__name__.startswith(("Stream", "Document")):
                return _value(event, events)
    except (YAMLError, RecursionError) as wrong:
        raise ValueError(str(wrong)) from wrong
    return Span(len(text), len(text))


def _value(event: Any, events: Iterator[Any]) -> Span:
    name, start = type(event).__name__, event.start_mark.index
    if name == "ScalarEvent":
        end = event.end_mark.index
        mark = event.anchor or ""
        return Span(start, end, style=event.style or "", text=event.value, mark=mark)
    if name == "AliasEvent":
        return Span(start, event.end_mark.index, text=f"*{event.anchor}")
    found = Span(start, start, flow=bool(event.flow_style), mark=event.anchor or "")
    while not type(event := next(events)).__name__.endswith("EndEvent"):
        if name == "SequenceStartEvent":
            inner = _value(event, events)
            found.inner[len(found.inner)] = inner
        else:
            key = _value(event, events)
            inner = _value(next(events), events)
            inner.key = (key.start, key.end)
            if inner.flow is None and not inner.text and not inner.style:
                inner.start = inner.end = key.end + 1  # after the colon
            found.inner[key.text] = inner
        found.end = inner.end
    if found.flow:
        found.end = event.end_mark.index
    return found
