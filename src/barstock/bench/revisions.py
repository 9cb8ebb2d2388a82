"""The build's file as pages edit it: nobody's change is lost, and each can be taken back."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from filelock import FileLock

from barstock.store.whole_files import write_whole

FOLDER = ".barstock-undo"
"""Beside the build: its former texts, each named by a number and the mark of what replaced it."""
KEPT = 200
"""Former texts kept at most."""


class ChangedMeanwhileError(Exception):
    """Raised where the file is no longer as it was when the change was begun."""


@dataclass(frozen=True)
class Former:
    """A text of the file that was replaced. then: mark of what replaced it."""

    path: Path
    then: str


class Revisions:
    """A file and its former texts. Several programs and devices may use them at once."""

    def __init__(self, file: Path) -> None:
        self.file = file
        self.folder = file.parent / FOLDER

    def text(self) -> str:
        """The file as it is. Raises OSError, UnicodeDecodeError."""
        return self.file.read_bytes().decode("utf-8")

    def write(self, text: str, mark: str) -> None:
        """Replace the file whose text had that mark.

        Raises ChangedMeanwhileError where it has another by now; OSError.
        """
        with self._alone():
            now = self.text()
            if mark_of(now) != mark:
                raise ChangedMeanwhileError
            if text == now:
                return
            self._keep("undo", now, mark_of(text))
            for one in self._formers("redo"):
                one.path.unlink()
            write_whole(self.file, text.encode(), lasting=True)

    def can(self, which: str) -> bool:
        """Can the last change be taken back ("undo") or made again ("redo"), the file being as it
        was left?
        """
        formers = self._formers(which)
        return bool(formers) and formers[-1].then == mark_of(self.text())

    def step(self, which: str) -> None:
        """Take the last change back ("undo"), or make it again ("redo").

        Raises ChangedMeanwhileError where the file was changed since, or there is nothing; OSError.
        """
        with self._alone():
            if not self.can(which):
                raise ChangedMeanwhileError
            last, now = self._formers(which)[-1], self.text()
            text = last.path.read_bytes().decode("utf-8")
            self._keep("redo" if which == "undo" else "undo", now, mark_of(text))
            write_whole(self.file, text.encode(), lasting=True)
            last.path.unlink()

    def _formers(self, which: str) -> list[Former]:
        found = sorted(self.folder.glob(f"{which}-*.yaml"))
        return [Former(path, path.stem.rsplit("-", 1)[1]) for path in found]

    def _keep(self, which: str, text: str, then: str) -> None:
        formers = self._formers(which)
        n = int(formers[-1].path.stem.split("-")[1]) + 1 if formers else 1
        path = self.folder / f"{which}-{n:06d}-{then}.yaml"
        write_whole(path, text.encode(), lasting=True)
        for old in formers[: max(0, len(formers) + 1 - KEPT)]:
            old.path.unlink()

    @contextmanager
    def _alone(self) -> Iterator[None]:
        self.folder.mkdir(exist_ok=True)
        with FileLock(self.folder / "in-use"):
            yield


def mark_of(text: str) -> str:
    """A mark that tells one text from every other."""
    return hashlib.sha256(text.encode()).hexdigest()[:24]
