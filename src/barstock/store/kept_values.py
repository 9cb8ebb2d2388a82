"""Values that took long to find, each kept in a file of its own by what it is found from."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from pathlib import Path
from typing import Any

from barstock.store.content import key
from barstock.store.whole_files import write_whole

FIGURES = "figures"
"""Folder of a build's kept work where figures of solids lie."""
_FOLDER: ContextVar[Path | None] = ContextVar("folder", default=None)


@contextmanager
def figures_in(folder: Path | None) -> Iterator[None]:
    """Keep figures in a folder, and take them from there; with None nothing is kept."""
    before = _FOLDER.set(folder)
    try:
        yield
    finally:
        _FOLDER.reset(before)


def figure(form: Any, find: Callable[[], Any], *of: object) -> Any:
    """The value that `find` finds, of the type `form`, kept in the folder of `figures_in` by `of`.

    Raises OSError where the folder cannot be written.
    """
    folder = _FOLDER.get()
    return find() if folder is None else kept_value(folder, form, find, *of)


def kept_value(folder: Path, form: Any, find: Callable[[], Any], *of: object) -> Any:
    """The value that `find` finds, of the type `form`, kept in a file by `of`.

    An unreadable one is found anew. Raises OSError where it cannot be written.
    """
    from pydantic import TypeAdapter

    place, written = folder / f"{key(*of)}.json", TypeAdapter(form)
    try:
        found = written.validate_python(json.loads(place.read_bytes()))
        os.utime(place)  # it was used today
        return found
    except (OSError, ValueError):
        pass
    found = find()
    place.parent.mkdir(parents=True, exist_ok=True)
    write_whole(place, json.dumps(written.dump_python(found, mode="json")).encode())
    return found
