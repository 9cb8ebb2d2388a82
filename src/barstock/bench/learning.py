"""The shop's time figures are corrected by what the work really took.

What was timed of one sort gives the ratio of minutes spent to minutes planned. The middle one of
all counts, so that a day with a visitor in it does not; and it is drawn towards 1 as long as there
are few (as if DOUBT timings had come out as planned): common practice.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields
from math import exp, log
from statistics import median

from barstock.bench.entry import Entry
from barstock.bench.timing import CUTTING, FILING, SAWING, SETTING_UP
from barstock.workshop.shop import ShopTimes
from barstock.workshop.shop_fields import TIMES

DOUBT = 3.0
"""Timings that those taken have to outweigh; common practice."""
FARTHEST = 5.0
"""A timing further from the plan than so many times tells of something else; common practice."""
SHORTEST = 1.0
"""Nothing is learnt from less [minutes]: a touch of the screen late is a good part of it; common
practice."""

FIGURES = {
    SETTING_UP: ("set_up", "tilt", "find_zero"),
    SAWING: ("saw_each",),
    FILING: ("file_per_100mm",),
    CUTTING: (
        "load",
        "measure",
        "first_off",
        "change_collet",
        "change_chuck",
        "change_arbor",
        "head_move",
        "touch_off",
        "move",
        "tap_hole",
    ),
}
"""The figures that what is timed is made of."""


@dataclass(frozen=True)
class Lesson:
    """What the timings of one sort say. count: of timings; spent, planned: their sums [minutes].

    ratio: by which its figures are corrected. figures: name as written -> (before, after) [min].
    """

    sort: str
    count: int
    spent: float
    planned: float
    ratio: float
    figures: Mapping[str, tuple[float, float]]


def learn(timings: Iterable[Entry], times: ShopTimes) -> list[Lesson]:
    """What the clock's lines say of the shop's figures; a sort that was not timed is left out."""
    known = list(timings)
    written = {name: field for field, name in TIMES.items()}
    assert {f.name for f in fields(ShopTimes)} == set(written)
    found = []
    for sort, names in FIGURES.items():
        pairs = [(e.minutes, e.planned) for e in known if e.figure == sort and e.planned]
        sound = [(spent, plan) for spent, plan in pairs if spent and _sound(spent, plan)]
        if not sound:
            continue
        middle = median(log(spent / plan) for spent, plan in sound)
        ratio = exp(middle * len(sound) / (len(sound) + DOUBT))
        before = {written[name]: float(getattr(times, name)) for name in names}
        after = {name: (value, round(value * ratio, 2)) for name, value in before.items()}
        spent, planned = (sum(column) for column in zip(*sound, strict=True))
        found.append(Lesson(sort, len(sound), spent, planned, ratio, after))
    return found


def _sound(spent: float, planned: float) -> bool:
    return planned >= SHORTEST and 1 / FARTHEST <= spent / planned <= FARTHEST
