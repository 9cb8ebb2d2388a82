"""Writes a build's output: the pack, the route, the pictures and the parts' drawings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from barstock.drawing.model import Build
from barstock.pack.bench_marks import marked
from barstock.pack.chart import chart
from barstock.pack.compose import compose, picture_names
from barstock.pack.moving_pages import Moving
from barstock.pack.printed import Paper, pdf
from barstock.pack.route_file import FILE as ROUTE_FILE
from barstock.pack.route_file import route_text
from barstock.pack.webpage import html
from barstock.planning.route import Route
from barstock.workshop.model import Workshop

CHART = "order-of-work"
"""Name of the route's picture."""


def write_pack(
    folder: Path,
    route: Route,
    build: Build,
    workshop: Workshop,
    pictures: Mapping[str, str],
    drawn: Mapping[str, Path],
    moving: Moving,
    paper: Paper = Paper.A4,
    bench_address: str = "",
) -> list[Path]:
    """Write pack.pdf, pack.html, route.json, pictures/ and parts/ into a folder; the files written.

    pictures: SVG text by setup id, or by a heat's own name; drawn: the folder of a part's drawing
    files by its name; moving: the pages of what moves; bench_address: of the bench pages, "" for
    none. Raises OSError.
    """
    drawings = {
        part: file.read_text(encoding="utf-8")
        for part, place in drawn.items()
        for file in place.glob("*.svg")
    }
    pack = compose(route, build, workshop, pictures, drawings, CHART)
    pack = replace(pack, moving=moving.pages)
    shown = {_file(name): svg for name, svg in pictures.items()}
    shown |= dict(moving.pictures)
    pack, marks = marked(pack, bench_address)
    shown |= marks
    shown[CHART] = chart(route)
    shown |= {n: drawings[part] for n, part in picture_names(build).items() if part in drawings}
    files = {
        "pack.pdf": pdf(pack, shown, paper),
        "pack.html": html(pack, shown).encode(),
        ROUTE_FILE: route_text(route).encode(),
    }
    files[f"pictures/{CHART}.svg"] = shown[CHART].encode()
    files |= {f"pictures/{_file(name)}.svg": svg.encode() for name, svg in pictures.items()}
    files |= {
        f"parts/{file.name}": file.read_bytes()
        for place in drawn.values()
        for file in sorted(place.iterdir())
    }
    for name, content in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    return [folder / name for name in files]


def _file(picture: str) -> str:
    """A setup's picture is named after it; a heat's has its name already."""
    return f"setup-{picture}" if picture.isdigit() else picture
