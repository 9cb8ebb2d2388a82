"""The pages of a fabrication's joining as HTML."""

from __future__ import annotations

from collections.abc import Callable
from html import escape

from barstock.pack.heat_pages import Block, HearthPages, HeatCard

Shown = Callable[[str, str], str]
"""A picture's name and what it shows -> its HTML."""


def hearth_html(page: HearthPages, picture: Shown) -> str:
    """All of it as one sheet."""
    name = escape(page.part[:1].upper() + page.part[1:])
    head = (
        f'<div class="head"><div class="number">at the<br>hearth</div>'
        f"<div><h2>{name}</h2><i>joining</i><br>{escape(page.words)}</div>"
        f'<div class="to-right">{escape(page.build)}<br>after setup {escape(page.after)}</div>'
        "</div>"
    )
    body = [head, '<div class="rule"></div>', *map(block_html, page.before)]
    body += [_card(card, picture) for card in page.cards]
    body += map(block_html, page.then)
    return f'<section class="sheet">{"".join(body)}</section>'


def block_html(block: Block) -> str:
    """A headed list or table."""
    parts = [f"<h3>{escape(block.title)}</h3>"]
    if block.lines:
        kind = "ol" if block.numbered else "ul"
        items = "".join(f"<li>{escape(line)}</li>" for line in block.lines)
        parts.append(f"<{kind}>{items}</{kind}>")
    if block.rows:
        parts.append(_table(block.header, block.rows))
    parts += [
        f'<div class="caution"><b>Caution.</b> {escape(words.rstrip("."))}.</div>'
        for words in block.cautions
    ]
    return "".join(parts)


def _table(header: tuple[str, ...], rows: tuple[tuple[str, ...], ...]) -> str:
    head = "".join(f"<th>{escape(cell)}</th>" for cell in header)
    lines = "".join(
        "<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>" for row in rows
    )
    return f"<table>{f'<tr>{head}</tr>' if header else ''}{lines}</table>"


def _card(card: HeatCard, picture: Shown) -> str:
    facts = "".join(
        f'<tr><td><span class="label">{escape(label)}</span></td><td>{escape(words)}</td></tr>'
        for label, words in card.facts
    )
    melts = "".join(
        f"<tr><td><b>{escape(at)}</b></td><td>{escape(what)}</td></tr>" for at, what in card.melts
    )
    shown = picture(card.picture, f"heat {card.number}") if card.picture else ""
    ticks = "".join(f'<span class="tick">{escape(box)}</span>' for box in card.boxes)
    return (
        f'<div class="pass">Heat {escape(card.number)} of {escape(card.last)}: '
        f"{escape(card.title)}</div>"
        f'<div class="first"><div>{shown}</div><div><table>{facts}</table></div></div>'
        f"<h3>As it grows hot</h3><table>{melts}</table>"
        f'<div class="done"><span class="label">done</span>{ticks}</div>'
    )
