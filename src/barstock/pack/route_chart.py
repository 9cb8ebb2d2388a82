"""The route as one picture: every setup a block as long as it takes, in lines like a page of text.

Drawn from the route alone. A block begins with what is not cutting (setting up, loading, changing
tools), then its operations, each as long as it cuts. Read without colour.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil
from xml.sax.saxutils import escape

from barstock.machines import machine_type
from barstock.machines.machine_type import WorkSort
from barstock.route import Route, Setup, Summary

WIDTH = 186.0
"""Of the picture [mm]."""
LINE, HIGH, TOP, BAND = 21.5, 13.0, 5.0, 5.2
"""From one line to the next, height of a block, room above for its ruler, its cutting's [mm]."""
MOST_LINES = 9
FOUNT = "'Libertinus Serif', Palatino, 'Liberation Serif', serif"
FILLS = {WorkSort.SAWING: "url(#sawn)", WorkSort.FILING: "url(#filed)"}
CUTTING = "#d4d4d4"

PATTERNS = (
    '<pattern id="sawn" width="1.6" height="1.6" patternUnits="userSpaceOnUse" '
    'patternTransform="rotate(55)"><path d="M0 0V1.6" stroke="#000" stroke-width="0.5"/></pattern>'
    '<pattern id="filed" width="1.5" height="1.5" patternUnits="userSpaceOnUse">'
    '<circle cx="0.75" cy="0.75" r="0.32"/></pattern>'
)


@dataclass(frozen=True)
class Stretch:
    """A piece of a block on one line [minutes from the line's start]. ends: is it the last one?"""

    line: int
    start: float
    stop: float
    ends: bool


@dataclass(frozen=True)
class Scale:
    """The scale of time across the picture. minutes: of one line."""

    minutes: float

    def x(self, minute: float) -> float:
        """Where a minute of a line stands across the picture [mm]."""
        return round(minute / self.minutes * WIDTH, 2)

    def stretches(self, start: float, stop: float) -> Iterator[Stretch]:
        """A time from the route's start, cut into lines."""
        line = int(start // self.minutes + 1e-9)
        while start < stop - 1e-9:
            end = min(stop, (line + 1) * self.minutes)
            base = line * self.minutes
            yield Stretch(line, start - base, end - base, end >= stop - 1e-9)
            start, line = end, line + 1


def chart(route: Route) -> str:
    """The route as an SVG text, sizes in mm."""
    total = sum(s.minutes for s in route.setups)
    hours = max(2, ceil(total / 60 / MOST_LINES))
    scale = Scale(60.0 * hours)
    lines = max(1, ceil(total / scale.minutes - 1e-9))
    below = TOP + lines * LINE
    figures = list(_figures(route.summary, below + 11.0))
    height = below + 13.0 + 5.0 * len(figures)
    body = [*_rulers(lines, hours, total, scale)]
    clock = 0.0
    for setup in route.setups:
        body += _block(setup, clock, scale)
        clock += setup.minutes
    body += [_legend(below), *figures]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH:g}mm" height="{height:g}mm" '
        f'viewBox="-0.5 0 {WIDTH + 1:g} {height:g}" font-family="{FOUNT}" font-size="3">\n'
        f"<title>{escape(route.build)}: the order of work by the hour</title>\n"
        f'<defs>{PATTERNS}</defs>\n<g stroke="#000" fill="none">\n'
        + "\n".join(body)
        + "\n</g></svg>\n"
    )


def _top(line: int) -> float:
    return TOP + line * LINE


def _rulers(lines: int, hours: int, total: float, scale: Scale) -> Iterator[str]:
    """Quarter hours above every line, the hours from the start written."""
    for line in range(lines):
        y = _top(line)
        last = min(scale.minutes, total - line * scale.minutes)
        yield f'<path d="M0 {y:g}H{scale.x(last):g}" stroke-width="0.2"/>'
        step = 15 if hours <= 4 else 60
        for minute in range(0, int(last) + 1, step):
            whole = minute % 60 == 0
            x = scale.x(minute)
            yield f'<path d="M{x:g} {y:g}v{-2.2 if whole else -1.1:g}" stroke-width="0.2"/>'
            if whole and (minute or line == 0):
                hour = (line * scale.minutes + minute) / 60
                yield _text(x + 0.7, y - 1.2, f"{hour:g} h", 2.6)


def _block(setup: Setup, start: float, scale: Scale) -> Iterator[str]:
    """One setup: its frame, its cutting, its marks and its name."""
    cuts = [o.minutes * setup.copies for o in setup.operations]
    at = max(0.0, setup.minutes - sum(cuts))
    fill = FILLS.get(machine_type(setup.machine_kind).work, CUTTING)
    starts = {ids[0] for ids in setup.passes[1:]}
    tool = ""
    marks = []
    for operation, cut in zip(setup.operations, cuts, strict=True):
        for s in scale.stretches(start + at, start + min(at + cut, setup.minutes)):
            x, y = scale.x(s.start), _top(s.line) + HIGH - BAND
            wide = scale.x(s.stop) - x
            yield (
                f'<rect x="{x:g}" y="{y:g}" width="{wide:.2f}" height="{BAND:g}" '
                f'fill="{fill}" stroke-width="0.15"/>'
            )
        where = next(scale.stretches(start + at, start + at + 0.01))
        marks.append((where, operation.id in starts, operation.cutter.name != tool))
        tool = operation.cutter.name
        at += cut
    for where, passes, changes in marks:
        x, y = scale.x(where.start), _top(where.line) + HIGH - BAND
        if passes:
            yield f'<path d="M{x:g} {y:g}V{_top(where.line) + HIGH:g}" stroke-width="0.6"/>'
        if changes:
            yield f'<path d="M{x - 0.8:g} {y - 1.8:g}h1.6l-0.8 1.6z" fill="#000" stroke="none"/>'
    yield from _frame(setup, start, scale)


def _frame(setup: Setup, start: float, scale: Scale) -> Iterator[str]:
    bar = setup.stage == "bar"
    pieces = list(scale.stretches(start, start + setup.minutes))
    roomy = (s for s in pieces if scale.x(s.stop - s.start) > 9.0)
    named = next(roomy, max(pieces, key=lambda s: s.stop - s.start, default=None))
    for n, s in enumerate(pieces):
        x, y, right = scale.x(s.start), _top(s.line), scale.x(s.stop)
        yield f'<path d="M{x:g} {y + HIGH:g}H{right:g}M{x:g} {y:g}H{right:g}" stroke-width="0.4"/>'
        if bar:
            yield f'<path d="M{x:g} {y + 0.9:g}H{right:g}" stroke-width="0.9"/>'
        if n == 0:
            yield f'<path d="M{x:g} {y:g}v{HIGH:g}" stroke-width="0.8"/>'
        if s.ends:
            yield f'<path d="M{right:g} {y:g}v{HIGH:g}" stroke-width="0.4"/>'
        if s is named:
            yield from _name(setup, x + 0.9, y, right - x - 1.2)


def _name(setup: Setup, x: float, y: float, room: float) -> Iterator[str]:
    """The setup's number, and the work's name as far as there is room."""
    size = 4.4 if room > 2.4 * len(setup.id) else 2.6
    if room < 0.5 * size * len(setup.id):
        return
    yield _text(x, y + 5.0, setup.id, size, bold=True)
    left = room - 0.55 * size * len(setup.id) - 1.0
    words = setup.work.removeprefix("bar for ")
    fits = int(left / 1.4)
    if fits >= 3:
        shown = words if len(words) <= fits else words[: fits - 1].rstrip() + "…"
        yield _text(x + 0.55 * size * len(setup.id) + 1.0, y + 5.0, shown, 2.8)


def _legend(y: float) -> str:
    """What the marks mean, in one row."""
    found, x = [], 0.0

    def add(drawing: str, words: str, wide: float) -> None:
        nonlocal x
        found.append(drawing + _text(x + wide + 1.0, y + 2.6, words, 2.8))
        x += wide + 3.5 + 1.24 * len(words)

    def box(fill: str, wide: float = 6.0) -> str:
        return (
            f'<rect x="{x:g}" y="{y:g}" width="{wide:g}" height="3.4" fill="{fill}" '
            'stroke-width="0.2"/>'
        )

    add(box("none"), "setting up, loading, changing", 6.0)
    add(box(CUTTING), "cutting", 6.0)
    add(box("url(#sawn)"), "sawing", 6.0)
    add(box("url(#filed)"), "filing", 6.0)
    add(f'<path d="M{x:g} {y + 1:g}h6" stroke-width="0.9"/>', "in the bar", 6.0)
    add(f'<path d="M{x + 1:g} {y - 0.4:g}v4" stroke-width="0.6"/>', "every copy loaded anew", 2.0)
    add(
        f'<path d="M{x:g} {y + 0.9:g}h1.6l-0.8 1.5z" fill="#000" stroke="none"/>',
        "another tool",
        1.6,
    )
    return "".join(found)


def _figures(summary: Summary, y: float) -> Iterator[str]:
    """The hours of this order beside those of plain ones, as bars."""
    rows = [("this order", summary.hours, "#000")]
    for words, hours in (
        ("one tool at a time", summary.one_tool_at_a_time_hours),
        ("one piece at a time", summary.one_part_at_a_time_hours),
    ):
        if hours:
            rows.append((words, hours, CUTTING))
    longest = max(hours for _, hours, _ in rows) or 1.0
    for words, hours, fill in rows:
        wide = hours / longest * (WIDTH - 55.0)
        yield (
            _text(0.0, y + 2.7, words, 3.0)
            + f'<rect x="32" y="{y:g}" width="{wide:.2f}" height="3.4" fill="{fill}" '
            'stroke-width="0.2"/>' + _text(33.5 + wide, y + 2.7, f"{hours:.1f} h", 3.0)
        )
        y += 5.0


def _text(x: float, y: float, words: str, size: float, *, bold: bool = False) -> str:
    weight = ' font-weight="bold"' if bold else ""
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size:g}" fill="#000" stroke="none"{weight}>'
        f"{escape(words)}</text>"
    )
