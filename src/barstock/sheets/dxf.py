"""A sheet as DXF (R2010), at the part's true size: the paper is enlarged instead."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

from barstock.sheets.sheet import DASHES, WIDTH, Layer, Mark, Patch, Sheet
from barstock.solids.strokes import Arc, Flat, Segment, Stroke
from barstock.store.whole_files import write_whole


def write_dxf(sheet: Sheet, path: Path) -> None:
    """Write the sheet; the three views measure true [mm], whatever their scale on paper.

    Raises OSError if the file cannot be written.
    """
    import ezdxf
    from ezdxf.enums import TextEntityAlignment
    from ezdxf.units import MM

    true = 1 / sheet.scale
    drawing = ezdxf.new("R2010", units=MM)
    drawing.styles.add("lettering", font="DejaVuSansMono.ttf")
    for layer in Layer:
        kind = "CONTINUOUS"
        if layer in DASHES:
            lengths = [n * true * (-1) ** i for i, n in enumerate(DASHES[layer])]
            pattern = [sum(map(abs, lengths)), *lengths]
            kind = drawing.linetypes.add(f"{layer}".upper(), pattern).dxf.name
        drawing.layers.add(layer, linetype=kind, lineweight=round(WIDTH[layer] * 100))
    align = {
        "start": TextEntityAlignment.LEFT,
        "middle": TextEntityAlignment.CENTER,
        "end": TextEntityAlignment.RIGHT,
    }
    space = drawing.modelspace()
    for ink in sheet.ink:
        on = {"layer": ink.layer}
        if isinstance(ink, Mark):
            _stroke(space, ink.stroke.moved(true, (0.0, 0.0)), on)
        elif isinstance(ink, Patch):
            corners = [_enlarged(p, true) for p in ink.corners]
            space.add_solid([*corners, corners[-1]], dxfattribs=on)
        else:
            text = space.add_text(
                ink.words,
                height=ink.height * true,
                rotation=ink.turn,
                dxfattribs={**on, "style": "lettering"},
            )
            text.set_placement(_enlarged(ink.at, true), align=align[ink.anchor])
    out = io.StringIO()
    drawing.write(out)
    write_whole(path, drawing.encode(out.getvalue()))


def _stroke(space: Any, stroke: Stroke, on: dict[str, Layer]) -> None:
    if isinstance(stroke, Segment):
        space.add_line(stroke.start, stroke.end, dxfattribs=on)
    elif isinstance(stroke, Arc) and stroke.sweep > 359.99:
        space.add_circle(stroke.centre, stroke.radius, dxfattribs=on)
    elif isinstance(stroke, Arc):
        end = stroke.start + stroke.sweep
        space.add_arc(stroke.centre, stroke.radius, stroke.start, end, dxfattribs=on)
    else:
        space.add_lwpolyline(stroke.points, dxfattribs=on)


def _enlarged(p: Flat, by: float) -> Flat:
    return (p[0] * by, p[1] * by)
