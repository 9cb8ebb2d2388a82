"""The many ways people write a thread's name."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from barstock.handbook.thread_form import Thread
from barstock.handbook.thread_series import threads

_WORDS = {"bsw": ("bsw", "whit", "whitworth", "w"), "bsf": ("bsf",)}


def plain(name: str) -> str:
    """A name without case, blanks and the trade's several ways of saying number and by.

    >>> plain("No. 6 B.A."), plain("M3 × .5")
    ('6ba', 'm3x0.5')
    """
    text = name.lower().replace("×", "x").replace("*", "x").replace("°", "")
    text = re.sub(r"^\s*(no\.?|number|#)\s*", "", text)
    text = re.sub(r"\b(tpi|thread|model)\b|\"|\bin\b", " ", text)
    text = re.sub(r"b\.\s?([as])\.?(\s?([wf])\.?)?", r"b\1\3", text)
    text = re.sub(r"x\s*\.(\d)", r"x0.\1", text)
    return re.sub(r"\s+", "", text)


@cache
def by_name() -> dict[str, Thread]:
    """Every spelling of every thread; where two share one, the series listed first has it."""
    found: dict[str, Thread] = {}
    for each in threads():
        for spelling in _spellings(each):
            found.setdefault(spelling, each)
    return found


def _spellings(each: Thread) -> Iterator[str]:
    yield plain(each.name)
    tpi = f"{each.tpi:.0f}"
    if each.series.startswith("metric"):
        size = each.name.lower().split("x")[0]
        yield from (f"{size}x{each.pitch:g}", f"{size}-{each.pitch:g}", f"{size}x{each.pitch:.2f}")
    elif each.series == "BA":
        yield f"ba{each.name.split()[0]}"
    elif each.series.startswith("UN"):
        size = each.name.split("-")[0]
        yield from (f"{size}-{tpi}", f"{size}{each.series.lower()}", f"{size}-{tpi}un")
        yield f"{size}x{tpi}{each.series.lower()}"
    else:
        size, word = each.name.split()[0], each.series.lower()
        model = word.startswith("model")
        if model:
            yield f"{size}me{tpi}"
        for end in ("me", "") if model else _WORDS[word]:
            yield from (f"{size}-{tpi}{end}", f"{size}x{tpi}{end}")
            if not model:
                yield f"{size}{end}"
