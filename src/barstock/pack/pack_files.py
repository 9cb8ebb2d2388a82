"""Writes a build's output: the pack, the route, the pictures and the parts' drawings."""

from __future__ import annotations

from collections.abc import Mapping
from concurrent.futures import Future
from dataclasses import dataclass, replace
from pathlib import Path

from barstock.drawing.build import Build
from barstock.pack.bench_marks import marked
from barstock.pack.compose import compose, picture_names
from barstock.pack.illustrate import blanks
from barstock.pack.moving_kept import read_moving
from barstock.pack.pack_pages import Pack
from barstock.pack.pdf_printing import Paper, pdf
from barstock.pack.route_chart import chart
from barstock.pack.route_file import FILE as ROUTE_FILE
from barstock.pack.route_file import route_text
from barstock.pack.webpage import html
from barstock.route import Route
from barstock.workshop.shop import Workshop

CHART = "order-of-work"
"""Name of the route's picture."""


@dataclass(frozen=True)
class Unpictured:
    """A pack complete but for the pictures of the work.

    drawn: the folder of a part's drawing files by its name; moving: that of the pages of what
    moves; both to come. bench_address: of the bench pages, "" for none.
    """

    route: Route
    build: Build
    workshop: Workshop
    drawn: Mapping[str, Future[Path]]
    moving: Future[Path]
    paper: Paper = Paper.A4
    bench_address: str = ""

    def set_beforehand(self) -> None:
        """Set the pack with its pictures left blank, for nothing but that the setter remembers.

        Done while they are drawn, it makes `write` quicker by all that is laid out by then.
        """
        pdf(*self._laid_out(blanks(self.route)), self.paper)

    def write(self, folder: Path, pictures: Mapping[str, str]) -> list[Path]:
        """Write pack.pdf, pack.html, route.json, pictures/ and parts/ into a folder; the files.

        pictures: SVG text by setup id, or by a heat's own name. Raises OSError.
        """
        pack, shown = self._laid_out(pictures)
        files = {
            "pack.pdf": pdf(pack, shown, self.paper),
            "pack.html": html(pack, shown).encode(),
            ROUTE_FILE: route_text(self.route).encode(),
        }
        files[f"pictures/{CHART}.svg"] = shown[CHART].encode()
        files |= {f"pictures/{_file(name)}.svg": svg.encode() for name, svg in pictures.items()}
        files |= {
            f"parts/{file.name}": file.read_bytes()
            for place in self.drawn.values()
            for file in sorted(place.result().iterdir())
        }
        for name, content in files.items():
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
        return [folder / name for name in files]

    def _laid_out(self, pictures: Mapping[str, str]) -> tuple[Pack, dict[str, str]]:
        """The pages, and all pictures by the names that the pages use."""
        drawings = {
            part: file.read_text(encoding="utf-8")
            for part, place in self.drawn.items()
            for file in place.result().glob("*.svg")
        }
        moving = read_moving(self.moving.result())
        pack = compose(self.route, self.build, self.workshop, pictures, drawings, CHART)
        pack, marks = marked(replace(pack, moving=moving.pages), self.bench_address)
        shown = {_file(name): svg for name, svg in pictures.items()}
        shown |= dict(moving.pictures) | marks
        shown[CHART] = chart(self.route)
        names = picture_names(self.build)
        shown |= {n: drawings[part] for n, part in names.items() if part in drawings}
        return pack, shown


def _file(picture: str) -> str:
    """A setup's picture is named after it; a heat's has its name already."""
    return f"setup-{picture}" if picture.isdigit() else picture
