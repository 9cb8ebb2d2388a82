"""The picture of a heat: the work in the attitude it is heated in, seen from above in front, with
where the rod is put to each joint; its block in outline behind it, so that it hides nothing. Made
from the proof's own solids.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from barstock.drawing.build import Face, Vec
from barstock.pack.drawing_style import (
    CELL,
    HEIGHT,
    WIDTH,
    Tone,
    drawn_lines,
    framed,
    points,
    shade,
    tones_drawn,
)
from barstock.pack.inscribing import Inscription, inscribed
from barstock.route import Fabrication, FixtureBlock, FixtureStop, Heat, StandingPiece
from barstock.solids.shapes import Placement, Solid, cylinder
from barstock.solids.skin import edges, patches
from barstock.solids.viewpoint import Eye, Flats, Plate, silhouettes
from barstock.words.each_heat import attitude

AROUND, ABOVE = 28.0, 30.0
"""The eye stands this far to the side and above [degrees]."""
MARGIN = (18.0, 12.0)
FINE = 0.05
BLOCK = "vise"  # the weight of its lines
ROD = 16.0
"""Length of the arrow where the rod is put [mm on paper]."""


def heat_picture(one: Fabrication, heat: Heat, finished: Mapping[str, Solid]) -> str:
    """The picture of a heat as SVG, 160 x 110 mm.

    finished: the solids of its pieces' parts, and of its fixture, as their routes leave them.
    """
    turn = _turned(heat.up)
    bodies: list[tuple[str, Solid]] = []
    for piece in one.pieces:
        bodies.append(("work", finished[piece.part].moved(_stands(piece)).moved(turn)))
    if one.fixture is not None and heat.on_fixture:
        block = _with_pins(finished[one.fixture.part], one.fixture.stops)
        bodies.append((BLOCK, block.moved(_stands(one.fixture)).moved(turn)))
    laid = [(of, solid, patches(solid, FINE)) for of, solid in bodies]
    everything = np.concatenate([p.points for _, _, skin in laid for p in skin])
    left, top = MARGIN
    eye = Eye(AROUND, ABOVE).fitted(everything, (left, top, WIDTH - left, HEIGHT - top))
    plate, behind = (Plate(eye, WIDTH, HEIGHT, CELL) for _ in range(2))
    tones = list[Tone]()
    for of, _, skin in laid:
        for patch in skin:
            if of == BLOCK:
                behind.lay(patch, [0] * len(patch.normals))
                continue
            labels = []
            for n in patch.normals.tolist():
                tone = Tone(of, shade(n))
                if tone not in tones:
                    tones.append(tone)
                labels.append(tones.index(tone))
            plate.lay(patch, labels)
    lines: dict[str, list[Flats]] = {BLOCK: [], "work": []}
    for of, solid, skin in laid:
        found = edges(solid, FINE)
        found += [line for patch in skin for line in silhouettes(patch, eye.toward)]
        laid_on = behind if of == BLOCK else plate
        lines[of] += [part for line in found for part in laid_on.visible(line)]
    covered = plate.label >= 0
    arrows, words, signs = list[str](), list[Inscription](), list[tuple[float, float]]()
    for joint in one.joints:
        if joint.name in heat.joints:
            at = eye.at(turn.apply(joint.at))
            side = turn.turn(_side(heat.feeds.get(joint.name, ())))
            arrows.append(_arrow(eye, turn.apply(joint.at), side))
            words.append(Inscription((joint.name, joint.alloy), at))
            signs.append(at)
    on_block = one.fixture is not None and heat.on_fixture
    painted = "; the block's top and holes painted against filler" if on_block else ""
    drawn = [
        drawn_lines(lines[BLOCK], BLOCK),
        tones_drawn(plate, tones),
        drawn_lines(lines["work"], "work"),
        *arrows,
        *inscribed(words, covered, signs, CELL),
        f'<text x="3" y="{HEIGHT - 3:g}" font-size="3.8" font-style="italic" fill="#000">'
        f"arrow: the rod; {attitude(heat.attitude)}{painted}</text>\n",
    ]
    return framed(drawn)


def _with_pins(block: Solid, stops: Sequence[FixtureStop]) -> Solid:
    (_, _, floor), (_, _, top) = block.bounds
    pins = [
        cylinder((s.left, s.front, floor), (0.0, 0.0, 1.0), s.size / 2, top - floor + s.tall)
        for s in stops
    ]
    return block.fuse(*pins)


def _stands(piece: StandingPiece | FixtureBlock) -> Placement:
    a, b, c = piece.rows
    return Placement((a, b, c), piece.shift)


def _turned(up: Vec) -> Placement:
    """A turn that brings a direction of the work straight up, by the shortest way."""
    x, y, z = up
    if z > 1 - 1e-9:
        return Placement()
    if z < -1 + 1e-9:
        return Placement(((1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, -1.0)))
    k = 1 / (1 + z)
    return Placement(((1 - k * x * x, -k * x * y, -x), (-k * x * y, 1 - k * y * y, -y), (x, y, z)))


def _side(faces: Sequence[Face]) -> Vec:
    """The direction out of a side, or of the corner of two."""
    total = [sum(face.normal[i] for face in faces) for i in range(3)]
    size = math.hypot(*total) or 1.0
    return (total[0] / size, total[1] / size, total[2] / size)


def _arrow(eye: Eye, at: Vec, side: Vec) -> str:
    """An arrow on paper that points at a joint from the side the rod is put to."""
    far = (at[0] + side[0], at[1] + side[1], at[2] + side[2])
    (x, y), (fx, fy) = eye.at(at), eye.at(far)
    dx, dy = fx - x, fy - y
    n = math.hypot(dx, dy)
    if n < 1e-6:
        dx, dy, n = 0.0, -1.0, 1.0
    dx, dy = dx / n, dy / n
    tail, neck = (x + ROD * dx, y + ROD * dy), (x + 3.2 * dx, y + 3.2 * dy)
    wing = (1.1 * dy, 1.1 * dx)
    head = [(x, y), (neck[0] - wing[0], neck[1] + wing[1]), (neck[0] + wing[0], neck[1] - wing[1])]
    return (
        f'<path d="M{points([tail, neck])}" stroke="#fff" stroke-width="2"/>'
        f'<path d="M{points([tail, neck])}" stroke="#000" stroke-width="0.8"/>'
        f'<path d="M{points(head)}Z" fill="#000"/>\n'
    )
