"""Screw threads by name: metric, unified, BA, Whitworth and the model series. Lengths in mm.

Rows and their standards are in `thread_tables`, the forms in `thread_form`.
"""

from __future__ import annotations

import re
from dataclasses import replace

from barstock.handbook.thread_form import FULL
from barstock.handbook.thread_form import Thread as Thread
from barstock.handbook.thread_names import by_name, plain, without_hand
from barstock.handbook.thread_series import threads as threads
from barstock.handbook.unknown_word import UnknownError

BLUNT_LEAD = 1.5
"""Pitches of lead of the bluntest hand tap, which cut no full thread. From memory."""


class UnknownThreadError(UnknownError):
    """Raised for a name of no thread."""


def thread(name: str) -> Thread:
    """A thread by any of its usual names: M3, M3x0.35, 4-40 UNC, #4-40, 1/4 BSF, 6 BA, 1/4 x 40.

    A limit class after it (6H, 2B) is ignored; a left-hand thread is one of its own. Raises
    UnknownThreadError with the nearest names.

    >>> thread("6BA").major, thread("1/4-40 ME").series, thread("M3x0.5").tap_drill
    (2.8, 'model 40 tpi', 2.5)
    >>> thread("M5 left hand").name
    'M5 LH'
    """
    bare, left = without_hand(name)
    word = plain(bare)
    found = by_name().get(word) or by_name().get(re.sub(r"-?(5h|6h|6g|[1-3][ab])$", "", word))
    if found is None:
        valid = {t.name for t in threads()}
        raise UnknownThreadError(name, "thread", valid, "write it like M3, 6 BA or 4-40 UNC")
    return replace(found, name=f"{found.name} LH") if left else found


def clearance(name: str, fit: str = "medium") -> float:
    """The hole that a screw passes through [mm]; fit: "close", "medium" or "free".

    Raises UnknownThreadError, ValueError. Source: ISO 273, ASME B18.2.8, else common practice.

    >>> clearance("M3"), clearance("M3", "close")
    (3.4, 3.2)
    """
    found = thread(name)
    sizes = {
        "close": found.clearance_close,
        "medium": found.clearance_medium,
        "free": found.clearance_free,
    }
    if fit not in sizes:
        raise ValueError(f"'{fit}' is no fit of a clearance hole; write close, medium or free")
    return sizes[fit]


def percentage_engagement(form: Thread, hole: float) -> float:
    """How much of the full thread depth a hole leaves to be cut [%]; hole [mm].

    Full depth is 0.6495 pitch (3/4 H) for 60 degrees, as tap drill charts reckon it, and the whole
    thread for Whitworth and BA. Source: Machinery's Handbook, tap drill percentages.

    >>> round(percentage_engagement(thread("M3"), 2.5))
    77
    """
    return (form.major - hole) / (2 * FULL[form.angle] * form.pitch) * 100
