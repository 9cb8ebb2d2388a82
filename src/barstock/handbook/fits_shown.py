"""What `look` shows of limits and fits."""

from __future__ import annotations

import re
from collections.abc import Iterator

from barstock.handbook.answer import Found, NotHeldError
from barstock.handbook.iso_fits import SOURCE, Fit, FitError, fit, limits
from barstock.quantities import SizeError, Unit, parse_length, show, show_limits

_ASKED = re.compile(r"(.+?)\s*([A-Za-z]{1,2}\s?\d{1,2})(?:\s*/\s*([a-z]{1,2}\s?\d{1,2}))?$")
_SYMBOL = re.compile(r"[A-Za-z]{1,2}\d{1,2}(?:/[a-z]{1,2}\d{1,2})?")


def find(word: str, unit: Unit) -> Iterator[Found]:
    """The limits of a size and symbol (8 H7), or the fit of two (8 H7/g6), as `look` shows them."""
    if _is_symbol(word.replace(" ", "")):
        raise NotHeldError(f"limits want a size before the symbol: 10 {word}")
    asked = _ASKED.match(word)
    if asked is None:
        return
    try:
        nominal = parse_length(asked[1], unit)
        if asked[3]:
            yield _both(fit(nominal, f"{asked[2]}/{asked[3]}"), unit)
            return
        low, high = limits(nominal, asked[2])
    except SizeError:
        return
    except FitError as wrong:
        raise NotHeldError(str(wrong)) from None
    lower, upper = show_limits(low, high, unit)
    least, most = show_limits(nominal + low, nominal + high, unit)
    yield Found(
        f"limits of {show(nominal, unit)} {asked[2]}",
        (
            ("deviations", f"{_signed(upper, high)} / {_signed(lower, low)}"),
            ("low limit", least),
            ("high limit", most),
        ),
        SOURCE,
        memory=True,
    )


def _is_symbol(word: str) -> bool:
    """Is it a symbol, or two of a fit, that stands alone?"""
    if _SYMBOL.fullmatch(word) is None:
        return False
    try:
        limits(10, word.partition("/")[0])
    except FitError:
        return False
    return True


def _both(found: Fit, unit: Unit) -> Found:
    def pair(deviations: tuple[float, float]) -> str:
        low, high = deviations
        return " to ".join(show_limits(found.nominal + low, found.nominal + high, unit))

    return Found(
        f"fit {show(found.nominal, unit)} {found.symbol}, {found.kind.value}",
        (
            ("hole", pair(found.hole)),
            ("shaft", pair(found.shaft)),
            ("least clearance", _signed(show(found.least, unit), found.least)),
            ("most clearance", _signed(show(found.most, unit), found.most)),
        ),
        SOURCE,
        memory=True,
    )


def _signed(shown: str, mm: float) -> str:
    return ("+" if mm > 0 else "") + shown
