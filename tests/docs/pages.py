"""The pages a person reads, and what stands in them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
PAGES = sorted([*ROOT.glob("*.md"), *(ROOT / "docs").glob("*.md")])

_FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.M | re.S)


def text(page: Path) -> str:
    """A page's text."""
    return page.read_text(encoding="utf-8")


def blocks(page: Path, language: str) -> Iterator[str]:
    """The fenced blocks of a language in a page."""
    for found in _FENCE.finditer(text(page)):
        if found[1] == language:
            yield found[2]


def prose(page: Path) -> str:
    """A page without its fenced blocks."""
    return _FENCE.sub("", text(page))
