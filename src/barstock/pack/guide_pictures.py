"""Pictures of a block in its guide: together, drawn apart, and cut through to show the clearance.

Made from the solids of the parts as drawn, the ones the proof compares the work with. The block is
light, what stands fixed is grey; a surface that is cut through is hatched, each part its own way.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from barstock.drawing.build import Vec
from barstock.mechanism.guides.guide_assembly import Stood
from barstock.pack.drawing_style import (
    CELL,
    HEIGHT,
    WIDTH,
    Tone,
    drawn_lines,
    framed,
    shade,
    tones_drawn,
)
from barstock.pack.inscribing import Inscription, inscribed
from barstock.solids.shapes import Placement, Solid, box
from barstock.solids.skin import Patch, edges, patches
from barstock.solids.strokes import Flat
from barstock.solids.viewpoint import Eye, Flats, Plate, silhouettes

AROUND, ABOVE = 32.0, 28.0
"""The eye stands this far to the side and above [degrees]."""
LOW = 60.0
"""Height of a picture that is wider than high [mm]."""
ABOVE_FREE = 8.0
"""Left free above and below [mm]."""
LETTER, MOST_BESIDE = 2.7, 50.0
"""Left free beside for each letter of the longest name, and at most for all [mm]."""
FINE = 0.03
APART = 0.6
"""How far fixed parts are drawn away, as a share of the block's size."""
FAR = 1000.0
"""A block larger than any part, to cut halves away by [mm]."""
HATCHES = (45.0, 135.0, 20.0, 110.0)


@dataclass(frozen=True)
class Body:
    """A part in a picture. of: how it is tinted; hatch: of what is cut [degrees]."""

    name: str
    of: str
    solid: Solid
    hatch: float


def pictures(stood: Sequence[Stood]) -> dict[str, str]:
    """The pictures as SVG texts: "together", "apart", "cut along", 160 x 110 mm, and "cut across",
    LOW.
    """
    bodies = _bodies(stood)
    block = stood[0].solid.bounds
    return {
        "together": _picture(bodies, Eye(AROUND, ABOVE)),
        "apart": _picture(_apart(bodies, block), Eye(AROUND, ABOVE)),
        "cut along": _picture(_cut(bodies, 1, -FAR), Eye(0.0, 0.0), cut=(1, -1.0)),
        "cut across": cut_across(stood),
    }


def cut_across(stood: Sequence[Stood]) -> str:
    """The picture "cut across" alone: how the block sits between the faces beside it."""
    return _picture(_cut(_bodies(stood), 2, FAR), Eye(0.0, 90.0), cut=(2, 1.0), height=LOW)


def _bodies(stood: Sequence[Stood]) -> list[Body]:
    return [
        Body(one.standing.name, "vise" if n else "work", one.solid, HATCHES[n % len(HATCHES)])
        for n, one in enumerate(stood)
    ]


def _apart(bodies: Sequence[Body], block: tuple[Vec, Vec]) -> list[Body]:
    """The fixed parts moved outward, each the way it stands from the block."""
    size = max(block[1][i] - block[0][i] for i in range(3))
    found = [bodies[0]]
    for body in bodies[1:]:
        low, high = body.solid.bounds
        middle = [(low[i] + high[i]) / 2 for i in range(3)]
        axis = max(range(3), key=lambda i: abs(middle[i]))
        shift = [0.0, 0.0, 0.0]
        shift[axis] = APART * size * (1 if middle[axis] > 0 else -1)
        moved = body.solid.moved(Placement(shift=(shift[0], shift[1], shift[2])))
        found.append(Body(body.name, body.of, moved, body.hatch))
    return found


def _cut(bodies: Sequence[Body], axis: int, far: float) -> list[Body]:
    """All bodies less what lies beyond the middle along an axis, on the side of `far`."""
    low, high = [-FAR] * 3, [FAR] * 3
    (high if far < 0 else low)[axis] = 0.0
    half = box((low[0], low[1], low[2]), (high[0], high[1], high[2]))
    found = [Body(b.name, b.of, b.solid.cut(half), b.hatch) for b in bodies]
    return [body for body in found if not body.solid.empty]


def _picture(
    bodies: Sequence[Body],
    look: Eye,
    cut: tuple[int, float] | None = None,
    height: float = HEIGHT,
) -> str:
    laid = [(body, patches(body.solid, FINE)) for body in bodies]
    everything = np.concatenate([p.points for _, skin in laid for p in skin])
    left = min(MOST_BESIDE, 4.0 + LETTER * max(len(body.name) for body in bodies))
    top = ABOVE_FREE
    eye = look.fitted(everything, (left, top, WIDTH - left, height - top))
    plate, tones = Plate(eye, WIDTH, height, CELL), list[tuple[str, Tone]]()
    for body, skin in laid:
        for patch in skin:
            sliced = cut is not None and _sliced(patch, *cut)
            labels = []
            for normal in patch.normals.tolist():
                of = "fresh" if sliced and body.of == "work" else body.of
                tone = Tone(of, 0 if sliced else shade(normal), body.hatch if sliced else None)
                if (body.name, tone) not in tones:
                    tones.append((body.name, tone))
                labels.append(tones.index((body.name, tone)))
            plate.lay(patch, labels)
    lines: dict[str, list[Flats]] = {"vise": [], "work": []}
    for body, skin in laid:
        found = edges(body.solid, FINE)
        found += [line for patch in skin for line in silhouettes(patch, eye.toward)]
        lines[body.of] += [part for line in found for part in plate.visible(line)]
    names = [
        Inscription((body.name,), _spot(plate, [n == body.name for n, _ in tones]))
        for body, _ in laid
    ]
    drawn = [
        tones_drawn(plate, [tone for _, tone in tones]),
        *(drawn_lines(found, of) for of, found in lines.items()),
        *inscribed(names, plate.label >= 0, [], CELL),
    ]
    return framed(drawn, height)


def _sliced(patch: Patch, axis: int, sign: float) -> bool:
    """Does a face lie in the cut?"""
    return bool(
        patch.flat
        and (np.abs(patch.points[:, axis]) < 1e-6).all()
        and patch.normals[0][axis] * sign > 0.99
    )


def _spot(plate: Plate, own: Sequence[bool]) -> Flat:
    """A place on paper to point at a body: the deepest within what is seen of it."""
    from scipy.ndimage import distance_transform_edt

    seen = np.isin(plate.label, np.flatnonzero(own))
    row, column = np.unravel_index(distance_transform_edt(seen).argmax(), seen.shape)
    return ((float(column) + 0.5) * plate.cell, (float(row) + 0.5) * plate.cell)
