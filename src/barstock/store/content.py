"""What records say, as plain data, and the keys that kept work goes by: the same in every run."""

from __future__ import annotations

import hashlib
import json
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from barstock.reading.faults import Place

SHAPING = (".py", ".typ", ".css", ".html")
"""Files of the program that shape what it makes."""
PLAIN = frozenset({str, int, float, bool, type(None)})
"""What JSON has by itself."""
LIBRARIES = (
    "build123d",
    "cadquery-ocp",
    "cadquery-ocp-novtk",
    "clarabel",
    "ezdxf",
    "numpy",
    "ortools",
    "scipy",
    "typst",
)
"""Libraries whose versions shape what is kept: kernel, setter, solvers."""


def key(*content: object) -> str:
    """The key that a piece of work is kept by: all that records say but for where they were
    written, the program itself, and the libraries it was made with.
    """
    return digest(program(), *content)


def digest(*content: object) -> str:
    """A digest of what records say and of nothing else."""
    told = [plain(one) for one in content]
    return hashlib.sha256(json.dumps(told, sort_keys=True).encode()).hexdigest()[:32]


def plain(value: Any) -> Any:
    """The value as JSON, without where in the file it was written."""
    if type(value) in PLAIN:  # nearly all are: asked first, for speed
        return value
    if isinstance(value, list | tuple):
        return [plain(v) for v in value]
    if isinstance(value, Place):
        return None
    if isinstance(value, BaseModel):
        return [type(value).__name__, value.model_dump(mode="json")]
    if is_dataclass(value) and not isinstance(value, type):
        name = type(value).__name__
        return [name, {f.name: plain(getattr(value, f.name)) for f in fields(value)}]
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, dict):
        return {str(k): plain(v) for k, v in value.items()}
    if isinstance(value, frozenset | set):
        return sorted(json.dumps(plain(v), sort_keys=True) for v in value)
    return value if isinstance(value, str | int | float) else repr(value)


@cache
def program() -> str:
    """A digest of all of barstock's source and of the versions of the libraries that shape its
    work.
    """
    source, found = Path(__file__).parents[1], hashlib.sha256()
    for file in sorted(p for p in source.rglob("*") if p.suffix in SHAPING):
        found.update(file.relative_to(source).as_posix().encode())
        found.update(file.read_bytes())
    for name in LIBRARIES:
        found.update(f"{name} {_version(name)}\n".encode())
    return found.hexdigest()


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return ""
