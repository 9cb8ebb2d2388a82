"""A folder of output is whole or not there: it is made beside, then put in its place."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from barstock.pack.route_file import FILE as ROUTE_FILE


@contextmanager
def whole_folder(place: Path) -> Iterator[Path]:
    """A folder to write into, which becomes `place` at the end, and leaves no trace on an error.

    Raises FileExistsError if `place` holds what barstock has not made (no route.json among it).
    """
    if place.exists() and not _ours(place):
        raise FileExistsError(
            f"{place} holds files that are not from a plan; move them, it is made anew every time"
        )
    draft = Path(tempfile.mkdtemp(prefix=f".{place.name}-", dir=place.parent))
    try:
        new = draft / "new"
        new.mkdir()
        yield new
        old = draft / "old"
        if place.exists():
            place.rename(old)
        try:
            new.rename(place)
        except BaseException:
            if old.exists() and not place.exists():
                old.rename(place)
            raise
    finally:
        shutil.rmtree(draft, ignore_errors=True)


def _ours(place: Path) -> bool:
    return place.is_dir() and (not any(place.iterdir()) or (place / ROUTE_FILE).is_file())
