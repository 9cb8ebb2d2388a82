"""Finds what a feature's record holds, however deep."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any, TypeVar

Kind = TypeVar("Kind")


def every(kind: type[Kind], record: Any) -> Iterator[Kind]:
    """All records of a kind in a record, its own records and lists; those found are not looked
    into.
    """
    if isinstance(record, kind):
        yield record
    elif is_dataclass(record):
        for each in fields(record):
            yield from every(kind, getattr(record, each.name))
    elif isinstance(record, tuple | list):
        for one in record:
            yield from every(kind, one)
