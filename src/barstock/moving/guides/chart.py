"""Charts of a guide: the room of two turns as a map, and a study's points as curves."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import floor, isfinite, log10
from xml.sax.saxutils import escape

from barstock.moving.guides.region import Curve, Region
from barstock.moving.guides.studies import Point, Seen, Study

SIDE, LEFT, TOP = 78.0, 18.0, 12.0
"""Of the square that is drawn in, and its margins [mm]."""
WIDTH, HEIGHT = LEFT + SIDE + 46.0, TOP + SIDE + 16.0
FOUNT = "'Libertinus Serif', Palatino, 'Liberation Serif', serif"
ROOM, PALE, INK = "#d3e4f1", "#8a8a8a", "#000"
Scale = Callable[[float], float]


def region_chart(title: str, region: Region, asked: dict[str, float]) -> str:
    """The room of two turns: free by nominal sizes, in the worst case, and what is asked [°]."""
    a, b = asked.get(region.across, 0.0), asked.get(region.up, 0.0)
    curves = (*region.edge, *region.worst)
    wide = 1.12 * max([*(abs(p) for p, _ in curves if isfinite(p)), a, 0.1])
    high = 1.12 * max([*(abs(p) for _, p in curves if isfinite(p)), b, 0.1])
    x, y = _scale(-wide, wide, LEFT, LEFT + SIDE), _scale(-high, high, TOP + SIDE, TOP)
    body = [_text(0, 5, title, 3.6, bold=True)]
    body.append(_path(region.edge, x, y, f'fill="{ROOM}" stroke="{INK}" stroke-width="0.6"'))
    if region.worst:
        dashed = f'fill="none" stroke="{INK}" stroke-width="0.35" stroke-dasharray="2 1"'
        body.append(_path(region.worst, x, y, dashed))
    if a or b:
        corners = ((-a, -b), (a, -b), (a, b), (-a, b))
        body.append(_path(corners, x, y, f'fill="none" stroke="{INK}" stroke-width="0.9"'))
    body += _cross(x, y, wide, high, region)
    body += _key(region, bool(a or b))
    return _svg(title, body)


def _key(region: Region, asked: bool) -> Iterator[str]:
    at, line = LEFT + SIDE + 5.0, TOP + 6.0
    rows = [(f'<rect x="{at}" y="{{y}}" width="7" height="3.4" fill="{ROOM}" stroke="{INK}" '
             'stroke-width="0.6"/>', "free, as drawn")]  # fmt: skip
    stroke = f'<path d="M{at} {{m}}h7" stroke="{INK}" '
    if region.worst:
        rows.append(
            (f'{stroke}stroke-width="0.35" stroke-dasharray="2 1"/>', "worst of the limits")
        )
    if asked:
        rows.append((f'{stroke}stroke-width="0.9"/>', "asked"))
    for mark, words in rows:
        yield mark.format(y=line - 2.8, m=line - 1.1)
        yield _text(at + 9.0, line, words, 2.9)
        line += 6.0
    if not region.worst:
        yield _text(at, line, "In the worst of the limits", 2.7)
        yield _text(at, line + 3.6, "the block does not go in.", 2.7)


def _cross(x: Scale, y: Scale, wide: float, high: float, region: Region) -> Iterator[str]:
    """Axes through the middle, with ticks."""
    level = f"M{x(-wide):.2f} {y(0):.2f}H{x(wide):.2f}"
    upright = f"M{x(0):.2f} {y(-high):.2f}V{y(high):.2f}"
    yield f'<path d="{level}{upright}" stroke="{INK}" stroke-width="0.2"/>'
    for value in _ticks(wide):
        yield f'<path d="M{x(value):.2f} {y(0):.2f}v1.3" stroke="{INK}" stroke-width="0.2"/>'
        yield _text(x(value), y(0) + 4.2, f"{value:g}", 2.5, "middle")
    for value in _ticks(high):
        yield f'<path d="M{x(0):.2f} {y(value):.2f}h-1.3" stroke="{INK}" stroke-width="0.2"/>'
        yield _text(x(0) - 2.0, y(value) + 0.9, f"{value:g}", 2.5, "end")
    yield _text(LEFT + SIDE, y(0) - 1.4, f"{region.across} [°]", 2.8, "end")
    yield _text(x(0) + 1.4, TOP + 1.5, f"{region.up} [°]", 2.8)


def _ticks(far: float) -> list[float]:
    """To both sides of 0."""
    step = _step(far)
    return [sign * k * step for k in range(1, int(far / step) + 1) for sign in (-1, 1)]


def study_chart(study: Study, motion: str) -> str:
    """A motion over the last of a study's sweeps, a band for each value of those before it."""
    last = study.sweeps[-1]
    many = len(last.values)
    rows = [study.points[k : k + many] for k in range(0, len(study.points), many)]
    seen = [p.motions[motion] for p in study.points if motion in p.motions]
    asked = seen[0].asked if seen else 0.0
    tops = [v for s in seen for v in (s.nominal, s.mean, s.low) if isfinite(v)]
    far = 1.1 * max([*tops, asked, 0.1])
    low, high = min(last.values), max(last.values)
    x = _scale(low, high if high > low else low + 1.0, LEFT, LEFT + SIDE)
    y = _scale(0.0, far, TOP + SIDE, TOP)
    title = f"{study.guide}: {motion} over {last.name}"
    body = [_text(0, 5, title, 3.6, bold=True), *_frame(x, y, last.values, far, motion, last.name)]
    for row in rows:
        body += _band(_good(row, motion), x, y)
    for row in rows:
        body += _line(_good(row, motion), x, y, len(rows) > 1)
    if asked:
        body.append(f'<path d="M{LEFT} {y(asked):.2f}h{SIDE}" stroke="{INK}" stroke-width="0.9"/>')
        body.append(_text(LEFT + SIDE + 2, y(asked) + 1, "asked", 2.8))
    body.append(_text(LEFT + SIDE + 2, TOP + SIDE - 7, "line: as drawn", 2.6))
    body.append(_text(LEFT + SIDE + 2, TOP + SIDE - 3, "band: down to all but 1 in 741", 2.6))
    return _svg(title, body)


Row = list[tuple[Point, Seen]]


def _good(row: Sequence[Point], motion: str) -> Row:
    """Points where the block goes in."""
    seen = [(p, p.motions[motion]) for p in row if motion in p.motions]
    return [(p, s) for p, s in seen if isfinite(s.nominal)]


def _band(row: Row, x: Scale, y: Scale) -> Iterator[str]:
    top = [(p.sizes[-1][1], s.nominal) for p, s in row]
    low = [(p.sizes[-1][1], s.low) for p, s in row if isfinite(s.low)]
    if top:
        style = f'fill="{ROOM}" fill-opacity="0.6" stroke="{PALE}" stroke-width="0.15"'
        yield _path((*top, *reversed(low)), x, y, style)


def _line(row: Row, x: Scale, y: Scale, named: bool) -> Iterator[str]:
    if not row:
        return
    points = " ".join(f"{x(p.sizes[-1][1]):.2f},{y(s.nominal):.2f}" for p, s in row)
    yield f'<polyline points="{points}" fill="none" stroke="{INK}" stroke-width="0.5"/>'
    if named:
        last, seen = row[-1]
        words = ", ".join(f"{value:g}" for _, value in last.sizes[:-1])
        yield _text(x(last.sizes[-1][1]) + 2, y(seen.nominal) + 1, words, 2.6)


def _frame(
    x: Scale, y: Scale, values: Sequence[float], far: float, motion: str, name: str
) -> Iterator[str]:
    yield (
        f'<path d="M{LEFT} {TOP}v{SIDE}h{SIDE}" fill="none" stroke="{INK}" stroke-width="0.25"/>'
    )
    for value in values if len(values) <= 12 else values[:: len(values) // 8 + 1]:
        yield f'<path d="M{x(value):.2f} {TOP + SIDE}v1.4" stroke="{INK}" stroke-width="0.2"/>'
        yield _text(x(value), TOP + SIDE + 4.6, f"{value:g}", 2.5, "middle")
    step = _step(far)
    for k in range(int(far / step) + 1):
        yield f'<path d="M{LEFT} {y(k * step):.2f}h-1.4" stroke="{INK}" stroke-width="0.2"/>'
        yield _text(LEFT - 2.2, y(k * step) + 0.9, f"{k * step:g}", 2.5, "end")
    yield _text(LEFT + SIDE / 2, TOP + SIDE + 9.5, name, 2.9, "middle")
    yield _text(2.0, TOP - 1.5, motion, 2.9)


def _scale(low: float, high: float, start: float, stop: float) -> Scale:
    return lambda value: start + (value - low) / (high - low) * (stop - start)


def _step(far: float) -> float:
    """Between ticks: 1, 2 or 5 of a power of ten, some four or five of them.

    >>> _step(2.3), _step(0.35)
    (0.5, 0.1)
    """
    rough = far / 4
    power = 10.0 ** floor(log10(rough))
    return next(k * power for k in (1, 2, 5, 10) if k * power >= rough * 0.85)


def _path(points: Curve, x: Scale, y: Scale, style: str) -> str:
    found = [(a, b) for a, b in points if isfinite(a) and isfinite(b)]
    line = " ".join(f"{x(a):.2f},{y(b):.2f}" for a, b in found)
    return f'<path d="M{line}Z" {style}/>'


def _text(
    x: float, y: float, words: str, size: float, anchor: str = "start", *, bold: bool = False
) -> str:
    weight = ' font-weight="bold"' if bold else ""
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size:g}" text-anchor="{anchor}"{weight} '
        'stroke="#fff" stroke-width="0.7" paint-order="stroke">'
        f"{escape(words)}</text>"
    )


def _svg(title: str, body: Sequence[str]) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH:g}mm" height="{HEIGHT:g}mm" '
        f'viewBox="-1 0 {WIDTH + 2:g} {HEIGHT:g}" font-family="{FOUNT}">\n'
        f"<title>{escape(title)}</title>\n" + "\n".join(body) + "\n</svg>\n"
    )
