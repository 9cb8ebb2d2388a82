"""Writes a build's output: the pack, the route, the pictures and the parts' drawings."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from barstock.drawing.model import Build
from barstock.pack.compose import compose, picture_names
from barstock.pack.printed import Paper, pdf
from barstock.pack.route_file import FILE as ROUTE_FILE
from barstock.pack.route_file import route_text
from barstock.pack.webpage import html
from barstock.planning.route import Route
from barstock.workshop.model import Workshop


def write_pack(
    folder: Path,
    route: Route,
    build: Build,
    workshop: Workshop,
    pictures: Mapping[str, str],
    drawings: Mapping[str, str],
    paper: Paper = Paper.A4,
) -> list[Path]:
    """Write pack.pdf, pack.html, route.json and pictures/ into a folder; the files written.

    pictures: SVG text by setup id; drawings: SVG text by part name. Raises OSError.
    """
    pack = compose(route, build, workshop, pictures, drawings)
    shown = {f"setup-{name}": svg for name, svg in pictures.items()}
    shown |= {n: drawings[part] for n, part in picture_names(build).items() if part in drawings}
    files = {
        "pack.pdf": pdf(pack, shown, paper),
        "pack.html": html(pack, shown).encode(),
        ROUTE_FILE: route_text(route).encode(),
    }
    files |= {f"pictures/setup-{name}.svg": svg.encode() for name, svg in pictures.items()}
    for name, content in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    return [folder / name for name in files]
