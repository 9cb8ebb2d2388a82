"""The picture of a setup: the work as it leaves it, in the vise as held, seen by the operator.

Lines of the work are heavy, of the vise light; the moving jaw is drawn as if of glass. Surfaces cut
in this setup are hatched and tinted. Made from the proof's own solids.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from barstock.drawing.build import Vec
from barstock.pack.body_picture import Shown
from barstock.pack.drawing_style import (
    CELL,
    HEIGHT,
    TINTS,
    WIDTH,
    Tone,
    drawn_lines,
    framed,
    hatch_angle,
    points,
    shade,
    tones_drawn,
)
from barstock.pack.fresh_faces import freshly_cut
from barstock.pack.holding_picture import vise
from barstock.pack.inscribing import Inscription, inscribed
from barstock.pack.picture_notes import notes, tilt_lines
from barstock.proving.placing import Datum, datum
from barstock.route import Setup
from barstock.solids.shapes import Solid, together
from barstock.solids.skin import Patch, edges, patches
from barstock.solids.strokes import Flat
from barstock.solids.viewpoint import Eye, Flats, Plate, silhouettes

ROUND, ABOVE = 30.0, 36.0
"""The eye stands this far to the side and above [degrees]."""
MARGIN = (15.0, 11.0)
"""Left free beside and above for words [mm]."""
ARROW = 13.0
"""Length of an axis at the zero [mm on paper]."""
FINE = 0.02
"""Curves are drawn within this [mm]."""

LEGEND = (
    f'<path d="M3,103H11V107H3Z" fill="{TINTS["fresh"][1]}" stroke="#000" stroke-width="0.25"/>'
    '<path d="M3.5,107L7.5,103M5.5,107L9.5,103M7.5,107L11,103.5" stroke="#24435c" '
    'stroke-width="0.2"/><text x="12.5" y="106.4" font-size="3.8" font-style="italic" '
    'fill="#000">cut in this setup</text>\n'
)

OWN = ("work", "parallels", "stop")
SMALL = ("screw", "strap", "clamp")


def tint(of: str) -> str:
    """What a thing is drawn as: the work, what lies under it, what holds it fast, or the vise."""
    return of if of in OWN else "stop" if of in SMALL else "vise"


@dataclass
class _Scene:
    """What is laid on the plate so far."""

    plate: Plate
    tones: dict[Tone, int] = field(default_factory=dict)

    def label(self, tone: Tone) -> int:
        return self.tones.setdefault(tone, len(self.tones))

    def lay(self, patch: Patch, of: str, fresh: bool = False) -> None:
        eye, normals = self.plate.eye, patch.normals
        angle = None
        if fresh:
            angle = hatch_angle(normals[0], eye) if patch.flat else 45.0
        kind = "fresh" if fresh else of
        turned = normals[:1] if patch.flat else normals
        labels = [self.label(Tone(kind, shade(n), angle)) for n in turned.tolist()]
        self.plate.lay(patch, labels * len(normals) if patch.flat else labels)


def setup_picture(setup: Setup, solid: Solid, fresh: Solid) -> str:
    """The picture of the work after `setup` as SVG, 160 x 110 mm.

    solid: the work after the setup; fresh: the metal cut away in it; both in the table frame.
    Raises ValueError if there is no work to draw.
    """
    skin = patches(solid, FINE)
    new = freshly_cut(skin, patches(fresh, FINE))
    low, high = solid.bounds
    held = vise(setup.holding, low, high, setup.holding.opening, skin)
    before = solid if fresh.empty else together([solid, fresh])
    zero = datum(setup, before)
    skins = [(body, patches(body.solid, FINE)) for body in held.bodies]
    eye = _eye(setup, skin, new, [its_skin for _, its_skin in skins], zero)
    scene = _Scene(Plate(eye, WIDTH, HEIGHT, CELL))
    for patch, is_new in zip(skin, new, strict=True):
        scene.lay(patch, "work", is_new)
    lines: dict[str, list[Flats]] = {"vise": [], "parallels": [], "stop": [], "work": []}
    laid = [(body, its_skin) for body, its_skin in skins if body.of != "moving jaw"]
    for body, its_skin in laid:
        for patch in its_skin:
            scene.lay(patch, tint(body.of))
    for body, its_skin in [*laid, (Shown("work", solid), skin)]:
        of = tint(body.of)
        lines[of] += _visible(scene.plate, body.solid, its_skin)
    glass = [(body, its_skin) for body, its_skin in skins if body.of == "moving jaw"]
    covered = scene.plate.label >= 0
    covered[round(100 / CELL) :, : round(42 / CELL)] = True  # the legend's
    seen = (scene.plate.first_seen, scene.plate.first_bare)
    inscriptions = [
        Inscription(note.words, eye.at(seen[note.glass](note.spots)))
        for note in notes(setup, solid, zero, held.bodies)
    ]
    axes, room = _axes(setup, zero, scene.plate)
    drawn = [
        tones_drawn(scene.plate, list(scene.tones)),
        *(drawn_lines(found, of) for of, found in lines.items()),
        *(_glass(*one, scene.plate, covered) for one in glass),
        _tilt(setup, low, high, eye),
        *inscribed(inscriptions, covered, room, CELL),
        axes,
        LEGEND if any(new) else "",
    ]
    return framed(drawn)


def _eye(
    setup: Setup,
    skin: Sequence[Patch],
    new: Sequence[bool],
    bodies: Sequence[Sequence[Patch]],
    zero: Datum,
) -> Eye:
    """In front and above, on the side that shows more of what was cut; else away from the stop."""
    shown = []
    for side in (ROUND, -ROUND):
        toward = np.array(Eye(side, ABOVE).toward)
        areas = [
            float(_areas(p) @ np.maximum(p.normals @ toward, 0.0))
            for p, fresh in zip(skin, new, strict=True)
            if fresh
        ]
        shown.append(sum(areas))
    side = -ROUND if setup.holding.stop == "right" else ROUND
    if abs(shown[0] - shown[1]) > 0.1 * max(shown):
        side = ROUND if shown[0] > shown[1] else -ROUND
    everything = [p.points for p in skin]
    everything += [p.points for body in bodies for p in body]
    left, top = MARGIN
    room = (left, top, WIDTH - left, HEIGHT - top)
    eye = Eye(side, ABOVE).fitted(np.concatenate(everything), room)
    far = 1.3 * ARROW / eye.scale
    tips = np.array([(zero.x, zero.y, zero.z)]) + far * np.vstack((np.zeros(3), np.eye(3)))
    return eye.fitted(np.concatenate([*everything, tips]), room)


def _areas(patch: Patch) -> NDArray[Any]:
    a, b, c = patch.triangles.transpose(1, 0, 2)
    return np.asarray(np.linalg.norm(np.cross(b - a, c - a), axis=1) / 2)


def _visible(plate: Plate, solid: Solid, skin: Sequence[Patch]) -> list[Flats]:
    lines = edges(solid, FINE)
    lines += [line for patch in skin for line in silhouettes(patch, plate.eye.toward)]
    return [part for line in lines for part in plate.visible(line)]


def _glass(body: Shown, skin: Sequence[Patch], plate: Plate, covered: NDArray[Any]) -> str:
    """A body in front that one looks through: its near faces' edges in chain-dotted line."""
    own = Plate(plate.eye, WIDTH, HEIGHT, CELL)
    for patch in skin:
        own.lay(patch, [0] * len(patch.corners))
    covered |= own.label >= 0
    lines = [part for line in edges(body.solid, FINE) for part in own.visible(line)]
    path = "".join(f"M{points(line.tolist())}" for line in lines)
    return (
        f'<path d="{path}" stroke="#000" stroke-width="0.25" '
        f'stroke-dasharray="4 0.9 0.5 0.9 0.5 0.9"/>\n'
    )


def _tilt(setup: Setup, low: Vec, high: Vec, eye: Eye) -> str:
    """A level line beside a tilted work and the angle between."""
    if not setup.holding.tilt:
        return ""
    level, edge, arc = (
        f"M{points([eye.at(p) for p in line])}" for line in tilt_lines(setup.holding, low, high)
    )
    return (
        f'<path d="{level}" stroke="#000" stroke-width="0.25" stroke-dasharray="5 0.9 0.5 0.9"/>'
        f'<path d="{edge}{arc}" stroke="#000" stroke-width="0.25"/>\n'
    )


def _axes(setup: Setup, zero: Datum, plate: Plate) -> tuple[str, list[Flat]]:
    """The zero as a crossed circle with an arrow along each axis found there; room it takes.

    Broken lines where the work or the vise hides it.
    """
    origin: Vec = (zero.x, zero.y, zero.z)
    eye, dash = plate.eye, "" if plate.sees(origin) else ' stroke-dasharray="1.2 0.8"'
    at = eye.at(origin)
    drawn, room = [], [at]
    for i, (name, found) in enumerate(
        (("X", setup.zero_x), ("Y", setup.zero_y), ("Z", setup.zero_z))
    ):
        if found.find == "none":
            continue
        tip = list(origin)
        tip[i] += ARROW / eye.scale
        x, y = eye.at((tip[0], tip[1], tip[2]))
        drawn.append(_axis(name, at, (x, y), dash))
        room += [(at[0] + k * (x - at[0]), at[1] + k * (y - at[1])) for k in (0.3, 0.7, 1.0, 1.3)]
    if not drawn:
        return "", []
    x, y, r = *at, 2.1
    fill = "none" if dash else "#fff"
    circle = (
        f'<g stroke="#000" stroke-width="0.45"><circle cx="{x:.2f}" cy="{y:.2f}" r="{r}" '
        f'fill="{fill}"{dash}/>'
        f'<path d="M{x:.2f},{y - r:.2f}V{y + r:.2f}M{x - r:.2f},{y:.2f}H{x + r:.2f}"/></g>\n'
    )
    return "".join(drawn) + circle, room


def _axis(name: str, start: Flat, tip: Flat, dash: str) -> str:
    dx, dy = tip[0] - start[0], tip[1] - start[1]
    n = max(float(np.hypot(dx, dy)), 1e-6)
    dx, dy = dx / n, dy / n
    bx, by = tip[0] - 2.6 * dx, tip[1] - 2.6 * dy
    head = [tip, (bx - 0.8 * dy, by + 0.8 * dx), (bx + 0.8 * dy, by - 0.8 * dx)]
    x, y = tip[0] + 2.2 * dx, tip[1] + 2.2 * dy + 1.4
    shaft = f"M{points([start, (bx, by)])}"
    return (
        f'<path d="{shaft}" stroke="#fff" stroke-width="1.3"/>'
        f'<path d="{shaft}" stroke="#000" stroke-width="0.5"{dash}/>'
        f'<path d="M{points(head)}Z" fill="#000"/>'
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="4.2" font-weight="bold" text-anchor="middle" '
        f'fill="#000" stroke="#fff" stroke-width="1" paint-order="stroke">{name}</text>\n'
    )
