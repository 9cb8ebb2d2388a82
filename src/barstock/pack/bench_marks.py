"""Marks to read with a tablet, each of which opens a setup's page at the bench."""

from __future__ import annotations

import io
import re
from dataclasses import replace

from barstock.pack.pack_pages import Pack

_ADDRESS = re.compile(r"https?://[A-Za-z0-9.\-\[\]:]+/?", re.ASCII)


def is_address(text: str) -> bool:
    """Can bench pages be at this address: http://, a computer's name or number, a port?

    >>> is_address("http://192.168.1.20:7319"), is_address("my bench")
    (True, False)
    """
    return len(text) <= 100 and _ADDRESS.fullmatch(text) is not None


def mark_svg(text: str) -> str:
    """A mark that says `text`, as a picture."""
    import segno

    out = io.BytesIO()
    made = segno.make(text, error="m", micro=False)
    made.save(out, kind="svg", scale=6, border=4, light="#fff", xmldecl=False)
    return out.getvalue().decode()


def marked(pack: Pack, address: str) -> tuple[Pack, dict[str, str]]:
    """The pack with a mark on each setup's page, and the marks by name; none without an address."""
    if not address:
        return pack, {}
    names = {page.number: f"mark-{page.number}" for page in pack.setups}
    setups = tuple(replace(page, bench=names[page.number]) for page in pack.setups)
    base = address.rstrip("/")
    marks = {name: mark_svg(f"{base}/setup/{number}") for number, name in names.items()}
    return replace(pack, setups=setups), marks
