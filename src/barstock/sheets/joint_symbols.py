"""A fabrication on its drawing: pieces numbered in circles (ISO 6433) with the parts list that they
refer to (ISO 7573), and joints by their symbols (ISO 2553, system A): arrow line, reference line
with a dashed one under it, the joint's sign, and a tail with the process and the filler.

The signs are those of ISO 2553, from memory; 912 is flame brazing by ISO 4063, from memory.
"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.drawing.build import Part, Vec
from barstock.drawing.part import Joined, Piece
from barstock.methods.kind import Drawn
from barstock.methods.pieces_meeting import meeting
from barstock.quantities import Dimension
from barstock.sheets.sheet import Area, Ink, Layer, Mark, Text, line, width_of
from barstock.solids.strokes import Arc, Flat

PROCESS = "912"
BALLOON, JOINT = "balloon", "joint "
RADIUS = 3.2
"""Of a number's circle [mm]."""
SIGN = 9.0
"""Length of the reference line that carries the sign [mm]."""
ROW = 5.0
"""Height of a row of the parts list [mm]."""
COLUMNS = (("no", 10.0), ("off", 10.0), ("piece", 48.0), ("material", 40.0))


def numbered(part: Part) -> Iterator[Drawn]:
    """What points at the pieces and the joints of a fabrication, in the front view."""
    joined = part.joined
    if joined is None:
        return
    for number, piece in enumerate(_listed(joined), 1):
        low, high = piece.box
        middle = _between(low, high, 0.5, 0.35)
        yield Drawn(piece.name, Dimension(0.0, text=str(number)), "front", middle, middle, BALLOON)
    for joint in joined.joints:
        met = meeting(joint, joined)
        if met is not None:
            low, high = met.bounds
            at = _between(low, high, 0.5, 0.5)
            words = f"{PROCESS}, {joint.fillers[0]}"
            style = JOINT + joint.form
            yield Drawn(joint.name, Dimension(0.0, text=words), "front", at, at, style)


def _listed(joined: Joined) -> Iterator[Piece]:
    """The first piece of every part: pieces alike have one number."""
    seen = set()
    for piece in joined.pieces:
        if piece.part.name not in seen:
            seen.add(piece.part.name)
            yield piece


def _between(low: Vec, high: Vec, across: float, up: float) -> Vec:
    x, y = (low[i] + across * (high[i] - low[i]) for i in (0, 1))
    return (x, y, low[2] + up * (high[2] - low[2]))


def list_height(part: Part) -> float:
    """The room that the parts list takes above the title block [mm]."""
    return 0.0 if part.joined is None else ROW * (len(_rows(part)) + 1) + 2.0


def parts_list(part: Part, block: Area) -> list[Ink]:
    """The parts list on the title block: numbers grow upward, so that there is room for more."""
    rows = _rows(part)
    if not rows:
        return []
    ink: list[Ink] = []
    right = block.right
    left = right - sum(wide for _, wide in COLUMNS)
    for n, row in enumerate([tuple(name for name, _ in COLUMNS), *rows]):
        y, x = block.top + n * ROW, left
        ink.append(line((left, y + ROW), (right, y + ROW), Layer.FRAME))
        for (_, wide), words in zip(COLUMNS, row, strict=True):
            height = 1.8 if n == 0 else min(2.5, 2.5 * (wide - 2) / max(width_of(words), 1e-6))
            ink.append(Text(words, (x + 1.2, y + 1.5), height, "start"))
            ink.append(line((x, y), (x, y + ROW), Layer.FRAME))
            x += wide
    return ink


def _rows(part: Part) -> list[tuple[str, ...]]:
    if part.joined is None:
        return []
    pieces = [piece.part for piece in part.joined.pieces]
    return [
        (str(n), str(pieces.count(p)), p.name, p.material)
        for n, p in enumerate(dict.fromkeys(pieces), 1)
    ]


# -- signs at the end of a leader ------------------------------------------------------------------


def balloon(at: Flat, side: int) -> tuple[Ink, Flat]:
    """A number's circle beside the leader's end, and its middle."""
    middle = (at[0] + side * RADIUS, at[1])
    return Mark(Arc(middle, RADIUS), Layer.DIMENSION), middle


def joint_sign(form: str, elbow: Flat, side: int) -> list[Ink]:
    """The reference line, dashed line, joint's sign and tail, from the leader's elbow outward."""
    x, y = elbow
    end = x + side * (SIGN + 2.0)
    middle = x + side * (SIGN / 2 + 0.5)
    ink: list[Ink] = [line(elbow, (end, y), Layer.DIMENSION)]
    dash, gap = 1.6, 0.8
    n = 0.0
    while n + dash <= SIGN + 2.0:
        ink.append(line((x + side * n, y - 1.0), (x + side * (n + dash), y - 1.0), Layer.DIMENSION))
        n += dash + gap
    ink += [
        line((end, y), (end + side * 2.0, y + 2.0), Layer.DIMENSION),
        line((end, y), (end + side * 2.0, y - 2.0), Layer.DIMENSION),
    ]
    return ink + [line(a, b, Layer.DIMENSION) for a, b in _strokes(form, middle, y)]


def _strokes(form: str, x: float, y: float) -> list[tuple[Flat, Flat]]:
    """The sign on the reference line: ‖ for a butt, a triangle for fillets, = for faces that lap,
    // for a scarf."""
    if form == "butt":
        return [((x + d, y), (x + d, y + 3.0)) for d in (-0.6, 0.6)]
    if form == "lap":
        return [((x - 1.6, y + h), (x + 1.6, y + h)) for h in (1.0, 2.2)]
    if form == "scarf":
        return [((x + d - 0.9, y), (x + d + 0.9, y + 3.0)) for d in (-0.7, 0.7)]
    return [((x, y), (x, y + 3.0)), ((x, y + 3.0), (x + 3.0, y))]


def tail(elbow: Flat, side: int) -> Flat:
    """Where the words of a joint begin: past the fork of its tail."""
    return (elbow[0] + side * (SIGN + 2.0 + 2.6), elbow[1] - 0.9)
