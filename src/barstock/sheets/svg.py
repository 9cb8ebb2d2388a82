"""A sheet as SVG, in mm."""

from __future__ import annotations

import math
from pathlib import Path
from xml.sax.saxutils import escape

from barstock.sheets.sheet import DASHES, WIDTH, Layer, Mark, Patch, Sheet, Text
from barstock.solids.strokes import Arc, Flat, Stroke
from barstock.store.whole_files import write_whole

FOUNT = "'DejaVu Sans Mono', 'Liberation Mono', Menlo, Consolas, monospace"


def svg(sheet: Sheet) -> str:
    """The sheet as an SVG document of the paper's size."""
    width, height = f"{sheet.width:g}", f"{sheet.height:g}"
    groups = "".join(_group(sheet, layer) for layer in Layer)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" font-family="{FOUNT}">\n'
        f"<title>{escape(sheet.title)}</title>\n"
        f'<rect width="{width}" height="{height}" fill="#fff"/>\n{groups}</svg>\n'
    )


def _group(sheet: Sheet, layer: Layer) -> str:
    paths, rest = [], []
    for ink in sheet.ink:
        if ink.layer is not layer:
            continue
        if isinstance(ink, Mark):
            paths.append(_path(ink.stroke, sheet.height))
        elif isinstance(ink, Patch):
            corners = " ".join(_at(p, sheet.height) for p in ink.corners)
            rest.append(f'<polygon points="{corners}"/>\n')
        else:
            rest.append(_lettering(ink, sheet.height))
    if not paths and not rest:
        return ""
    dash = f' stroke-dasharray="{" ".join(map(str, DASHES[layer]))}"' if layer in DASHES else ""
    # every stroke its own path, so that each starts with a whole dash
    lines = "".join(f'<path d="{path}"/>\n' for path in paths)
    return (
        f'<g id="{layer}">\n<g fill="none" stroke="#000" stroke-width="{WIDTH[layer]}" '
        f'stroke-linecap="{"butt" if dash else "round"}" stroke-linejoin="round"{dash}>\n'
        f"{lines}</g>\n{''.join(rest)}</g>\n"
    )


def _at(p: Flat, height: float) -> str:
    return f"{round(p[0], 3):g},{round(height - p[1], 3):g}"


def _path(stroke: Stroke, height: float) -> str:
    if not isinstance(stroke, Arc):
        first, *rest = (_at(p, height) for p in stroke.points)
        return f"M{first}L{' '.join(rest)}"
    r, steps = f"{stroke.radius:.4g}", 1 if stroke.sweep < 180 else 2
    ends = [stroke.at(stroke.start + stroke.sweep * i / steps) for i in range(steps + 1)]
    arcs = "".join(f"A{r} {r} 0 0 0 {_at(p, height)}" for p in ends[1:])
    close = "Z" if math.isclose(stroke.sweep, 360) else ""
    return f"M{_at(ends[0], height)}{arcs}{close}"


def _lettering(text: Text, height: float) -> str:
    x, y = text.at[0], height - text.at[1]
    turn = f' transform="rotate({-text.turn:g} {x:.3f} {y:.3f})"' if text.turn else ""
    anchor = "" if text.anchor == "start" else f' text-anchor="{text.anchor}"'
    return (
        f'<text x="{x:.3f}" y="{y:.3f}" font-size="{text.size:.3f}"{anchor}{turn}>'
        f"{escape(text.words)}</text>\n"
    )


def write_svg(sheet: Sheet, path: Path) -> None:
    """Write the sheet. Raises OSError if the file cannot be written."""
    write_whole(path, svg(sheet).encode())
