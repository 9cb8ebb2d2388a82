"""A dimension that the drawing may give in more than one way is taken here, or said to be wrong."""

from __future__ import annotations

from dataclasses import dataclass, replace

from barstock.drawing.build import AXES, Face, Part
from barstock.drawing.dimension_runs import CheckSort, End, EndKind, Runs, from_face
from barstock.drawing.questions import Ask, Located
from barstock.methods.cuts import Check
from barstock.methods.places import below, level
from barstock.quantities import show

AGREE = 0.005
"""Two ways of giving one dimension agree within this [mm]."""

BETWEEN = ("leaves", "across floors", "across wide end")
"""Dimensions measured between a feature and its mirror image."""


THROUGH = ("through", "thru", "thro", "right through", "through all", "thru all", "all through")
"""How drawings write a depth that goes right through."""

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
        """The check of the dimension, if there is one."""
        return () if self.check is None else (self.check,)


def one_of(ask: Ask, part: Part, what: str, ways: str, forms: list[Form | None]) -> Form | None:
    """The one form in which a dimension was given; None after reporting what is wrong.

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


def sized(ask: Ask, field: str, sort: CheckSort, runs: Runs) -> list[Form | None]:
    """The size as a form, if it was given: the list is empty where it was not."""
    if not ask.given(field):
        return []
    size = ask.size(field)
    if size is None:
        return [None]
    size = size.aimed()
    return [Form(field, size.nominal, Check(field, size, sort, runs))]


def right_through(form: Form) -> bool:
    """Does a depth go out at the far side of the part?"""
    return form.field == "depth" and form.check is None


def goes_through(written: str | None) -> bool:
    """Is a depth written as one that goes right through?

    >>> goes_through("through"), goes_through("THRU"), goes_through("8"), goes_through(None)
    (True, True, False, False)
    """
    return " ".join((written or "").lower().rstrip(".'").split()) in THROUGH


def deep(ask: Ask, part: Part, face: Face, written: str | None) -> list[Form | None]:
    """The depth below a face as a form, if it was given; 'through' goes OUT past the far side."""
    if goes_through(written):
        return [Form("depth", part.size[face.axis] + OUT, None)]
    return sized(ask, "depth", CheckSort.DEPTH, from_face(face, EndKind.FLOOR))


def leaving(ask: Ask, field: str, whole: float, share: int, runs: Runs) -> list[Form | None]:
    """The depth from what is left across the part (`whole` less the cut `share` times), if it was
    given.
    """
    if not ask.given(field):
        return []
    size = ask.size(field)
    if size is None:
        return [None]
    size = size.aimed()
    check = Check(field, size, CheckSort.OUTSIDE, runs)
    return [Form(field, (whole - size.nominal) / share, check)]


def surface(ask: Ask, field: str, face: Face, part: Part) -> list[Form | None]:
    """The depth below `face` of a surface given by its place, if it was given."""
    if not ask.given(field):
        return []
    found = ask.offset(field, face.axis)
    if found is None:
        return [None]
    name, source = field.removesuffix(" from"), found.given_from
    sorts = {face.opposite.value: CheckSort.OUTSIDE, face.value: CheckSort.DEPTH}
    sort = sorts.get(source, CheckSort.POSITION)
    check = Check(name, found.dimension, sort, placed_from(source, face.axis, EndKind.SURFACE))
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


def near_wall(
    ask: Ask, field: str, axis: int, part: Part, half: float, near: EndKind
) -> list[Form | None]:
    """The centre line of a feature `half` wide each side, from its near wall, if that was given.

    near: which wall that is, one along it or one at its end.
    """
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
    runs = from_face(side, near)
    check = Check(name, found.dimension, CheckSort.POSITION, runs)
    return [Form(field, found.value - side.sign * half, check, level(part, side))]


def position_check(found: Located, axis: int, to: EndKind = EndKind.MIDDLE) -> Check | None:
    """How the place of something is checked; None where it is plainly on the centre line."""
    plain = found.given_from == "centre" and found.dimension.nominal == 0
    if plain and not found.dimension.stated:
        return None
    source = found.given_from
    runs = placed_from(source, axis, to)
    name = f"from centre of {AXES[axis]}" if source == "centre" else f"from {source}"
    return Check(name, found.dimension, CheckSort.POSITION, runs)


def placed_from(source: str, axis: int, to: EndKind) -> Runs:
    """What a place along an axis is given from: a face or the part's centre line."""
    if source == "centre":
        return End(EndKind.CENTRE_LINE, axis=axis), End(to)
    return from_face(Face(source), to)


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
    if depth.field in BETWEEN:
        return _of_image(checks, face) + (depth.checks if face is faces[-1] else ())
    return _of_image((*checks, *depth.checks), face)


def _of_image(checks: tuple[Check, ...], face: Face) -> tuple[Check, ...]:
    return tuple(replace(one, name=f"{one.name} {face}", plain=one.name) for one in checks)
