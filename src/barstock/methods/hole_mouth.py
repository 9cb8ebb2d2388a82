"""The mouth of a hole: a countersink given by top diameter or depth, or a counterbore."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from barstock.drawing.build import Part
from barstock.drawing.dimension_runs import CheckSort, EndKind, between
from barstock.drawing.questions import Ask
from barstock.methods.cuts import Check
from barstock.methods.dimension_forms import Form, one_of, sized
from barstock.methods.hole_bore import Bore
from barstock.methods.hole_fields import Counterbore, Countersink
from barstock.quantities import show


@dataclass(frozen=True)
class Mouth:
    """How the hole opens [mm, degrees].

    countersink: (top diameter, included angle) or None. counterbore: (diameter, depth) or None.
    """

    countersink: tuple[float, float] | None = None
    counterbore: tuple[float, float] | None = None
    checks: tuple[Check, ...] = ()
    words: str = ""

    def sink_depth(self, hole: float) -> float:
        """The depth of the cone down to a hole of that diameter [mm]."""
        if self.countersink is None:
            return 0.0
        top, angle = self.countersink
        return (top - hole) / 2 / math.tan(math.radians(angle / 2))


PLAIN = Mouth()
"""The mouth of a hole that is neither countersunk nor counterbored."""

NEAR, FAR = "countersink", "far countersink"
"""What a cone at either end of a hole is called in the file."""

CONE = 10.0
"""The side of a countersink's cone is taken to be no longer than this [mm]."""


def read_mouth(
    sink: Countersink | None, wide: Counterbore | None, ask: Ask, part: Part, bore: Bore | None
) -> Mouth | None:
    """The mouth in millimetres, or None after reporting what is wrong."""
    if sink and wide:
        what = "the hole has both a countersink and a counterbore"
        ask.fault("counterbore", what, "keep one of them")
        return None
    if sink:
        return _sunk(ask, part, bore, NEAR)
    return _widened(ask, bore) if wide else PLAIN


def read_far_mouth(
    sink: Countersink | None, ask: Ask, part: Part, bore: Bore | None
) -> Mouth | None:
    """The far mouth of a through hole in millimetres, or None after reporting what is wrong."""
    if sink is None:
        return PLAIN
    if bore is not None and not bore.through:
        ask.fault(FAR, "a blind hole has no far end", "leave it out")
        return None
    return _sunk(ask, part, bore, FAR)


def _sunk(ask: Ask, part: Part, bore: Bore | None, field: str) -> Mouth | None:
    turn = f"{field}.angle"
    angle = ask.angle(turn, CONE) if ask.given(turn) else None
    if angle is None and ask.given(turn):
        return None
    degrees = angle.nominal if angle else 90.0
    if not 0 < degrees < 180:
        ask.fault(turn, f"{degrees:g} degrees is no cone", "give 60, 82, 90 or 120")
        return None
    if bore is None:
        return None
    spread = 2 * math.tan(math.radians(degrees / 2))
    depth = [
        form and Form(form.field, bore.diameter + form.value * spread, form.check)
        for form in sized(
            ask,
            f"{field}.depth",
            CheckSort.COUNTERSINK,
            between(EndKind.MOUTH, EndKind.CONE),
        )
    ]
    top = one_of(
        ask,
        part,
        "top of the countersink",
        "'diameter' or 'depth' of the countersink",
        sized(ask, f"{field}.diameter", CheckSort.COUNTERSINK, between(EndKind.RIM, EndKind.RIM))
        + depth,
    )
    if top is None:
        return None
    size = top.checks[0].dimension
    if top.value <= bore.diameter:
        what = f"the countersink, {show(top.value, size.unit)} across, is no wider than the hole"
        ask.fault(top.field, what, f"give more than {show(bore.diameter, size.unit)}")
        return None
    where = " at the far end" if field == FAR else ""
    words = f", countersunk{where} {degrees:g}° " + (
        f"to ⌀{size.text}" if top.checks[0].has(EndKind.RIM) else f"{size.text} deep"
    )
    names = {f"{field}.diameter": field, f"{field}.depth": f"{field} depth"}
    checks = [replace(top.checks[0], name=names[top.field])]
    if angle:
        cutter = between(EndKind.CUTTER, EndKind.CUTTER)
        checks.append(Check(f"{field} angle", angle, CheckSort.ANGLE, cutter))
    mouth = Mouth((top.value, degrees), None, tuple(checks), words)
    if not bore.through and mouth.sink_depth(bore.diameter) >= bore.depth:
        what = "the countersink is deeper than the hole"
        ask.fault(top.field, what, "check both depths")
        return None
    return mouth


def _widened(ask: Ask, bore: Bore | None) -> Mouth | None:
    size, depth = ask.size("counterbore.diameter"), ask.size("counterbore.depth")
    if size is None or depth is None or bore is None:
        return None
    if size.nominal <= bore.diameter:
        what = f"the counterbore, {show(size.nominal, size.unit)}, is no wider than the hole"
        ask.fault("counterbore.diameter", what, f"give more than {show(bore.diameter, size.unit)}")
        return None
    if depth.nominal >= bore.depth:
        what = f"the counterbore, {show(depth.nominal, size.unit)} deep, is as deep as the hole"
        ask.fault("counterbore.depth", what, f"give less than {show(bore.depth, size.unit)}")
        return None
    checks = (
        Check(
            "counterbore",
            size,
            CheckSort.DIAMETER,
            between(EndKind.COUNTERBORE, EndKind.COUNTERBORE),
        ),
        Check(
            "counterbore depth",
            depth,
            CheckSort.DEPTH,
            between(EndKind.MOUTH, EndKind.COUNTERBORE),
        ),
    )
    words = f", counterbored ⌀{size.text} × {depth.text} deep"
    return Mouth(None, (size.nominal, depth.nominal), checks, words)
