"""Folders of files that take long to make, kept by the content they were made from."""

from __future__ import annotations

import hashlib
import os
import shutil
import tempfile
from collections.abc import Callable
from concurrent.futures import Future
from dataclasses import dataclass
from pathlib import Path

from barstock.solids.hands import Hands

CACHE = ".barstock-cache"
"""Folder of a build where kept work lies."""


def digest(*content: str) -> str:
    """A digest of all of `content`."""
    found = hashlib.sha256()
    for one in content:
        raw = one.encode()
        found.update(f"{len(raw)}:".encode() + raw)
    return found.hexdigest()[:32]


@dataclass(frozen=True)
class Kept:
    """A folder to be kept under `cache`, by a key that tells its content; `make` fills it.

    name: for whoever waits.
    """

    cache: Path
    key: str
    make: Callable[[Path], object]
    name: str = ""

    @property
    def place(self) -> Path:
        """Where the files are."""
        return self.cache / self.key

    def asked(self, hands: Hands) -> Future[Path]:
        """The folder, there or yet to be made by others; `make` must be such as can be pickled."""
        return (Hands(0) if self.place.is_dir() else hands).ask(self.fetch)

    def fetch(self) -> Path:
        """The folder, made now where it is not there yet; it is whole or not there.

        Raises OSError, and what `make` raises.
        """
        if self.place.is_dir():
            os.utime(self.place)  # it was used today
            return self.place
        self.cache.mkdir(parents=True, exist_ok=True)
        draft = Path(tempfile.mkdtemp(prefix=f".{self.key}-", dir=self.cache))
        try:
            self.make(draft)
            draft.rename(self.place)
        except OSError:
            if not self.place.is_dir():  # else another run has just made it
                raise
        finally:
            shutil.rmtree(draft, ignore_errors=True)
        return self.place
