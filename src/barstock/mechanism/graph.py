"""This module draws small black-on-white graphs as SVG text: two axes with figures, sizes in mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from xml.sax.saxutils import escape

FOUNT = "'Libertinus Serif', Palatino, 'Liberation Serif', serif"
INK, PALE = "#000", "#8a8a8a"
STEPS = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0)


@dataclass(frozen=True)
class Graph:
    """A Graph turns values into places on paper and draws its two axes.

    across, up: the least and the greatest of each axis. width, height: of the picture [mm]. right:
    margin kept for a legend [mm].
    """

    title: str
    across: tuple[float, float]
    up: tuple[float, float]
    width: float = 150.0
    height: float = 92.0
    left: float = 16.0
    right: float = 34.0
    top: float = 10.0
    bottom: float = 14.0

    def x(self, value: float) -> float:
        """Return where a value stands across the picture [mm]."""
        low, high = self.across
        return self.left + (value - low) / (high - low) * (self.width - self.left - self.right)

    def y(self, value: float) -> float:
        """Return where a value stands down the picture [mm]."""
        low, high = self.up
        room = self.height - self.bottom - self.top
        return self.height - self.bottom - (value - low) / (high - low) * room

    def axes(self, across: str, up: str, *, share: bool = False) -> Iterator[str]:
        """Draw both axes with their names. share: figures across are shares of one."""
        floor, end = self.height - self.bottom, self.width - self.right
        yield (
            f'<path d="M{self.left:g} {self.top:g}V{floor:g}H{end:g}" fill="none" '
            f'stroke="{INK}" stroke-width="0.25"/>'
        )
        for tick in ticks(*self.across):
            x = self.x(tick)
            yield f'<path d="M{x:.2f} {floor:g}v1.4" stroke="{INK}" stroke-width="0.2"/>'
            words = f"{tick:.0%}" if share else f"{tick:g}"
            yield text(x, floor + 4.6, words, 2.6, "middle")
        yield text((self.left + end) / 2, self.height - 3.5, across, 2.8, "middle")
        for tick in ticks(*self.up):
            y = self.y(tick)
            yield f'<path d="M{self.left:g} {y:.2f}h-1.4" stroke="{INK}" stroke-width="0.2"/>'
            yield text(self.left - 2.2, y + 0.9, f"{tick:g}", 2.6, "end")
        yield text(self.left - 14.0, self.top - 1.2, up, 2.8)

    def whole(self, body: Iterable[str]) -> str:
        """Return the finished picture with its title."""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{self.width:g}mm" '
            f'height="{self.height:g}mm" viewBox="-1 0 {self.width + 2:g} {self.height:g}" '
            f'font-family="{FOUNT}">\n<title>{escape(self.title)}</title>\n'
            + "\n".join([text(0.0, 5.0, self.title, 3.6), *body])
            + "\n</svg>\n"
        )


def ticks(low: float, high: float) -> Iterator[float]:
    """Give about six round figures between two values."""
    step = next((s for s in STEPS if (high - low) / s <= 8), STEPS[-1])
    tick = round(-(-low // step) * step, 9)
    while tick <= high + 1e-9:
        yield tick
        tick = round(tick + step, 9)


def text(x: float, y: float, words: str, size: float, anchor: str = "start") -> str:
    """Return a line of lettering. size: of the fount [mm]."""
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size:g}" text-anchor="{anchor}">'
        f"{escape(words)}</text>"
    )
