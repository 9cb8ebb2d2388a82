"""A part drawn on one sheet: three views, isometric view, dimensions, title block."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from fractions import Fraction
from pathlib import Path

from barstock import methods
from barstock.drawing.build import Build, Part, Vec
from barstock.methods.drawn_solid import drawn_solid, with_seams
from barstock.methods.kind import Drawn
from barstock.sheets.arrange import arranged
from barstock.sheets.dxf import write_dxf
from barstock.sheets.joint_symbols import list_height, numbered, parts_list
from barstock.sheets.pdf import write_pdf
from barstock.sheets.sheet import Sheet
from barstock.sheets.svg import write_svg
from barstock.sheets.thread_symbols import tapped_holes
from barstock.sheets.title import frame_and_title, paper_of
from barstock.sheets.view_choice import views
from barstock.solids.step_files import write_step

SCALES = (10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05)
"""Scales of ISO 5455, largest first."""


def draw_part(part: Part, build: Build, paper: str = "a4", dated: date | None = None) -> Sheet:
    """Draw the part at the largest scale of ISO 5455 that fits the paper ("a4", "letter").

    Raises ValueError if the paper is not known or the part is too large for any scale.
    """
    solid = with_seams(part)
    sheet = paper_of(paper)
    seen = views(solid, build.projection.startswith("first"))
    holes = tapped_holes(part)
    dimensions = [*_dimensions(part), *numbered(part)]
    free = sheet.free
    free = replace(free, bottom=free.bottom + list_height(part))
    for scale in SCALES:
        placed = arranged(part, solid, seen, holes, dimensions, scale, free)
        if placed is not None:
            break
    else:
        raise ValueError(f"{part.name} is too large for a drawing on {paper}")
    title = frame_and_title(part, build, sheet, _written(scale), dated or date.today())
    title += parts_list(part, sheet.block)
    return Sheet(part.name, sheet.width, sheet.height, scale, (*placed, *title))


def draw_all(
    build: Build,
    folder: Path,
    part: str | None = None,
    paper: str = "a4",
    dates: Mapping[str, date] | None = None,
) -> list[Path]:
    """Write every part's drawing (or one's) as SVG, DXF and PDF with its STEP beside; return the
    files.

    dates: of the drawings by their parts' names; else today. Raises KeyError if there is no such
    part, OSError if a file cannot be written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    files = []
    for one in build.parts if part is None else (build.part(part),):
        sheet = draw_part(one, build, paper, (dates or {}).get(one.name))
        stem = one.name.replace(" ", "-").replace("/", "-")
        for suffix, write in (("svg", write_svg), ("dxf", write_dxf), ("pdf", write_pdf)):
            files.append(folder / f"{stem}.{suffix}")
            write(sheet, files[-1])
        files.append(folder / f"{stem}.step")
        write_step(files[-1], drawn_solid(one))
    return files


def _written(scale: float) -> str:
    ratio = Fraction(scale).limit_denominator(100)
    return f"{ratio.numerator}:{ratio.denominator}"


def _dimensions(part: Part) -> list[Drawn]:
    """All that the sheet must say: the features' own dimensions and the part's three sizes."""
    drawn = [d for f in part.features for d in methods.KINDS[f.kind].drawn(f.spec, part)]
    for axis, view in ((0, "front"), (1, "top"), (2, "front")):
        if part.round and axis == 1:
            continue
        ends: list[Vec] = [(0.0, 0.0, 0.0), (0.0, 0.0, 0.0)]
        far = [0.0, 0.0, 0.0]
        far[axis] = part.size[axis]
        ends[1] = (far[0], far[1], far[2])
        prefix = "⌀" if part.round and axis == 2 else ""
        whole = Drawn("overall", part.dimension(axis), view, ends[0], ends[1], prefix=prefix)
        drawn.append(whole)
    return list(dict.fromkeys(drawn))
