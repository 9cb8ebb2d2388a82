"""A text's faults and its drawing are found in another process before the text is written."""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from collections.abc import Callable
from functools import partial
from pathlib import Path
from threading import Lock
from typing import Any

from barstock.reading.faults import Fault
from barstock.solids.workers import Workers

TextCheck = Callable[..., Any]
"""Looks over a text, as `barstock.look_over` does: (folder, text, part)."""
MOST = 32
"""Texts and drawings remembered."""


class TextChecker:
    """Checks texts of build.yaml in a process of its own, so that the pages go on answering."""

    def __init__(self, folder: Path, look: TextCheck, workers: Workers) -> None:
        self.file = str(folder / "build.yaml")
        self._task = partial(look, folder)
        self._workers = workers
        self._known: OrderedDict[tuple[str, str], tuple[list[Fault], str]] = OrderedDict()
        self._drawings: OrderedDict[str, str] = OrderedDict()
        self._lock = Lock()

    def check(self, text: str, part: str = "") -> tuple[list[Fault], str]:
        """The faults of a text as `check` finds them; the key of a part's drawing, "" for none."""
        with self._lock:
            if (text, part) in self._known:
                return self._known[text, part]
        found = self._workers.ask(partial(self._task, text, part)).result()
        key = hashlib.sha256(found.drawing.encode()).hexdigest()[:32] if found.drawing else ""
        with self._lock:
            self._known[text, part] = list(found.faults), key
            if key:
                self._drawings[key] = found.drawing
            for kept in (self._known, self._drawings):
                while len(kept) > MOST:
                    kept.popitem(last=False)
        return list(found.faults), key

    def drawing(self, key: str) -> str | None:
        """A drawing that `check` made, by its key."""
        return self._drawings.get(key)
