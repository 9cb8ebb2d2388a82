"""Where a slot begins and stops along its run, and the form of its closed ends."""

from __future__ import annotations

from dataclasses import dataclass, replace

from barstock.drawing.build import AXES, Face, Part, Vec
from barstock.drawing.dimension_runs import CheckSort, End, EndKind, between
from barstock.drawing.questions import Ask
from barstock.methods.corner_radius import corner_radius
from barstock.methods.cuts import Check
from barstock.methods.dimension_forms import Form, centred, goes_through, near_wall, one_of, sized
from barstock.methods.kind import Drawn
from barstock.methods.places import moved, sharpest
from barstock.methods.sheet_dimensions import across
from barstock.methods.slot_fields import SlotFields
from barstock.quantities import Dimension, Unit, show

SLIT = 3.2  # a slot no wider, right through and open at an end, may end square, as a saw leaves it
# where the drawing does not say how [mm]; common practice


@dataclass(frozen=True)
class Ends:
    """The ends of a slot. start, stop: coordinates along the run [mm]; open: whether the cutter may
    run out there.

    corner, sharpest: radius in the corners of closed ends, and the least that will do, 0 where
    there are none [mm]. length, place: how they are dimensioned.
    """

    start: float
    stop: float
    open_start: bool = True
    open_stop: bool = True
    corner: float = 0.0
    length: Form | None = None
    place: Form | None = None
    sharpest: float = 0.0

    @property
    def checks(self) -> tuple[Check, ...]:
        """The dimensions of the ends that are to be checked."""
        forms = (self.length, self.place)
        return tuple(check for form in forms if form is not None for check in form.checks)

    def drawn(self, here: Vec, view: str, axis: int) -> list[Drawn]:
        """The dimensions of the ends, from a point on the slot."""
        dims: list[Drawn] = []
        if self.length:
            inset = self.corner if self.length.field == "between centres" else 0.0
            first = moved(here, axis, self.start + inset)
            dims += across(self.length, view, first, axis, self.stop - inset, hollow=not inset)
        if self.place:
            low = self.place.origin < self.place.value
            near = self.start if low else self.stop
            at = self.place.value if self.place.field == "middle" else near
            dims += across(self.place, view, moved(here, axis, at), axis, self.place.origin)
        return dims


def read_ends(fields: SlotFields, ask: Ask, part: Part, axis: int, width: float) -> Ends | None:
    """The ends as written: through, open at one face, or closed at both ends; None after reporting
    what is wrong.
    """
    open_at = fields.open_at
    whole = part.size[axis]
    if open_at is None and not (ask.given("length") or ask.given("between centres")):
        for field in ("end from", "middle", "corner radius"):
            if ask.given(field):
                ask.fault(field, "the slot has no closed end", "give its 'length'")
                return None
        return Ends(0.0, whole)
    if open_at is not None and open_at.axis != axis:
        mend = f"say {Face.of(axis, -1)} or {Face.of(axis, 1)}"
        ask.fault("open at", f"the slot does not reach {open_at}", mend)
        return None
    length = one_of(ask, part, "length of the slot", "'length'", _lengths(ask, width, open_at))
    square = (
        _corner(ask, width, fields.corner_radius, part.unit) if fields.ends == "square" else None
    )
    if length is None or (square is None and fields.ends == "square"):
        return None
    corner = square.nominal if square else width / 2
    slit = open_at is not None and width <= SLIT and goes_through(fields.depth)
    least = 0.0 if slit and not ask.given("ends") else sharpest(corner, square)
    if open_at is not None:
        ends = _open(part, axis, open_at, length, corner)
    else:
        half = length.value / 2
        places = centred(ask, "middle", axis, part)
        places += near_wall(ask, "end from", axis, part, half, EndKind.NEAR_END)
        place = one_of(ask, part, "place of the slot's ends", "'end from' or 'middle'", places)
        if place is None:
            return None
        low, high = place.value - half, place.value + half
        ends = Ends(low, high, False, False, corner, length, place)
    out = max(-ends.start, ends.stop - whole)
    if out > (1e-6 if open_at else -1e-6):
        ask.fault(
            length.field,
            f"the closed end runs {show(max(out, 0.0), part.unit)} out of the part's {AXES[axis]}",
            "check the length, or leave it out for a slot that runs through",
        )
        return None
    return replace(ends, sharpest=least)


def _lengths(ask: Ask, width: float, open_at: Face | None) -> list[Form | None]:
    """Over all, to the face that it runs out of where there is one; or between its centres."""
    over_all = (End(EndKind.END), End(EndKind.FACE, open_at) if open_at else End(EndKind.END))
    centres = between(EndKind.ROUND_END, EndKind.ROUND_END)
    apart = sized(ask, "between centres", CheckSort.INSIDE, centres)
    return sized(ask, "length", CheckSort.INSIDE, over_all) + [
        form and replace(form, value=form.value + width) for form in apart
    ]


def _corner(ask: Ask, width: float, written: str | None, unit: Unit) -> Dimension | None:
    """width: of the slot, 0 where it cannot be read [mm]."""
    size = corner_radius(ask, written, width, unit)
    if size is not None and width and size.nominal > width / 2:
        ask.fault("corner radius", "the radius is more than half the slot's width", "make it less")
        return None
    return size


def _open(part: Part, axis: int, face: Face, length: Form, corner: float) -> Ends:
    whole = part.size[axis]
    if face.sign < 0:
        return Ends(0.0, length.value, True, False, corner, length)
    return Ends(whole - length.value, whole, False, True, corner, length)
