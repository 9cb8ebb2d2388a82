"""The floor of a slot: how deep it lies at each end of the run, level or leaning."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from barstock.drawing.build import Face, Part
from barstock.drawing.dimension_runs import CheckSort, End, EndKind, between
from barstock.drawing.questions import Ask
from barstock.methods.cuts import Check
from barstock.methods.dimension_forms import Form, deep, leaving, one_of, right_through, surface
from barstock.methods.slot_fields import SlotFields


@dataclass(frozen=True)
class Floor:
    """The floor of a slot. start, stop: depth below the face at the low and the high end of the run
    [mm].

    lean: angle between floor and face [degrees]. depth_as: how the depth is dimensioned.
    """

    start: float
    stop: float
    lean: float
    depth_as: Form
    lean_checks: tuple[Check, ...] = ()


def read_floor(fields: SlotFields, part: Part, ask: Ask, axis: int) -> Floor | None:
    """The floor of a slot along `axis`, or None after reporting what is wrong."""
    lean = ask.angle("lean", part.size[axis]) if ask.given("lean") else None
    if ask.given("lean") and lean is None:
        return None
    if lean and not 0 < lean.nominal < 45:
        ask.fault("lean", f"{lean.nominal:g} degrees is no lean", "give 0 to 45 degrees")
        return None
    if not (_ends_named(fields, ask, axis) and _depth_suits(fields, ask)):
        return None
    degrees = lean.nominal if lean else 0.0
    fall = part.size[axis] * math.tan(math.radians(degrees))
    depth = _shallow_end(fields, part, ask, axis, fall)
    if depth is None:
        return None
    if right_through(depth) and (lean or fields.mirrored):
        what = "a slot right through has no floor to lean, and nothing to mirror"
        ask.fault("depth", what, "leave 'lean' and 'mirrored' out, or give a depth")
        return None
    start, stop = depth.value, depth.value + fall
    if fields.wide_end and fields.wide_end.sign > 0:
        start, stop = stop, start
    runs = End(EndKind.FLOOR), End(EndKind.FACE, fields.face)
    leaning = (Check("lean", lean, CheckSort.ANGLE, runs),) if lean else ()
    return Floor(start, stop, degrees, depth, leaning)


def _ends_named(fields: SlotFields, ask: Ask, axis: int) -> bool:
    """Are the ends named rightly, if it leans?"""
    if not ask.given("lean"):
        for field in ("wide end", "depth at", "across wide end"):
            if ask.given(field):
                mend = f"give its 'lean', or leave '{field}' out"
                ask.fault(field, "this slot does not lean", mend)
                return False
        return True
    if fields.open_at or ask.given("length") or ask.given("between centres"):
        ask.fault("lean", "a leaning slot must run through", "take its closed end away")
        return False
    for field, end in (("wide end", fields.wide_end), ("depth at", fields.depth_at)):
        if end is not None and end.axis != axis:
            mend = f"say {Face.of(axis, -1)} or {Face.of(axis, 1)}"
            ask.fault(field, f"the slot does not end at {end}", mend)
            return False
    if fields.wide_end is None:
        mend = "name the end where it is shallowest"
        ask.fault(None, "a leaning slot needs its 'wide end'", mend)
        return False
    return True


def _depth_suits(fields: SlotFields, ask: Ask) -> bool:
    """Does a distance between two floors have two floors, and are they parallel?"""
    for field in ("across floors", "across wide end"):
        if ask.given(field) and not fields.mirrored:
            mend = "add 'mirrored: true', or give 'depth'"
            ask.fault(field, f"'{field}' needs two floors", mend)
            return False
    if ask.given("across floors") and ask.given("lean"):
        what = "the floors of a leaning slot are not parallel"
        ask.fault("across floors", what, "use 'across wide end'")
        return False
    return True


def _shallow_end(fields: SlotFields, part: Part, ask: Ask, axis: int, fall: float) -> Form | None:
    """The depth as given, its value brought to the shallow end [mm]."""
    face, whole = fields.face, part.size[fields.face.axis]
    wide = fields.wide_end or Face.of(axis, -1)
    drop = 0.0 if fields.depth_at is wide else fall
    forms = deep(ask, part, face, fields.depth)
    forms += surface(ask, "floor from", face, part)
    shallow = [form and replace(form, value=form.value - drop) for form in forms]
    floors = between(EndKind.FLOOR, EndKind.FLOOR)
    shallow += leaving(ask, "across floors", whole, 2, floors)
    at_end = End(EndKind.FLOOR, wide), End(EndKind.FLOOR, wide)
    shallow += leaving(ask, "across wide end", whole, 2, at_end)
    ways = "'depth', 'floor from' or, mirrored, 'across floors' or 'across wide end'"
    return one_of(ask, part, "depth of the slot", ways, shallow)
