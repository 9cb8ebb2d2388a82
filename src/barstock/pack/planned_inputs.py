"""What a plan was made from is kept beside it: the drawing and the shop as they then
were written.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

FOLDER = "as-planned"


def as_written(build: bytes, workshop: Path) -> dict[str, bytes]:
    """Both files by the names they are kept under; a shop that is not there is left out."""
    written = {"build.yaml": build}
    if workshop.is_file():
        written["workshop.yaml"] = workshop.read_bytes()
    return written


def keep_as_planned(out: Path, written: Mapping[str, bytes]) -> list[Path]:
    """Put both files into the output folder, and return where they lie. Raises OSError."""
    place = out / FOLDER
    place.mkdir()
    for name, content in written.items():
        (place / name).write_bytes(content)
    return [place / name for name in written]
