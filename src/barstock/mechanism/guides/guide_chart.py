"""This module draws the charts of a guide.

The room of two turns is drawn as a map, and the points of a study as curves.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import isfinite

from barstock.mechanism.graph import INK, PALE, Graph, text
from barstock.mechanism.guides.guide_play import MOTIONS
from barstock.mechanism.guides.size_studies import Point, Seen, Study
from barstock.mechanism.guides.turning_room import Region

ROOM = "#d3e4f1"
"""The fill of what is free."""
ROOMY = 1.12
"""The axes go further than what is drawn by this factor."""
Row = list[tuple[Point, Seen]]


def region_chart(title: str, region: Region, asked: dict[str, float]) -> str:
    """Draw the room of two turns: free by nominal sizes, in the worst case, and asked [°]."""
    a, b = asked.get(region.across, 0.0), asked.get(region.up, 0.0)
    curves = (*region.edge, *region.worst)
    wide = ROOMY * max([*(abs(p) for p, _ in curves), a, 0.1])
    high = ROOMY * max([*(abs(p) for _, p in curves), b, 0.1])
    graph = Graph(title, (-wide, wide), (-high, high), height=110.0, right=46.0)
    body = [_outline(graph, region.edge, f'fill="{ROOM}" stroke="{INK}" stroke-width="0.6"')]
    key = [("free, as drawn", f'stroke="{INK}" stroke-width="0.6"')]
    if region.worst:
        key.append(("worst of the limits", f'stroke="{INK}" stroke-width="0.35" '
                    'stroke-dasharray="2 1"'))  # fmt: skip
        body.append(_outline(graph, region.worst, f'fill="none" {key[-1][1]}'))
    if a or b:
        key.append(("asked", f'stroke="{INK}" stroke-width="1"'))
        body.append(
            _outline(graph, ((-a, -b), (a, -b), (a, b), (-a, b)), f'fill="none" {key[-1][1]}')
        )
    body += _middle(graph, wide, high)
    body += graph.axes(f"{region.across} [°]", f"{region.up} [°]")
    body += _key(graph, key)
    if not region.worst:
        body.append(_beside(graph, 30.0, "in the worst of the limits"))
        body.append(_beside(graph, 33.6, "the block does not go in"))
    return graph.whole(body)


def _middle(graph: Graph, wide: float, high: float) -> Iterator[str]:
    """Mark where the block stands square."""
    level = f"M{graph.x(-wide):.2f} {graph.y(0):.2f}H{graph.x(wide):.2f}"
    upright = f"M{graph.x(0):.2f} {graph.y(-high):.2f}V{graph.y(high):.2f}"
    yield f'<path d="{level}{upright}" stroke="{PALE}" stroke-width="0.15"/>'


def _key(graph: Graph, rows: Iterable[tuple[str, str]]) -> Iterator[str]:
    at = graph.width - graph.right + 4.0
    for number, (words, style) in enumerate(rows):
        line = graph.top + 5.0 + 5.5 * number
        yield f'<path d="M{at:.2f} {line - 1.0:.2f}h7" {style}/>'
        yield text(at + 9.0, line, words, 2.8)


def _beside(graph: Graph, down: float, words: str) -> str:
    return text(graph.width - graph.right + 4.0, graph.top + down, words, 2.6)


def _outline(graph: Graph, points: Iterable[tuple[float, float]], style: str) -> str:
    found = [(a, b) for a, b in points if isfinite(a) and isfinite(b)]
    line = " ".join(f"{graph.x(a):.2f},{graph.y(b):.2f}" for a, b in found)
    return f'<path d="M{line}Z" {style}/>'


def study_chart(study: Study, motion: str) -> str:
    """Draw a motion over the last of a study's sweeps.

    There is a line for each value of the sweeps before it.
    """
    last = study.sweeps[-1]
    many = len(last.values)
    rows = [_good(study.points[k : k + many], motion) for k in range(0, len(study.points), many)]
    seen = [one for row in rows for _, one in row]
    asked = seen[0].asked if seen else 0.0
    far = ROOMY * max([*(one.nominal for one in seen), asked, 0.1])
    low, high = min(last.values), max(last.values)
    unit = MOTIONS[motion].unit
    title = f"{study.guide}: {motion} over {last.name}"
    graph = Graph(title, (low, high if high > low else low + 1.0), (0.0, far), right=46.0)
    body = [line for row in rows for line in _band(graph, row)]
    body += [line for row in rows for line in _line(graph, row, named=len(rows) > 1)]
    body += graph.axes(last.name, f"{motion} [{unit}]")
    if asked:
        end = graph.width - graph.right
        body.append(
            f'<path d="M{graph.left:g} {graph.y(asked):.2f}H{end:g}" stroke="{INK}" '
            'stroke-width="1"/>'
        )
        body.append(text(end + 2.0, graph.y(asked) + 1.0, "asked", 2.8))
    body.append(_beside(graph, 60.0, "line: as drawn"))
    body.append(_beside(graph, 64.0, "band: down to what 740"))
    body.append(_beside(graph, 67.6, "assemblies in 741 reach"))
    return graph.whole(body)


def _good(row: Sequence[Point], motion: str) -> Row:
    """Pick the points where the block goes in and something stops it."""
    seen = [(p, p.motions[motion]) for p in row if motion in p.motions]
    return [(p, s) for p, s in seen if isfinite(s.nominal)]


def _band(graph: Graph, row: Row) -> Iterator[str]:
    top = [(p.sizes[-1][1], s.nominal) for p, s in row]
    low = [(p.sizes[-1][1], s.low) for p, s in row if isfinite(s.low)]
    if top:
        style = f'fill="{ROOM}" fill-opacity="0.6" stroke="{PALE}" stroke-width="0.15"'
        yield _outline(graph, (*top, *reversed(low)), style)


def _line(graph: Graph, row: Row, *, named: bool) -> Iterator[str]:
    if not row:
        return
    points = " ".join(f"{graph.x(p.sizes[-1][1]):.2f},{graph.y(s.nominal):.2f}" for p, s in row)
    yield f'<polyline points="{points}" fill="none" stroke="{INK}" stroke-width="0.5"/>'
    if named:
        last, seen = row[-1]
        words = ", ".join(f"{value:g}" for _, value in last.sizes[:-1])
        yield text(graph.x(last.sizes[-1][1]) + 2.0, graph.y(seen.nominal) + 1.0, words, 2.6)
