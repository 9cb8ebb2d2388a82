"""Every word of the pages stands in one file."""

from __future__ import annotations

import re
from pathlib import Path

from barstock import web
from barstock.web.page_words import WORDS, say

HERE = Path(next(iter(web.__path__)))
TEMPLATES = sorted((HERE / "templates").glob("*.html"))
SOURCES = [path for path in HERE.rglob("*.py") if path.name != "words.py"]
PUT_TOGETHER = ("tab ", "unit ", "held ", "mark ", "timer ")
"""Beginnings of keys that templates put together from what is shown."""
ALSO = {"copy of", "bar of", "below", "above", "loose", "loose mark", "out mark",
        "pair name default"}  # fmt: skip


def test_no_template_has_words_of_its_own() -> None:
    assert len(TEMPLATES) > 15
    for path in TEMPLATES:
        text = path.read_text("utf-8").replace("{% block kind %}setup{% endblock %}", "")
        text = re.sub(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}", "", text, flags=re.S)
        for name in ("alt", "aria-label", "title", "placeholder"):
            told = re.findall(rf'\s{name}="([^"]*)"', text)
            assert not [words for words in told if re.search(r"[A-Za-z]", words)], path.name
        bare = re.sub(r"<[^>]*>", " ", text)
        assert not re.findall(r"[A-Za-z]{2,}", bare), (path.name, bare.split())


def test_every_key_is_there_and_every_word_is_used() -> None:
    text = "".join(path.read_text("utf-8") for path in (*TEMPLATES, *SOURCES))
    asked = set(re.findall(r"""say\(\s*["']([a-z ]+)["']\s*[,)]""", text))
    asked |= set(re.findall(r"""say\("([a-z ]+)" if .*? else "[a-z ]+\"""", text))
    asked |= set(re.findall(r"""say\("[a-z ]+" if .*? else "([a-z ]+)\"""", text))
    assert asked <= set(WORDS)
    unused = set(WORDS) - asked - ALSO
    assert not [key for key in unused if not key.startswith(PUT_TOGETHER)]


def test_words_are_filled_in() -> None:
    assert say("card", n=2, of=8) == "Card 2 of 8"
