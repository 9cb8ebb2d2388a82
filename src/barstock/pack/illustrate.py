"""The pack's pictures: the work in each setup, and the parts' drawings; kept by content."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

from barstock import methods, sheets
from barstock.drawing.model import Build
from barstock.pack.kept import digest, kept, program
from barstock.proving.stored import key_of

Progress = Callable[[str, float], None]


def part_drawings(
    build: Build, folder: Path, paper: str, cache: Path
) -> tuple[dict[str, str], list[Path]]:
    """Draw every part into a folder; each drawing's SVG by the part's name, and the files."""
    from barstock.sheets.draw import draw_all

    folder.mkdir(parents=True, exist_ok=True)
    source = program(sheets) + program(methods)
    shown, files = {}, []
    for part in build.parts:
        name = part.name
        on_part = key_of(part, build.least_wall, [], [])
        key = digest(on_part, build.name, build.projection, build.general, paper, source)
        made = kept(cache / "drawings", key, lambda draft, n=name: draw_all(build, draft, n, paper))
        for file in sorted(made.iterdir()):
            files.append(Path(shutil.copy(file, folder)))
            if file.suffix == ".svg":
                shown[name] = file.read_text(encoding="utf-8")
    return shown, files
