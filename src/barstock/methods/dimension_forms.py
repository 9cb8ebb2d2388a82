"""A dimension the drawing may give in more than one way: take it, or say what is wrong."""

from __future__ import annotations

from dataclasses import dataclass, replace

from barstock.drawing.build import AXES, Face, Part
from barstock.drawing.questions import Ask, Located
from barstock.methods.cuts import Check
from barstock.methods.places import below, level
from barstock.quantities import show

AGREE = 0.005
"""Two ways of giving one dimension agree within this [mm]."""

BETWEEN = ("leaves", "across floors", "across wide end")
"""Dimensions measured between a feature and its mirror image."""


OUT = 0.5
"""So far a cutter goes out at the far side of what is cut right through [mm]; common practice."""


@dataclass(frozen=True)
class Form:
    """A dimension as found in one of the drawing's ways.

    value: what it makes of the wanted figure [mm]. check: the dimension itself, None where there is
    nothing to check. origin: coordinate a position is measured from [mm].
    """

    field: str
    value: float
    check: Check | None
    origin: float = 0.0

    @property
    def checks(self) -> tuple[Check, ...]:
        """Its check, if there is one."""
        return () if self.check is None else (self.check,)


def one_of(ask: Ask, part: Part, what: str, ways: str, forms: list[Form | None]) -> Form | None:
    """The one form given.

    Faults: none given (`what` is missing, give one of `ways`), or two given that disagree.
    A form that is None was given but could not be read; its fault is already reported.
    """
    if not forms:
        ask.fault(None, f"the {what} is missing", f"give {ways}")
        return None
    read = [form for form in forms if form is not None]
    if len(read) < len(forms):
        return None
    first = read[0]
    for other in read[1:]:
        gap = abs(other.value - first.value)
        if gap > AGREE:
            one, two = show(first.value, part.unit), show(other.value, part.unit)
            ask.fault(
                other.field,
                f"the {what} is given twice and the two disagree by {show(gap, part.unit)}: "
                f"'{first.field}' makes it {one}, '{other.field}' {two}",
                "keep the one the drawing gives, or correct it",
            )
            return None
    return first


def sized(ask: Ask, field: str, of: str, how: str = "") -> list[Form | None]:
    """A plain size, if it was given: the list is empty where it was not."""
    if not ask.given(field):
        return []
    size = ask.size(field)
    if size is None:
        return [None]
    size = size.aimed()
    return [Form(field, size.nominal, Check(field, size, of, how))]


def right_through(form: Form) -> bool:
    """Does a depth go out at the far side of the part?"""
    return form.field == "depth" and form.check is None


def deep(ask: Ask, part: Part, face: Face, written: str | None) -> list[Form | None]:
    """A depth below a face, if it was given; 'through' goes out at the far side by OUT."""
    if (written or "").strip().lower() == "through":
        return [Form("depth", part.size[face.axis] + OUT, None)]
    return sized(ask, "depth", "depth", f"below the {face} face")


def leaving(ask: Ask, field: str, whole: float, share: int, how: str) -> list[Form | None]:
    """What is left across the part (`whole` less the cut `share` times), if it was given."""
    if not ask.given(field):
        return []
    size = ask.size(field)
    if size is None:
        return [None]
    size = size.aimed()
    return [Form(field, (whole - size.nominal) / share, Check(field, size, "outside", how))]


def surface(ask: Ask, field: str, face: Face, part: Part) -> list[Form | None]:
    """The depth below `face` of a surface given by its place, if it was given."""
    if not ask.given(field):
        return []
    found = ask.offset(field, face.axis)
    if found is None:
        return [None]
    name, source = field.removesuffix(" from"), found.given_from
    of = {face.opposite.value: "outside", face.value: "depth"}.get(source, "position")
    check = Check(name, found.dimension, of, f"from the {source}")
    origin = _origin(part, face.axis, source)
    return [Form(field, below(part, face, found.value), check, origin)]


def centred(ask: Ask, field: str, axis: int, part: Part) -> list[Form | None]:
    """The coordinate of a centre line along `axis`, if it was given."""
    if not ask.given(field):
        return []
    found = ask.offset(field, axis)
    if found is None:
        return [None]
    origin = _origin(part, axis, found.given_from)
    return [Form(field, found.value, position_check(found, axis), origin)]


def near_wall(ask: Ask, field: str, axis: int, part: Part, half: float) -> list[Form | None]:
    """The centre line of a feature `half` wide each side, from its near wall, if that was given."""
    if not ask.given(field):
        return []
    found = ask.offset(field, axis)
    if found is None:
        return [None]
    if found.given_from == "centre":
        ask.fault(
            field,
            "from the centre there is no telling which of the two walls is meant",
            "give the near wall from a face",
        )
        return [None]
    side = Face(found.given_from)
    name = field.removesuffix(" from")
    check = Check(name, found.dimension, "position", f"near {name} from the {side}")
    return [Form(field, found.value - side.sign * half, check, level(part, side))]


def position_check(found: Located, axis: int) -> Check | None:
    """How a place is checked; None where it is plainly on the centre line."""
    if found.given_from == "centre" and found.dimension.nominal == 0:
        return None
    source = found.given_from
    if source == "centre":
        source = f"centre of {AXES[axis]}"
    return Check(f"from {source}", found.dimension, "position", f"from the {source}")


def _origin(part: Part, axis: int, source: str) -> float:
    return part.size[axis] / 2 if source == "centre" else level(part, Face(source))


def by_face(
    checks: tuple[Check, ...], depth: Form, face: Face, faces: tuple[Face, ...]
) -> tuple[Check, ...]:
    """The checks of one of a feature's mirror images, each named for its face.

    A depth given as what is left between the two is made, and checked, by the last of them.
    """
    if len(faces) == 1:
        return (*checks, *depth.checks)
    named = tuple(replace(check, name=f"{check.name} {face}") for check in checks)
    if depth.field in BETWEEN:
        return named + (depth.checks if face is faces[-1] else ())
    return named + tuple(replace(check, name=f"{check.name} {face}") for check in depth.checks)
