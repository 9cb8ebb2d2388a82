"""How a picture looks: tints by the light, weights of line, hatching of fresh surfaces."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from barstock.drawing.build import Vec
from barstock.pack.inscribing import FOUNT
from barstock.solids.area_outlines import hatching, outlines
from barstock.solids.strokes import Flat
from barstock.solids.viewpoint import Eye, Flats, Plate

WIDTH, HEIGHT = 160.0, 110.0
"""Size of a picture [mm]."""
CELL = 0.12
"""The grid that decides what hides what [mm on paper]."""
HATCH = 1.3
"""Between hatching lines [mm on paper]."""
LIGHT: Vec = (-0.30, -0.55, 0.78)
"""Where the light comes from: over the operator's left shoulder."""

TINTS = {
    "work": ("#ffffff", "#f3f1ea", "#e4e0d5", "#cfcabc"),
    "fresh": ("#e6f0f8", "#d3e4f1", "#bdd4e6", "#a3c0d6"),
    "vise": ("#e3e4e6", "#d2d4d7", "#bfc2c6", "#a9adb2"),
    "parallels": ("#f7f7f7", "#ededee", "#dedfe1", "#cbcdd0"),
    "stop": ("#9a9a9a", "#828282", "#6b6b6b", "#555555"),
}
"""Fill by what is shown, from lit to shaded."""

LINES = {"work": 0.5, "vise": 0.25, "parallels": 0.25, "stop": 0.35}
"""Width of line by what is shown [mm]."""


@dataclass(frozen=True)
class Tone:
    """How an area is filled. shade: 0 lit to 3 shaded. hatch: angle [degrees], None = none."""

    of: str
    shade: int
    hatch: float | None = None


def shade(normal: Sequence[float]) -> int:
    """How far in shade a surface lies."""
    lit = sum(a * b for a, b in zip(normal, LIGHT, strict=True))
    return 0 if lit > 0.68 else 1 if lit > 0.35 else 2 if lit > -0.1 else 3


def hatch_angle(normal: Sequence[float], eye: Eye) -> float:
    """Hatching lies in the surface, half way between its two directions, as it looks on paper."""
    n = np.array(normal)
    first = np.cross(n, (0.0, 0.0, 1.0) if abs(n[2]) < 0.9 else (0.0, 1.0, 0.0))
    first /= np.linalg.norm(first)
    along = (first + np.cross(n, first)) @ eye.axes.T
    return round(math.degrees(math.atan2(along[1], along[0])) / 5) * 5 % 180


def tones_drawn(plate: Plate, tones: Sequence[Tone]) -> str:
    """The SVG of every area of the plate filled, and hatched where it is fresh."""
    fills, lines = [], []
    for label, tone in enumerate(tones):
        mask = plate.label == label
        if not mask.any():
            continue
        rings = outlines(mask, CELL, 0.7 * CELL)
        path = "".join(f"M{points(ring)}Z" for ring in rings)
        fill = TINTS[tone.of][tone.shade]
        fills.append(f'<path d="{path}" fill="{fill}" stroke="{fill}"/>\n')
    for angle in sorted({tone.hatch for tone in tones if tone.hatch is not None}):
        same = [i for i, tone in enumerate(tones) if tone.hatch == angle]
        mask = np.isin(plate.label, same)
        lines += [f"M{points(ends)}" for ends in hatching(mask, CELL, angle, HATCH)]
    hatch = f'<path class="fresh" d="{"".join(lines)}" stroke="#24435c" stroke-width="0.2"/>\n'
    return (
        f'<g stroke-width="0.15" fill-rule="evenodd">\n{"".join(fills)}</g>\n'
        f"{hatch if lines else ''}"
    )


def framed(drawn: Iterable[str], height: float = HEIGHT) -> str:
    """A whole SVG picture on white, WIDTH wide. drawn: all that is on it; height [mm]."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH:g}mm" height="{height:g}mm" '
        f'viewBox="0 0 {WIDTH:g} {height:g}" font-family="{FOUNT}" fill="none" '
        f'stroke-linecap="round" stroke-linejoin="round">\n'
        f'<rect width="{WIDTH:g}" height="{height:g}" fill="#fff"/>\n{"".join(drawn)}</svg>\n'
    )


def drawn_lines(lines: Sequence[Flats], of: str) -> str:
    """The SVG of lines of one weight."""
    path = "".join(f"M{points(line.tolist())}" for line in lines)
    return f'<path d="{path}" stroke="#000" stroke-width="{LINES[of]}"/>\n' if path else ""


def points(line: Sequence[Flat] | Sequence[Sequence[float]]) -> str:
    """The points of a path as SVG, to a fiftieth of a millimetre."""
    return " ".join(f"{round(x, 2):g},{round(y, 2):g}" for x, y in line)
