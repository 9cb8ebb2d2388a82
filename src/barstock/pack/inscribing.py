"""Words are placed on a picture where they cover nothing, each with a line to what it speaks of."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape

import numpy as np
from numpy.typing import NDArray

from barstock.solids.strokes import Flat

SIZE = 4.2  # of the fount [mm]
LEADING = 4.6
PAD = 0.8  # kept free round lettering [mm]
COARSE = 4  # cells of the picture taken together when looking for room
SIGN = 2.5  # half the room of a sign [mm]
EDGE = 2.0  # kept free at the picture's edge [mm]
FOUNT = "'Libertinus Serif', Georgia, 'DejaVu Serif', serif"
STYLE = ('font-weight="bold"', 'font-style="italic"')
LETTER = 0.47  # mean width of a letter as a share of the fount's size


@dataclass(frozen=True)
class Inscription:
    """Lines of lettering for the spot `at` [mm on paper]; the first line is the heavy one."""

    words: tuple[str, ...]
    at: Flat

    @property
    def size(self) -> Flat:
        """The width and height of the lettering [mm]."""
        return (max(map(len, self.words)) * LETTER * SIZE, len(self.words) * LEADING)


def inscribed(
    inscriptions: Sequence[Inscription],
    covered: NDArray[np.bool_],
    signs: Sequence[Flat],
    cell: float,
) -> list[str]:
    """Each inscription as SVG.

    covered: the cells of the picture where something is drawn; signs: spots on paper that hold a
    sign of their own, which no line may cross.
    """
    rows, columns = (COARSE * (n // COARSE) for n in covered.shape)
    blocks = covered[:rows, :columns].reshape(rows // COARSE, COARSE, columns // COARSE, COARSE)
    taken, cell = np.asarray(blocks.any(axis=(1, 3))), cell * COARSE
    lettered, signed = np.zeros_like(taken), np.zeros_like(taken)
    for x, y in signs:
        down, along = (
            slice(max(0, int((p - SIGN) / cell)), max(0, int((p + SIGN) / cell))) for p in (y, x)
        )
        taken[down, along] = signed[down, along] = True
    drawn = []
    for one in sorted(inscriptions, key=lambda i: i.at[1]):
        shut = lettered if one.at in signs else lettered | signed
        left, top = _place(one, taken, shut, cell)
        wide, tall = one.size
        down = slice(max(0, int((top - PAD) / cell)), int((top + tall + PAD) / cell) + 1)
        along = slice(max(0, int((left - PAD) / cell)), int((left + wide + PAD) / cell) + 1)
        taken[down, along] = lettered[down, along] = True
        elbow = _elbow(one.at, left, top, wide, tall)
        for k in np.linspace(0.0, 1.0, 200):
            x, y = (one.at[i] + k * (elbow[i] - one.at[i]) for i in (0, 1))
            taken[_index(y, cell, len(taken)), _index(x, cell, taken.shape[1])] = True
        drawn.append(_svg(one, left, top, wide, elbow))
    return drawn


def _index(value: float, cell: float, count: int) -> int:
    return min(count - 1, max(0, int(value / cell)))


def _place(
    one: Inscription, taken: NDArray[np.bool_], shut: NDArray[np.bool_], cell: float
) -> Flat:
    """The cheapest left top corner: near its spot, over nothing, no line through `shut` cells."""
    rows, columns = taken.shape
    w, h = (math.ceil(size / cell) for size in one.size)
    edge = round(EDGE / cell)
    ys = np.arange(edge, rows - h - edge, 2)[:, None]
    xs = np.arange(edge, columns - w - edge, 2)[None, :]
    sums = np.pad(taken, ((1, 0), (1, 0))).cumsum(axis=0, dtype=np.int64).cumsum(axis=1)
    under = sums[ys + h, xs + w] - sums[ys, xs + w] - sums[ys + h, xs] + sums[ys, xs]
    px, py = one.at[0] / cell, one.at[1] / cell
    # the line runs to the nearest point of the box
    qx, qy = np.clip(px, xs, xs + w), np.clip(py, ys, ys + h)
    reach = np.hypot(qx - px, qy - py) * cell
    struck = np.zeros(reach.shape)
    for k in np.linspace(0.05, 0.95, 16):
        column = np.clip(px + k * (qx - px), 0, columns - 1).astype(int)
        row = np.clip(py + k * (qy - py), 0, rows - 1).astype(int)
        struck += shut[row, column]
    cost = reach + 60.0 * under / (w * h) + 45.0 * (under > 0) + 8.0 * (reach < 4.0) + 15 * struck
    i, j = np.unravel_index(int(np.argmin(cost)), cost.shape)
    return (float(xs[0, j]) * cell, float(ys[i, 0]) * cell)


def _elbow(at: Flat, left: float, top: float, wide: float, tall: float) -> Flat:
    """Where the line meets the lettering: beside the middle of its first line, or above, below."""
    first = top + 0.55 * LEADING
    if at[0] < left - 1:
        return (left - 0.8, first)
    if at[0] > left + wide + 1:
        return (left + wide + 0.8, first)
    x = min(max(at[0], left + 2), left + wide - 2)
    return (x, top - 0.2) if at[1] < top else (x, top + tall + 0.4)


def _svg(one: Inscription, left: float, top: float, wide: float, elbow: Flat) -> str:
    beside = elbow[0] > left + wide
    x, anchor = (left + wide, ' text-anchor="end"') if beside else (left, "")
    rows = "".join(
        f'<tspan x="{x:.2f}" y="{top + (i + 0.78) * LEADING:.2f}" {STYLE[i > 0]}>'
        f"{escape(words)}</tspan>"
        for i, words in enumerate(one.words)
    )
    line = f"M{one.at[0]:.2f},{one.at[1]:.2f} {elbow[0]:.2f},{elbow[1]:.2f}"
    return (
        f'<path d="{line}" stroke="#fff" stroke-width="1"/>'
        f'<path d="{line}" stroke="#000" stroke-width="0.25"/>'
        f'<circle cx="{one.at[0]:.2f}" cy="{one.at[1]:.2f}" r="0.6" fill="#000"/>'
        f'<text font-size="{SIZE}" fill="#000" stroke="#fff" stroke-width="1.2" '
        f'paint-order="stroke"{anchor}>{rows}</text>\n'
    )
