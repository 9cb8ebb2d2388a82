"""This module draws what springs there are to choose from: a line of marks for every wire.

Across it shows what share of its nearest limit a spring uses, and upward how much room it takes,
its outside diameter. Each mark is a coil's end, the thicker the thicker its wire; the taken one is
filled.
"""

from __future__ import annotations

from collections.abc import Iterator
from xml.sax.saxutils import escape

from barstock.mechanism.graph import INK, PALE, Graph, text
from barstock.mechanism.springs.spring_candidate import AnyChoice
from barstock.mechanism.springs.springs_of_build import Fitted

MOST = 80
"""Only so many of the best choices are drawn."""


def chart(one: Fitted) -> str:
    """Draw the choices of a spring as SVG text, sizes in mm."""
    title = f"{one.wanted.name}: what there is to choose from"
    found = one.choices.found[:MOST]
    if not found:
        bare = Graph(title, (0.0, 1.0), (0.0, 1.0))
        return bare.whole([text(16.0, 46.0, "none will do with the wires commonly sold", 3.2)])
    outs = [choice.spring.outside for choice in found]
    room = max(max(outs) - min(outs), 0.2 * max(outs))
    low = max(0.0, (min(outs) + max(outs) - 1.2 * room) / 2)
    least = int(min(0.5, *(choice.use for choice in found)) * 10) / 10
    graph = Graph(title, (least, 1.0), (low, low + 1.2 * room))
    axes = graph.axes("of its nearest limit used", "outside [mm]", share=True)
    return graph.whole([*axes, *_marks(graph, one, found)])


def _marks(graph: Graph, one: Fitted, found: tuple[AnyChoice, ...]) -> Iterator[str]:
    wires = sorted({choice.spring.wire for choice in found})
    yield text(graph.width - graph.right + 5.0, graph.top - 1.2, "wire [mm]: springs", 2.8)
    for n, wire in enumerate(reversed(wires)):
        row = sorted(
            (choice for choice in found if choice.spring.wire == wire),
            key=lambda choice: choice.spring.turns,
        )
        places = [(graph.x(c.use), graph.y(c.spring.outside)) for c in row]
        points = " ".join(f"{x:.2f},{y:.2f}" for x, y in places)
        yield f'<polyline points="{points}" fill="none" stroke="{PALE}" stroke-width="0.15"/>'
        thick = 0.2 + 0.25 * wire / wires[-1]
        for choice, (x, y) in zip(row, places, strict=True):
            taken = choice is one.taken
            fill, radius = (INK, 1.3) if taken else ("#fff", 0.9)
            yield (
                f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{radius}" fill="{fill}" stroke="{INK}" '
                f'stroke-width="{thick:.2f}"><title>{escape(_caption(choice))}</title></circle>'
            )
        right = max(places)
        yield text(right[0] + 1.6, right[1] + 0.9, f"{wire:g}", 2.4)
        line = graph.top + 3.0 + 4.2 * n
        words = f"{wire:g}: {len(row)}"
        yield text(graph.width - graph.right + 9.0, line, words, 2.6)


def _caption(choice: AnyChoice) -> str:
    made = choice.spring
    return f"wire {made.wire:g}, outside {made.outside:.2f}, {made.turns:g} turns: {choice.worst}"
