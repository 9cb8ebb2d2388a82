"""Figures of solids kept on disk by what they are figures of: what did not change is not built
again, nor the kernel loaded for it."""

from __future__ import annotations

import json
import os
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from pathlib import Path
from typing import Any

from barstock.drawing.content import content_key, program

FIGURES = "figures"
"""Folder of a build's kept work where figures lie."""
RESTS_ON = ("drawing", "methods", "mechanism", "solids")
"""Packages whose words a figure rests on."""
_FOLDER: ContextVar[Path | None] = ContextVar("folder", default=None)


@contextmanager
def figures_in(folder: Path | None) -> Iterator[None]:
    """Keep figures in a folder, and take them from there; None keeps nothing."""
    before = _FOLDER.set(folder)
    try:
        yield
    finally:
        _FOLDER.reset(before)


def known(form: Any, find: Callable[[], Any], *of: object) -> Any:
    """What `find` finds, of the type `form`, asked for once for the same `of`.

    Raises OSError where the folder cannot be written.
    """
    folder = _FOLDER.get()
    if folder is None:
        return find()
    return kept(folder / content_key(program(*RESTS_ON), *of), form, find)


def kept(place: Path, form: Any, find: Callable[[], Any]) -> Any:
    """What `find` finds, of the type `form`, kept in a file; an unreadable one is found anew.

    Raises OSError where it cannot be written.
    """
    from pydantic import TypeAdapter

    written = TypeAdapter(form)
    try:
        return written.validate_python(json.loads(place.read_bytes()))
    except (OSError, ValueError):
        pass
    found = find()
    place.parent.mkdir(parents=True, exist_ok=True)
    handle, draft = tempfile.mkstemp(prefix=".", dir=place.parent)
    with os.fdopen(handle, "w") as file:
        json.dump(written.dump_python(found, mode="json"), file)
    os.replace(draft, place)
    return found
