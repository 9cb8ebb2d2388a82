"""What records and the program itself say, as plain data and as digests: the same in every run."""

from __future__ import annotations

import hashlib
import json
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache
from pathlib import Path
from typing import Any

from barstock.reading.faults import Place


def content_key(*content: object) -> str:
    """A digest of all that records say, the same in every run; but for where they were written."""
    said = [plain(one) for one in content]
    return hashlib.sha256(json.dumps(said, sort_keys=True).encode()).hexdigest()[:32]


def plain(value: Any) -> Any:
    """`value` as JSON, without where in the file it was written."""
    if isinstance(value, Place):
        return None
    if is_dataclass(value) and not isinstance(value, type):
        name = type(value).__name__
        return [name, {f.name: plain(getattr(value, f.name)) for f in fields(value)}]
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, dict):
        return {str(k): plain(v) for k, v in value.items()}
    if isinstance(value, frozenset | set):
        return sorted(json.dumps(plain(v), sort_keys=True) for v in value)
    if isinstance(value, list | tuple):
        return [plain(v) for v in value]
    return value if isinstance(value, str | int | float | bool | None) else repr(value)


@cache
def program(*packages: str) -> str:
    """A digest of the source of barstock's packages, of all where none is named: what they make is
    to be made again when it changes."""
    source, found = Path(__file__).parents[1], hashlib.sha256()
    for package in packages or ("",):
        for file in sorted((source / package).rglob("*.py")):
            found.update(file.read_bytes())
    return found.hexdigest()
