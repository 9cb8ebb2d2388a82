"""The sheet's frame (ISO 5457), title block (ISO 7200) and projection symbol (ISO 5456-2)."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from textwrap import wrap

from barstock.drawing.build import Build, Face, Part
from barstock.quantities import Unit
from barstock.sheets.no_filler import NOTE
from barstock.sheets.sheet import Area, Ink, Layer, Mark, Text, line, width_of
from barstock.solids.strokes import Arc

PAPERS = {"a4": (297.0, 210.0), "letter": (279.4, 215.9)}
"""Width and height of a sheet, landscape [mm]."""
BLOCK = (180.0, 24.0)
"""Width (ISO 7200) and height of the title block [mm]."""


@dataclass(frozen=True)
class Paper:
    """A sheet of paper: its size, and the area within the frame [mm]."""

    width: float
    height: float

    @property
    def frame(self) -> Area:
        """The area within the frame: 20 mm for filing on the left, 10 mm elsewhere (ISO 5457)."""
        return Area(20.0, 10.0, self.width - 10.0, self.height - 10.0)

    @property
    def block(self) -> Area:
        """The title block's area."""
        frame = self.frame
        return Area(frame.right - BLOCK[0], frame.bottom, frame.right, frame.bottom + BLOCK[1])

    @property
    def free(self) -> Area:
        """The area that the views may fill."""
        frame = self.frame
        return Area(frame.left + 4, self.block.top + 4, frame.right - 4, frame.top - 4)


def paper_of(name: str) -> Paper:
    """The paper of a name. Raises ValueError for one not known."""
    try:
        return Paper(*PAPERS[name.lower()])
    except KeyError:
        known = " or ".join(PAPERS)
        raise ValueError(f"'{name}' is no paper known here; say {known}") from None


def frame_and_title(part: Part, build: Build, paper: Paper, scale: str, dated: date) -> list[Ink]:
    """Everything on the sheet that is not the part."""
    ink = _box(paper.frame) + _box(paper.block)
    b = paper.block
    rows = [b.bottom + 8 * i for i in range(4)]
    inch = part.unit is Unit.INCH
    general = part.general or build.general
    general_fits = width_of(general) < 60
    cells = [
        (0, 110, 2, "build", build.name),
        (110, 70, 2, "material", part.material),
        (0, 110, 1, "part", part.title or part.name),
        (110, 35, 1, "copies", str(part.copies)),
        (145, 35, 1, "scale", scale),
        (0, 62, 0, "limits where none stand", general if general_fits else "noted left"),
        (62, 48, 0, "figures in", "inches" if inch else "millimetres"),
        (110, 35, 0, "date", dated.isoformat()),
    ]
    for left, wide, row, caption, value in cells:
        x, y = b.left + left, rows[row]
        ink += _box(Area(x, y, x + wide, y + 8))
        ink.append(Text(caption, (x + 1.2, y + 5.8), 1.5, "start"))
        ink.append(_fitted(value, x + 1.2, y + 1.4, wide - 2.4))
    ink += symbol(b.left + 151, rows[0] + 4, build.projection.startswith("first"))
    notes = _notes(part)
    if not general_fits:
        notes.append(f"limits where none stand: {general}")
    return ink + _noted(notes, paper)


def _notes(part: Part) -> list[str]:
    notes = [f"bar {part.section}"] if part.section and part.made is None else []
    if part.made is not None:
        notes.append(str(part.made))
    elif part.round:
        notes.append("left as the bar comes: all round")
    elif part.as_bought:
        faces = ", ".join(face for face in Face if face in part.as_bought)
        notes.append(f"left as the bar comes: {faces}")
    if part.no_filler:
        notes.append(NOTE)
    notes += [f"{f.name}: {f.by_hand}" for f in part.features if f.by_hand is not None]
    if part.unread:
        notes.append(f"not complete: {', '.join(sorted(part.unread))} cannot be read")
    return notes


def _noted(notes: list[str], paper: Paper) -> list[Ink]:
    """Notes left of the title block, lettered smaller where they take many lines."""
    room = paper.block.left - paper.frame.left - 6
    height = 2.5
    while height > 1.5:
        letters = int(room / width_of("x", height))
        rows = [row for note in notes for row in wrap(note, letters)]
        if len(rows) * 1.75 * height < BLOCK[1]:
            break
        height -= 0.25
    x, top = paper.frame.left + 3, paper.block.top
    return [
        Text(row, (x, top - (i + 0.85) * 1.75 * height), height, "start")
        for i, row in enumerate(rows)
    ]


def _fitted(words: str, x: float, y: float, room: float, height: float = 3.0) -> Text:
    """Lettering made small enough for its room."""
    wide = width_of(words, height) or room
    return Text(words, (x, y), height * min(1.0, room / wide), "start")


def _box(area: Area) -> list[Ink]:
    corners = [
        (area.left, area.bottom),
        (area.right, area.bottom),
        (area.right, area.top),
        (area.left, area.top),
    ]
    turned = corners[1:] + corners[:1]
    return [line(a, b, Layer.FRAME) for a, b in zip(corners, turned, strict=True)]


def symbol(x: float, y: float, first_angle: bool) -> list[Ink]:
    """The projection symbol: a truncated cone, small end left, and its view from the left; `x`,
    `y`: left end of the axis.

    First angle puts that view on the right of the cone, third angle on the left.
    """
    small, large, long, gap = 1.3, 2.6, 7.0, 4.6
    cone = x if first_angle else x + 2 * large + gap
    ring = x + long + gap + large if first_angle else x + large
    tip = cone + long
    edges = [
        ((cone, y - small), (cone, y + small)),
        ((tip, y - large), (tip, y + large)),
        ((cone, y + small), (tip, y + large)),
        ((cone, y - small), (tip, y - large)),
    ]
    ink: list[Ink] = [line(a, b, Layer.FRAME) for a, b in edges]
    ink += [Mark(Arc((ring, y), r), Layer.FRAME) for r in (small, large)]
    ink.append(line((cone - 1, y), (tip + 1, y), Layer.CENTRE))
    ink.append(line((ring - large - 1, y), (ring + large + 1, y), Layer.CENTRE))
    ink.append(line((ring, y - large - 1), (ring, y + large + 1), Layer.CENTRE))
    return ink
