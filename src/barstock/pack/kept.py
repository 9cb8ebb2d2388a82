"""Folders of files that take long to make, kept by the content they were made from."""

from __future__ import annotations

import hashlib
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path
from types import ModuleType


def digest(*content: str) -> str:
    """A digest of all of `content`."""
    found = hashlib.sha256()
    for one in content:
        raw = one.encode()
        found.update(f"{len(raw)}:".encode() + raw)
    return found.hexdigest()[:32]


def program(package: ModuleType) -> str:
    """The source of a package, for what it makes changes with it."""
    folder = Path(next(iter(package.__path__)))
    return "".join(path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.py")))


def kept(cache: Path, key: str, make: Callable[[Path], object]) -> Path:
    """The folder kept under `key`; where there is none, `make` fills it. It is whole or not there.

    Raises OSError, and what `make` raises.
    """
    place = cache / key
    if place.is_dir():
        return place
    cache.mkdir(parents=True, exist_ok=True)
    draft = Path(tempfile.mkdtemp(prefix=f".{key}-", dir=cache))
    try:
        make(draft)
        draft.rename(place)
    except OSError:
        if not place.is_dir():  # else another run has just made it
            raise
    finally:
        shutil.rmtree(draft, ignore_errors=True)
    return place
