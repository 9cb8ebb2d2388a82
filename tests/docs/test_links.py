"""Every link in the pages leads somewhere."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from .pages import PAGES, ROOT, prose, text

LINK = re.compile(r"!?\[[^\]]*\]\(([^)\s]+)\)|<img[^>]*src=\"([^\"]+)\"")
MOST = 1_500_000  # bytes of pictures in the repository


def anchors(page: Path) -> set[str]:
    """The anchors that a page's headings make."""
    heads = re.findall(r"^#+ (.+)$", prose(page), re.M)
    return {re.sub(r"[^\w\- ]", "", head.lower()).replace(" ", "-") for head in heads}


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_links_resolve(page: Path) -> None:
    for found in LINK.finditer(prose(page)):
        link = found[1] or found[2]
        assert "://" not in link, f"{link}: the pages stand on their own"
        path, _, anchor = link.partition("#")
        target = (page.parent / path).resolve() if path else page
        assert target.exists(), f"{page.name}: {link} leads nowhere"
        assert target.is_relative_to(ROOT)
        if anchor:
            assert anchor in anchors(target), f"{page.name}: {link} has no such heading"


def test_every_page_of_docs_is_linked_from_the_readme() -> None:
    readme = text(ROOT / "README.md")
    for page in (ROOT / "docs").glob("*.md"):
        assert f"(docs/{page.name})" in readme


def test_pictures_are_shown_and_small() -> None:
    pictures = list((ROOT / "docs" / "pictures").iterdir())
    shown = "".join(map(text, PAGES))
    assert pictures
    assert all(f"pictures/{picture.name}" in shown for picture in pictures)
    assert sum(picture.stat().st_size for picture in pictures) < MOST
