"""This module draws a run over joints: what every wheel carries, moment by moment."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.mechanism.graph import INK, PALE, Graph, text
from barstock.mechanism.run_over_joints import Run

DASHES = ("", "3 0.8", "1.6 0.8", "0.5 0.7", "3 0.7 0.5 0.7", "1.6 0.6 0.5 0.6")
"""Dashes of the wheels' lines in turn, which tell them apart without colour."""


def run_chart(run: Run, state: str) -> str:
    """Draw the loads of a run as SVG text. state: "empty" or "laden"."""
    highest = max(max(loads) for loads in run.loads.values())
    graph = Graph(
        f"Over the joints at {run.speed * 3.6:.3g} km/h, {state}: load of each wheel",
        (0.0, run.times[-1]),
        (0.0, 1.08 * highest),
        width=180.0,
        height=80.0,
        right=38.0,
    )
    return graph.whole([*graph.axes("seconds", "load [N]"), *_lines(graph, run)])


def _lines(graph: Graph, run: Run) -> Iterator[str]:
    for n, (wheel, loads) in enumerate(run.loads.items()):
        worst = wheel == run.wheel
        style = (
            f'stroke="{INK if worst else PALE}" stroke-width="{0.45 if worst else 0.3}" '
            f'stroke-dasharray="{DASHES[n % len(DASHES)]}" fill="none"'
        )
        points = " ".join(
            f"{graph.x(t):.2f},{graph.y(load):.2f}"
            for t, load in zip(run.times, loads, strict=True)
        )
        yield f'<polyline points="{points}" {style}/>'
        x, y = graph.width - graph.right + 3.0, graph.top + 2.0 + 4.4 * n
        yield f'<path d="M{x:g} {y - 0.9:.2f}h9" {style}/>'
        yield text(x + 10.5, y, wheel, 2.6)
