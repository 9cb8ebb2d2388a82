"""The pages of what moves as HTML."""

from __future__ import annotations

from html import escape

from barstock.pack.hearth_page import Shown, block_html
from barstock.pack.moving_pages import MovingPage


def moving_html(page: MovingPage, picture: Shown) -> str:
    """One sheet."""
    name = escape(page.title[:1].upper() + page.title[1:])
    head = (
        f'<div class="head"><div class="number">it<br>moves</div>'
        f"<div><h2>{name}</h2><i>{escape(page.words)}</i></div>"
        f'<div class="to-right">{escape(page.build)}</div></div>'
    )
    shown = picture(page.picture, page.title) if page.picture else ""
    body = [head, '<div class="rule"></div>', *map(block_html, page.blocks), shown]
    return f'<section class="sheet">{"".join(body)}</section>'
