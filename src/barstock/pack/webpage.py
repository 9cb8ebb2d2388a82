"""The pack as one HTML file with its pictures in it: no script, nothing fetched."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterable, Mapping
from html import escape
from pathlib import Path

from barstock.pack.hearth_page import hearth_html
from barstock.pack.moving_page import moving_html
from barstock.pack.pack_pages import (
    CheckLine,
    DrawingPage,
    Line,
    OperationBox,
    Pack,
    Pass,
    Reading,
    SetupPage,
)

RULE = '<div class="rule"></div>'


def html(pack: Pack, pictures: Mapping[str, str]) -> str:
    """The whole file. pictures: SVG text by the names the pages use."""
    style = Path(__file__).with_name("page.css").read_text(encoding="utf-8")
    body = [_summary(pack, pictures)]
    for page in pack.setups:
        body.append(_setup(page, pictures))
        body += [
            hearth_html(one, lambda name, words: _picture(name, pictures, words))
            for one in pack.hearth
            if one.after == page.number
        ]
    body += [
        moving_html(one, lambda name, words: _picture(name, pictures, words)) for one in pack.moving
    ]
    if pack.index:
        body.append(_index(pack))
    body += [_drawing(page, pictures) for page in pack.drawings]
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{escape(pack.build)}</title>\n<style>\n{style}</style></head>\n<body>\n"
        + "\n".join(body)
        + "\n</body></html>\n"
    )


def _tag(name: str, inner: str, kind: str = "") -> str:
    opening = f'{name} class="{kind}"' if kind else name
    return f"<{opening}>{inner}</{name}>"


def _label(words: str) -> str:
    return _tag("span", escape(words), "label")


def _capital(words: str) -> str:
    return escape(words[:1].upper() + words[1:])


def _sentence(words: str) -> str:
    return _capital(words.rstrip(".")) + "."


def _table(header: Iterable[str], rows: Iterable[Iterable[str]], kind: str = "") -> str:
    """A table of cells that are HTML already."""
    head = "".join(_tag("th", cell) for cell in header)
    lines = "".join(_tag("tr", "".join(_tag("td", cell) for cell in row)) for row in rows)
    return _tag("table", (_tag("tr", head) if head else "") + lines, kind)


def _list(things: Iterable[str]) -> str:
    return _tag("ul", "".join(_tag("li", escape(words)) for words in things))


def _picture(name: str, pictures: Mapping[str, str], words: str) -> str:
    data = b64encode(pictures[name].encode()).decode()
    return f'<img alt="{escape(words)}" src="data:image/svg+xml;base64,{data}">'


# -- a setup ---------------------------------------------------------------------------------------


def _bench(s: SetupPage, pictures: Mapping[str, str]) -> str:
    shown = _picture(s.bench, pictures, f"opens setup {s.number} at the bench") if s.bench else ""
    return _tag("div", shown, "bench") if shown else ""


def _setup(s: SetupPage, pictures: Mapping[str, str]) -> str:
    head = (
        _tag("div", f"setup<b>{escape(s.number)}</b>of {escape(s.last)}", "number")
        + _tag(
            "div",
            _tag("h2", _capital(s.part))
            + _tag("i", escape(s.title))
            + f"<br>{escape(s.stage)} · <b>{escape(s.copies)}</b> · {escape(s.machine)}",
        )
        + _tag("div", f"{escape(s.build)}<br>about {escape(s.minutes)}", "to-right")
        + _bench(s, pictures)
    )
    held = "".join(_tag("div", _label(label) + escape(words)) for label, words in s.held)
    mark = f"<p><b>On the work.</b> {_sentence(s.mark)}</p>" if s.mark else ""
    first = _tag("div", _zeros(s) + mark + "".join(map(_caution, s.cautions)))
    why = _tag("p", "Why here: " + escape("; ".join(s.why)) + ".", "quiet") if s.why else ""
    if s.picture:
        shown = _picture(s.picture, pictures, f"the work in setup {s.number}") + why
        first = _tag("div", _tag("div", shown) + first, "first" if s.zeros else "drawing")
    else:
        first += why
    parts = [_tag("div", head, "head"), RULE, _tag("div", held, "held"), first]
    parts.append(_lines(s.steps))
    parts += [_pass(p) for p in s.passes]
    return f'<section class="sheet" id="setup-{escape(s.number)}">{"".join(parts)}</section>'


def _zeros(s: SetupPage) -> str:
    if not s.zeros:
        return ""
    rows = [
        (f"<b>{z.axis}</b>", escape(z.words), "set " + _reading(Reading("", "", (z.set_to,))))
        for z in s.zeros
    ]
    return _label("zero") + _table((), rows, "zero") + _tag("p", escape(s.readings_in), "quiet")


def _reading(reading: Reading) -> str:
    """Figures large, words small."""
    values = (
        " ".join(_tag("b", escape(r.text)) if r.big else escape(r.text) for r in runs)
        for runs in reading.values
    )
    return " ".join(_tag("span", value, "reading") for value in values)


def _lines(lines: tuple[Line, ...]) -> str:
    if not lines:
        return ""
    axes = [a for a in ("X", "Y", "Z") if any(a in line.axes for line in lines)]
    header = [""] + [f"{a} <small>{escape(_notes(lines, a))}</small>" for a in axes]
    rows = []
    for line in lines:
        other = "".join(f" {escape(r.label)} {_reading(r)}" for r in line.other)
        cells = [_capital(line.words) + other + (_caution(line.caution) if line.caution else "")]
        cells += [_reading(line.axes[a]) if a in line.axes else "" for a in axes]
        rows.append(cells)
    return _table(header if axes else (), rows, "lines")


def _notes(lines: tuple[Line, ...], axis: str) -> str:
    notes = [line.axes[axis].note for line in lines if axis in line.axes]
    return ", ".join(dict.fromkeys(note for note in notes if note))


def _pass(p: Pass) -> str:
    ticks = "".join(_tag("span", escape(box), "tick") for box in p.boxes)
    done = _tag("div", _label("done") + ticks, "done")
    return _tag("div", escape(p.words), "pass") + "".join(map(_operation, p.operations)) + done


def _operation(o: OperationBox) -> str:
    running = " ".join(f"<b>{escape(figure)}</b> {escape(unit)}" for figure, unit in o.running)
    short = f" <i>{escape(o.shortfall)}</i>" if o.shortfall else ""
    title = f"<h4>{_capital(o.title)}</h4>{escape(o.tool)}{short}"
    head = _tag("div", str(o.number), "ring") + _tag("div", title) + _tag("div", running)
    parts = [_tag("div", head, "operation")]
    parts += [_caution(words) for words in o.cautions]
    parts.append(_lines(o.lines))
    parts += [_check(check) for check in o.checks]
    return "".join(parts)


def _check(c: CheckLine) -> str:
    drawn = f" (drawn {escape(c.size)})" if c.size else ""
    size = f"<b>{escape(c.limits)}</b>{drawn}"
    if c.hold:
        apart = ": " if c.size else ""
        wanted = f"{escape(c.size)}{apart}{escape(c.limits)}"
        size = f"<b>hold {escape(c.hold)}</b> (drawn {wanted})"
    how = "; ".join([escape(c.how), *(f"<b>{escape(g)}</b>" for g in c.gauges)])
    how += f"; {escape(c.note)}" if c.note else ""
    how += f". For every copy to hold: {escape(c.besides)}." if c.besides else ""
    words = f"{escape(c.name)} {size}{_tag('span', how, 'with')}"
    cells = _label("check") + _tag("div", words) + _tag("div", "first-off", "write")
    return _tag("div", cells, "check")


def _caution(words: str) -> str:
    return _tag("div", f"<b>Caution.</b> {_sentence(words)}", "caution")


# -- the pages that hold it together ---------------------------------------------------------------


def _summary(pack: Pack, pictures: Mapping[str, str]) -> str:
    def cells(rows: Iterable[Iterable[str]]) -> list[list[str]]:
        return [[escape(cell) for cell in row] for row in rows]

    tick = _tag("span", "", "tick")
    left = "<h3>Parts</h3>" + _table(("part", "off", "material", "setups"), cells(pack.parts))
    right = "<h3>Time</h3>" + _table((), cells(pack.figures))
    for title, things in (("To buy", pack.buy), ("To borrow", pack.borrow)):
        if things:
            right += _tag("h3", title) + "".join(_tag("p", tick + " " + escape(t)) for t in things)
    bars = ("bar", "material", "lengths", "each", "pieces", "for", "")
    screws = ("thread", "bought", "saw to", "off", "for")
    order = [
        (
            f'<a href="#setup-{escape(o.number)}"><b>{escape(o.number)}</b></a>',
            *map(escape, (o.part, o.title, o.machine, o.copies, o.minutes)),
            tick,
        )
        for o in pack.order
    ]
    header = ("setup", "part", "work", "machine", "off", "about", "done")
    body = [
        _tag("h1", escape(pack.build)),
        RULE,
        _tag("div", _tag("div", left) + _tag("div", right), "two"),
        "<h3>Bars to saw</h3>" + _table(bars, cells(pack.bars)),
        *(
            ("<h3>Screws to shorten</h3>", _table(screws, cells(pack.shorten)))
            if pack.shorten
            else ()
        ),
        *(("<h3>Notes</h3>", _list(pack.notes)) if pack.notes else ()),
        "<h3>Before you start</h3>",
        _list(pack.safety),
        "<h3>Order of work</h3>" + _chart(pack, pictures) + _table(header, order),
    ]
    return _tag("section", "".join(body), "sheet")


def _chart(pack: Pack, pictures: Mapping[str, str]) -> str:
    if pack.chart not in pictures:
        return ""
    return _tag("div", _picture(pack.chart, pictures, "the order of work by the hour"), "chart")


def _index(pack: Pack) -> str:
    body = [_tag("h1", "Index of dimensions"), RULE]
    header = ("dimension", "as drawn", "setup", "made by", "checked with")
    for part, lines in pack.index:
        rows = [
            (
                escape(line.dimension),
                _tag("b", escape(line.size)),
                f'<a href="#setup-{escape(line.setup)}">{escape(line.setup)}</a>',
                escape(line.operation),
                escape(line.how),
            )
            for line in lines
        ]
        body.append(_tag("h3", _capital(part)) + _table(header, rows))
    return _tag("section", "".join(body), "sheet")


def _drawing(page: DrawingPage, pictures: Mapping[str, str]) -> str:
    shown = _picture(page.picture, pictures, f"drawing of {page.part}")
    return _tag("section", _tag("h2", _capital(page.part)) + shown, "sheet drawing")
