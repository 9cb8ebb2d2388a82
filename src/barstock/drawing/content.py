"""What records say, as plain data and as a digest: the same in every run."""

from __future__ import annotations

import hashlib
import json
from dataclasses import fields, is_dataclass
from enum import Enum
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
