"""What there is to choose from, as one picture: every wire a row of marks, ordered as it trades.

Across: how soft or hard pressed a spring is, by its nearest limit. Up: how much room it takes, its
outside diameter. Each mark is a coil's end, drawn as thick as its wire; the taken one is filled.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from xml.sax.saxutils import escape

from barstock.moving.springs.choice import AnyChoice
from barstock.moving.springs.fitted import Fitted

WIDTH, HEIGHT = 150.0, 92.0
LEFT, BOTTOM, TOP, RIGHT = 16.0, 14.0, 10.0, 34.0
"""Of the picture, and of its margins [mm]."""

FOUNT = "'Libertinus Serif', Palatino, 'Liberation Serif', serif"
Scale = Callable[[float], float]
INK, PALE = "#000", "#8a8a8a"
MOST = 80
"""Marks drawn; the best."""


def chart(one: Fitted) -> str:
    """The choices of a spring as SVG text, sizes in mm."""
    found = one.choices.found[:MOST]
    title = f"{one.wanted.name}: what there is to choose from"
    body = [_text(0.0, 5.0, title, 3.6)]
    if found:
        body += _plot(one, found)
    else:
        body.append(_text(LEFT, HEIGHT / 2, "none will do with the wires commonly sold", 3.2))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH:g}mm" height="{HEIGHT:g}mm" '
        f'viewBox="-1 0 {WIDTH + 2:g} {HEIGHT:g}" font-family="{FOUNT}">\n'
        f"<title>{escape(title)}</title>\n" + "\n".join(body) + "\n</svg>\n"
    )


def _plot(one: Fitted, found: tuple[AnyChoice, ...]) -> Iterator[str]:
    outs = [choice.spring.outside for choice in found]
    low, high = min(outs), max(outs)
    room = max(high - low, 0.2 * high, 0.5)
    low = max(0.0, (low + high - room) / 2 - 0.1 * room)
    high = low + 1.2 * room
    least = min(0.5, min(choice.use for choice in found))
    least = int(least * 10) / 10

    def x(use: float) -> float:
        return LEFT + (use - least) / (1 - least) * (WIDTH - LEFT - RIGHT)

    def y(outside: float) -> float:
        return HEIGHT - BOTTOM - (outside - low) / (high - low) * (HEIGHT - BOTTOM - TOP)

    yield from _axes(x, y, least, low, high)
    wires = sorted({choice.spring.wire for choice in found})
    for wire in wires:
        row = sorted(
            (choice for choice in found if choice.spring.wire == wire),
            key=lambda choice: choice.spring.turns,
        )
        points = " ".join(f"{x(c.use):.2f},{y(c.spring.outside):.2f}" for c in row)
        yield f'<polyline points="{points}" fill="none" stroke="{PALE}" stroke-width="0.15"/>'
        end = max(row, key=lambda choice: choice.use)
        yield _text(x(end.use) + 1.6, y(end.spring.outside) + 0.9, f"{wire:g}", 2.4)
        for choice in reversed(row):
            taken = choice is one.taken
            yield (
                f'<circle cx="{x(choice.use):.2f}" cy="{y(choice.spring.outside):.2f}" '
                f'r="{1.3 if taken else 0.9}" fill="{INK if taken else "#fff"}" stroke="{INK}" '
                f'stroke-width="{0.2 + 0.25 * choice.spring.wire / wires[-1]:.2f}">'
                f"<title>{escape(_mark(choice))}</title></circle>"
            )
    yield from _labels(wires, found)


def _axes(x: Scale, y: Scale, least: float, low: float, high: float) -> Iterator[str]:
    yield (
        f'<path d="M{LEFT} {TOP}V{HEIGHT - BOTTOM}H{WIDTH - RIGHT}" fill="none" stroke="{INK}" '
        'stroke-width="0.25"/>'
    )
    n = round((1 - least) * 10)
    for i in range(n + 1):
        use = least + i / 10
        yield f'<path d="M{x(use):.2f} {HEIGHT - BOTTOM}v1.4" stroke="{INK}" stroke-width="0.2"/>'
        if i % 2 == n % 2:
            yield _text(x(use), HEIGHT - BOTTOM + 4.6, f"{use:.0%}", 2.6, "middle")
    yield _text((LEFT + WIDTH - RIGHT) / 2, HEIGHT - 3.5, "of its nearest limit used", 2.8,
                "middle")  # fmt: skip
    step = _step(high - low)
    tick = step * (int(low / step) + 1)
    while tick < high:
        yield f'<path d="M{LEFT} {y(tick):.2f}h-1.4" stroke="{INK}" stroke-width="0.2"/>'
        yield _text(LEFT - 2.2, y(tick) + 0.9, f"{tick:g}", 2.6, "end")
        tick = round(tick + step, 6)
    yield _text(LEFT - 14.0, TOP - 1.2, "outside [mm]", 2.8)


def _labels(wires: list[float], found: tuple[AnyChoice, ...]) -> Iterator[str]:
    """The wires beside the picture, their marks' stroke as thick as on it, none over another."""
    yield _text(WIDTH - RIGHT + 5.0, TOP - 1.2, "wire [mm]", 2.8)
    high = HEIGHT - BOTTOM - TOP
    for n, wire in enumerate(reversed(wires)):
        count = sum(choice.spring.wire == wire for choice in found)
        line = TOP + 3.0 + min(4.2, high / max(1, len(wires))) * n
        yield (
            f'<circle cx="{WIDTH - RIGHT + 6.5:.2f}" cy="{line - 0.9:.2f}" r="0.9" fill="#fff" '
            f'stroke="{INK}" stroke-width="{0.2 + 0.25 * wire / wires[-1]:.2f}"/>'
        )
        yield _text(WIDTH - RIGHT + 9.0, line, f"{wire:g}: {count}", 2.6)


def _mark(choice: AnyChoice) -> str:
    made = choice.spring
    return f"wire {made.wire:g}, outside {made.outside:.2f}, {made.turns:g} turns: {choice.worst}"


def _step(span: float) -> float:
    for step in (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0):
        if span / step <= 8:
            return step
    return 50.0


def _text(x: float, y: float, words: str, size: float, anchor: str = "start") -> str:
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size:g}" text-anchor="{anchor}">'
        f"{escape(words)}</text>"
    )
