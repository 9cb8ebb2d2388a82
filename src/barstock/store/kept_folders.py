"""Folders of files that take long to make, each kept by what it was made from."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

CACHE = ".barstock-cache"
"""Folder of a build where kept work lies."""


@dataclass(frozen=True)
class Kept:
    """A folder kept in `cache` by a key (store/content.py); `make` fills it.

    name: for whoever waits.
    """

    cache: Path
    key: str
    make: Callable[[Path], object]
    name: str = ""

    @property
    def place(self) -> Path:
        """The path where the files are."""
        return self.cache / self.key

    @property
    def there(self) -> bool:
        """Has the folder been made?"""
        return self.place.is_dir()

    def fetch(self) -> Path:
        """The folder, made now where it is not there yet; it is whole or not there.

        Raises OSError, and what `make` raises.
        """
        if self.there:
            os.utime(self.place)  # it was used today
            return self.place
        self.cache.mkdir(parents=True, exist_ok=True)
        draft = Path(tempfile.mkdtemp(prefix=f".{self.key}-", dir=self.cache))
        try:
            self.make(draft)
            draft.rename(self.place)
        except OSError:
            if not self.there:  # else another run has just made it
                raise
        finally:
            shutil.rmtree(draft, ignore_errors=True)
        return self.place

    def discard(self) -> None:
        """Delete the folder, where its files turn out to be spoilt."""
        shutil.rmtree(self.place, ignore_errors=True)
