"""The pack's page of a block in its guide: how far it goes, where it touches, what matters most."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite

from barstock.mechanism.guides.guide_check import Freedom, Judged
from barstock.mechanism.guides.guide_words import CAUTION, at_worst, bound, shown, touched, verdict
from barstock.pack.heat_pages import Block

MARKS = {True: "good", False: "NOT GOOD", None: "to know"}
NAMES = {"ahead": "ahead or back", "sideways": "sideways", "rise": "up or down"}
MOST_SIZES = 4
"""Sizes told that matter most to a motion."""


def guide_blocks(judged: Judged) -> Iterator[Block]:
    """What there is to say of a guide: the verdicts first."""
    yield Block("Verdicts", rows=tuple(_verdicts(judged)), cautions=(CAUTION,))
    if not judged.goes_in:
        return
    freedoms = tuple(judged.freedoms.values())
    header = ("motion", "goes", "asked", "used", "in the worst of the limits", "by chance")
    yield Block("How far it goes", header=header, rows=tuple(map(_motion, freedoms)))
    asked = [one for one in freedoms if one.asked] or list(freedoms)
    yield Block("Where it touches first", rows=tuple(row for f in asked for row in _touches(f)))
    yield Block("What matters most", rows=tuple(row for f in asked for row in _sizes(f)))


def _verdicts(judged: Judged) -> Iterator[tuple[str, str]]:
    if not judged.goes_in:
        yield MARKS[False], f"the {judged.guide.block.name} does not go in by the sizes as drawn"
        return
    for freedom in judged.freedoms.values():
        if freedom.asked:
            words = "; ".join(filter(None, (verdict(judged, freedom), at_worst(freedom))))
            good = freedom.sure or (None if freedom.enough else False)
            yield MARKS[good], words
    for line in bound(judged):
        binds = judged.binding is not None and judged.binding.binds
        yield MARKS[None if line.startswith("WEDGES") else not binds], line


def _motion(freedom: Freedom) -> tuple[str, ...]:
    unit, name = freedom.motion.unit, freedom.motion.name
    row = (NAMES.get(name, name), shown(freedom.amount, unit))
    if not freedom.asked:
        return (*row, "", "", "", "")
    used = f"{freedom.asked / freedom.amount:.0%}" if freedom.amount else "all"
    worst = "" if freedom.worst is None else shown(freedom.worst, unit)
    chance = f"{1 - freedom.spread.fails:.1%} do it" if freedom.spread else ""
    return (*row, shown(freedom.asked, unit), used, worst, chance)


def _touches(freedom: Freedom) -> Iterator[tuple[str, str]]:
    for way in freedom.ways[:1]:
        for touch in way.touches:
            yield freedom.motion.name, touched(touch)


def _sizes(freedom: Freedom) -> Iterator[tuple[str, str, str]]:
    for weight in freedom.weights[:MOST_SIZES]:
        if isfinite(weight.spread):
            worth = f"its limits are worth {shown(weight.spread, freedom.motion.unit)}"
            yield freedom.motion.name, weight.name, worth
