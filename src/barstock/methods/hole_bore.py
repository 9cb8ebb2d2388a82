"""The bore of a hole: its diameter, thread or clearance, its depth and how it is finished."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from barstock.drawing.dimension_runs import CheckSort, EndKind, between
from barstock.drawing.other_hands import HandFinish
from barstock.drawing.questions import Ask
from barstock.handbook.drills import CHUCK
from barstock.handbook.threads import BLUNT_LEAD
from barstock.methods.cuts import Check
from barstock.methods.dimension_forms import goes_through
from barstock.methods.hole_fields import HoleFields
from barstock.quantities import Dimension, show
from barstock.reading.faults import nearest

POINT = 118.0
"""Included angle of a twist drill's point [degrees]. Source: common practice."""

UNDER = 1.0
"""What is left under the end of a drill that the drawing gives no depth [mm]. Common practice."""

DRILLED = 0.05
"""Closest limits a drilled hole can be trusted to [mm], low to high. Source: common practice."""

RUN_OUT = 3
"""Pitches a tapping drill goes below the full thread of a blind hole. Source: common practice."""

POINT_SHARE = 0.32
"""A drill's point is no higher than this share of the size asked for: of 118 degrees, 0.3, and the
drill a little over that size. Source: elementary geometry."""


@dataclass(frozen=True)
class Bore:
    """The bore of a hole. diameter: finished, of a thread its major [mm]. depth: of full diameter
    or thread [mm].

    drill, drill_depth: what goes in before a tap or reamer, 0 where nothing does; drill_least: how
    deep that must go, 0 where the drawing says how deep it goes [mm].
    drilled_through: that goes right through, though the thread ends before.
    size: the dimension on the drawing. checks: what is to be checked of the bore.
    """

    size: Dimension
    diameter: float
    depth: float
    through: bool
    finish: str
    flat: bool
    checks: tuple[Check, ...]
    thread: str = ""
    drill: float = 0.0
    drill_depth: float = 0.0
    drill_least: float = 0.0
    drilled_through: bool = False

    @property
    def radius(self) -> float:
        """Half the finished diameter [mm]."""
        return self.diameter / 2

    @property
    def pointed(self) -> bool:
        """Does the drawn hole end in a drill's point? One too wide for a drill in a chuck is bored
        as well as drilled, and may end in either."""
        return self._ends_anyhow and self.diameter <= CHUCK

    @property
    def may_be_pointed(self) -> bool:
        """May it end in a drill's point that the drawing does not ask for?"""
        return self._ends_anyhow and self.diameter > CHUCK

    @property
    def _ends_anyhow(self) -> bool:
        return not (self.through or self.flat) and self.finish == "drilled"

    @property
    def name(self) -> str:
        """The name of its main dimension."""
        return "thread" if self.thread else "bore"

    @property
    def words(self) -> str:
        """The depth and finish as a note on the sheet."""
        finish = f" {self.finish}" if self.finish in ("reamed", "bored") else ""
        deep = (one for one in self.checks if one.has(EndKind.FULL_DIAMETER, EndKind.FULL_THREAD))
        depth = next((check.dimension.text for check in deep), "")
        flat = ", flat bottom" if self.flat and not self.through else ""
        flat = ", drilled through" if self.drilled_through else flat
        return f"{finish} through" if self.through else f"{finish} × {depth} deep{flat}"


def read_bore(fields: HoleFields, ask: Ask, thickness: float) -> Bore | None:
    """The bore in millimetres, or None after reporting what is wrong.

    thickness: material from where the hole starts to the far face [mm].
    """
    given = [name for name in ("diameter", "thread", "clearance for") if ask.given(name)]
    word = (fields.depth or "").strip().lower()
    through = goes_through(word)
    depth = None if through else _depth(ask, word)
    if len(given) != 1:
        both = f"'{given[0]}' and '{given[1]}'" if given else ""
        what = f"the hole is sized twice, by {both}" if given else "the hole has no size"
        ask.fault(
            given[1] if given else None,
            what,
            "give a 'diameter', or a 'thread', or what it is a 'clearance for'",
        )
        return None
    if given == ["thread"]:
        return _tapped(fields, ask, depth, through, thickness)
    return _plain(fields, ask, depth, through, thickness)


def _depth(ask: Ask, word: str) -> Dimension | None:
    if word.isalpha():
        ask.fault("depth", f"'{word}' is no depth", nearest(word, ["through"]))
        return None
    if ask.given("depth"):
        depth = ask.size("depth")
        return depth.aimed() if depth else None
    ask.fault(None, "the depth of the hole is missing", "give a depth, or 'depth: through'")
    return None


def _plain(
    fields: HoleFields, ask: Ask, depth: Dimension | None, through: bool, thickness: float
) -> Bore | None:
    if fields.finish == "tapped":
        ask.fault("finish", "a tapped hole needs its thread", "give 'thread' instead of a diameter")
        return None
    size = _clearance(fields, ask) if ask.given("clearance for") else ask.size("diameter")
    if size is None or (depth is None and not through):
        return None
    by_hand = fields.finish in list(HandFinish)
    finish = "drilled" if fields.finish is None or by_hand else fields.finish
    if finish == "drilled" and not by_hand and size.stated and size.plus - size.minus < DRILLED:
        band = show(size.plus - size.minus, size.unit)
        ask.fault(
            "diameter",
            f"limits {band} apart on '{size.text}' are closer than a drill can be trusted to",
            "say 'finish: reamed' or 'finish: bored', or open the limits",
            grade="warning" if fields.finish else "lacking",
        )
    checks = [Check("bore", size, CheckSort.DIAMETER, between(EndKind.WALL, EndKind.WALL))]
    if depth:
        down = between(EndKind.MOUTH, EndKind.FULL_DIAMETER)
        checks.append(Check("depth", depth, CheckSort.DEPTH, down))
    bore = Bore(
        size,
        size.nominal,
        depth.nominal if depth else thickness,
        through,
        finish,
        fields.bottom == "flat",
        tuple(checks),
    )
    if through or bore.flat or finish == "drilled" or depth is None:
        return bore
    if goes_through(fields.drill_depth):
        what = "only a thread's drill goes through, where the thread ends before"
        ask.fault("drill depth", what, "write the smaller hole as a feature of its own")
        return None
    return _deeper(ask, bore, thickness, size.nominal, size.nominal / 2, "half its diameter below")


def _tapped(
    fields: HoleFields, ask: Ask, depth: Dimension | None, through: bool, thickness: float
) -> Bore | None:
    from barstock.handbook.threads import thread

    if fields.finish not in (None, "tapped", *HandFinish):
        ask.fault("finish", f"a threaded hole cannot be left {fields.finish}", "leave 'finish' out")
        return None
    name = (fields.thread or "").strip()
    try:
        form = thread(name)
    except LookupError as wrong:
        what, _, mend = str(wrong).partition("; ")
        ask.fault("thread", what, mend)
        return None
    if depth is None and not through:
        return None
    size = Dimension(form.major, text=name)
    checks = [Check("thread", size, CheckSort.THREAD)]
    if depth:
        down = between(EndKind.MOUTH, EndKind.FULL_THREAD)
        checks.append(Check("depth", depth, CheckSort.DEPTH, down))
    bore = Bore(
        size,
        form.major,
        depth.nominal if depth else thickness,
        through,
        "tapped",
        fields.bottom == "flat",
        tuple(checks),
        name,
        form.tap_drill,
    )
    if depth is None:
        return bore
    if goes_through(fields.drill_depth):
        return replace(
            bore, drill=form.tap_drill, drill_depth=thickness, flat=False, drilled_through=True
        )
    words = f"{RUN_OUT} pitches below the full thread"
    lead = BLUNT_LEAD * form.pitch
    more = RUN_OUT * form.pitch
    pointed = lead + POINT_SHARE * form.tap_drill
    if bore.flat and pointed > more:
        words, more = "the lead of a blunt tap and the drill's point below the full thread", pointed
    return _deeper(ask, bore, thickness, form.tap_drill, more, words, lead)


def _deeper(
    ask: Ask,
    bore: Bore,
    thickness: float,
    drill: float,
    more: float,
    words: str,
    least: float = 0.0,
) -> Bore | None:
    """The bore with the drill that goes before its tap, reamer or boring tool.

    more: how much deeper than the bore that drill goes where the drawing does not say, and there is
    metal for it; least: must go for the tap's lead [mm].
    """
    if not ask.given("drill depth"):
        point = 0.0 if bore.flat else tip(drill)
        room = thickness - UNDER - bore.depth
        if room < least + point and not bore.flat and least <= room:
            return _flattened(ask, replace(bore, drill=drill, drill_depth=bore.depth + least))
        if least + point <= room < more + point:
            more = room - point
            words = f"as much as leaves {show(UNDER, bore.size.unit)} under its end"
        what = f"the drawing does not say how deep its drill may go; {words} is taken"
        ask.fault(None, what, "give 'drill depth'", grade="lacking")
        return replace(
            bore, drill=drill, drill_depth=bore.depth + more, drill_least=bore.depth + least
        )
    size = ask.size("drill depth")
    if size is None:
        return None
    if size.nominal < bore.depth:
        what = f"the drill stops {show(bore.depth - size.nominal, size.unit)} short of the depth"
        ask.fault("drill depth", what, "give at least the hole's depth")
        return None
    if size.nominal < bore.depth + least - 1e-6:
        what = (
            f"the drill goes only {show(size.nominal - bore.depth, size.unit)} past the full "
            f"thread; the lead of the bluntest tap takes {show(least, size.unit)}"
        )
        mend = f"give {show(bore.depth + least, size.unit)} or more, or less thread"
        ask.fault("drill depth", what, mend)
        return None
    drilled = replace(bore, drill=drill, drill_depth=size.nominal)
    if not bore.thread:
        return drilled
    down = between(EndKind.MOUTH, EndKind.TAPPING_DRILL)
    check = Check("drill depth", size, CheckSort.DEPTH, down)
    return replace(drilled, checks=(*bore.checks, check))


def _flattened(ask: Ask, bore: Bore) -> Bore:
    """The bore with a flat bottom, because a drill's point would come out."""
    what = "its drill's point would come out at the far side; a flat bottom is taken"
    ask.fault(None, what, "say 'bottom: flat', or give a lesser depth", grade="lacking")
    return replace(bore, flat=True)


def tip(diameter: float) -> float:
    """Height of a twist drill's point [mm].

    >>> round(tip(10), 2)
    3.0
    """
    return diameter / 2 / math.tan(math.radians(POINT / 2))


def _clearance(fields: HoleFields, ask: Ask) -> Dimension | None:
    """The medium clearance hole, with the limits ISO 273 gives that series, H13."""
    from barstock.handbook.iso_fits import limits
    from barstock.handbook.threads import clearance

    name = (fields.clearance_for or "").strip()
    try:
        size = clearance(name)
    except LookupError as wrong:
        what, _, mend = str(wrong).partition("; ")
        ask.fault("clearance for", what, mend)
        return None
    return Dimension(size, *limits(size, "H13"), text=f"clearance for {name}", stated=True)
