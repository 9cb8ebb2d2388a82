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

    >>> plain("No. 6 B.A."), plain("M3 × .5"), plain("M6 x 1.0"), plain("1/4 26 tpi")
    ('6ba', 'm3x0.5', 'm6x1', '1/4x26')
    """
    text = name.lower().replace("×", "x").replace("*", "x").replace("°", "")
    text = re.sub(r"^\s*(tap(ped)?|thd\.?|thread)\s+", "", text)
    text = re.sub(r"^\s*(no\.?|number|#)\s*", "", text)
    text = re.sub(r"^\s*1\s*(\"|in\b)[\s-]*(?=\D|\d+\b)", "1inch", text)
    text = re.sub(r"^m\s*(\d+),(\d)", r"m\1.\2", text)
    text = re.sub(r"(\d)\s+(\d+)(?=\s*tpi\b)", r"\1x\2", text)
    text = re.sub(r"\b(tpi|thread|thd|tap|tapped|model|cycle|[rl]h)\b|\"|\bin\b", " ", text)
    text = re.sub(r"(x\s*\d*\.\d*?)0+(?!\d)", r"\1", text)
    text = re.sub(r"(x\s*\d+)\.(?!\d)", r"\1", text)
    text = re.sub(r"b\.\s?([as])\.?(\s?([wf])\.?)?", r"b\1\3", text)
    text = re.sub(r"x\s*\.(\d)", r"x0.\1", text)
    return re.sub(r"\s+", "", text)


_LEFT = re.compile(r"[\s,(-]*\b(?:l\.?\s?h\.?|left[\s-]*hand(?:ed)?)(?:\s*thread)?\)?\s*$", re.I)


def without_hand(name: str) -> tuple[str, bool]:
    """A name without its hand, and whether that is the left.

    >>> without_hand("M5 LH"), without_hand("1/4 BSF left hand"), without_hand("M5")
    (('M5', True), ('1/4 BSF', True), ('M5', False))
    """
    bare = _LEFT.sub("", name)
    return bare, bare != name


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
        size = each.name.rsplit("-", 1)[0]
        yield from (f"{size}-{tpi}", f"{size}{each.series.lower()}", f"{size}-{tpi}un")
        yield f"{size}x{tpi}{each.series.lower()}"
        if size == "1" and each.major > 20:  # beside No 1
            yield from (
                f"1inch{each.series.lower()}",
                f"1inch{tpi}",
                f"1inch{tpi}{each.series.lower()}",
            )
    elif each.series == "pipe":
        size = each.name.removeprefix("G")
        yield from (f"{size}bsp", f"{size}bspp", f"bsp{size}", f"{size}gas", f"{size}-{tpi}bsp")
    else:
        size, word = each.name.split()[0], each.series.lower()
        model = word.startswith("model")
        if model:
            yield f"{size}me{tpi}"
        for end in ("me", "") if model else _WORDS[word]:
            yield from (f"{size}-{tpi}{end}", f"{size}x{tpi}{end}")
            if not model:
                yield f"{size}{end}"
