"""Kept work is held within bounds: what was used longest ago is deleted first."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from filelock import ReadWriteLock, Timeout

MOST = 256 * 2**20
"""What a build's folder of kept work may take [bytes]."""
LOCK = "in-use"


@contextmanager
def in_use(cache: Path, most: int = MOST) -> Iterator[None]:
    """Use a folder of kept work, and prune it after; never while another run uses it too."""
    cache.mkdir(parents=True, exist_ok=True)
    lock = ReadWriteLock(cache / LOCK, is_singleton=False)
    with lock.read_lock():
        yield
    try:
        with lock.write_lock(blocking=False):
            prune(cache, most)
    except Timeout:
        return  # who leaves last prunes


def prune(cache: Path, most: int = MOST) -> None:
    """Delete what was used longest ago until the rest takes `most` [bytes] or less.

    Kept work lies in the cache's folders, each file or folder there one piece. One whose name
    begins with a dot was left behind half made, and goes in any case.
    """
    pieces = [(*_used(piece), piece) for kind in cache.iterdir() if kind.is_dir()
              for piece in kind.iterdir()]  # fmt: skip
    room = most
    for _, size, piece in sorted(pieces, reverse=True):
        room -= size
        if room < 0 or piece.name.startswith("."):
            if piece.is_dir():
                shutil.rmtree(piece, ignore_errors=True)
            else:
                piece.unlink(missing_ok=True)


def _used(piece: Path) -> tuple[float, int]:
    """When kept work was last used, and what it takes [bytes]."""
    files = [piece] if piece.is_file() else [p for p in piece.rglob("*") if p.is_file()]
    marks = [file.stat() for file in files]
    times = [piece.stat().st_mtime, *(max(mark.st_mtime, mark.st_atime) for mark in marks)]
    return max(times), sum(mark.st_size for mark in marks)
