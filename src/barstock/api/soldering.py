"""Small sums of silver soldering: these functions take texts, and give screws, filler, gaps and
growth.

Every function raises WrongUseError, with what to write instead, for what cannot be worked out.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from barstock.errors import asked_for

if TYPE_CHECKING:
    from barstock.fabricating.filler import Filler
    from barstock.fabricating.filler_gaps import Gap
    from barstock.fabricating.fixing_screws import ScrewLength
    from barstock.fabricating.growth import HoleGrowth
    from barstock.fabricating.joining_findings import Finding
    from barstock.quantities import Dimension


def screw(
    thread: str,
    grip: str,
    into: str,
    full_thread: str,
    *,
    through: bool = False,
    out: str = "0",
    owned: Sequence[str] = (),
) -> ScrewLength:
    """The length of a fixing screw.

    grip: from under its head to the tapped hole, with limits if any; into: material tapped;
    full_thread: its depth, or the thickness where it goes through; out: how far it may stand out
    behind; owned: lengths on hand, else those sold.

    >>> found = screw("M3", "12", "mild steel", "9")
    >>> (found.least, found.most, found.stock)
    (15.5, 20.5, 16)
    """
    from barstock.fabricating.fixing_screws import ScrewPlace, screw_length

    with asked_for():
        size = _size(grip)
        place = ScrewPlace(
            thread,
            thread,
            size.low,
            size.high,
            into,
            _length(full_thread),
            blind=not through,
            out=_length(out),
        )
        return screw_length(place, tuple(_length(each) for each in owned) or None)


def filler(
    line: str, depth: str, gap: str, *, fillet: str = "0", alloy: str = "Ag 155", rod: str = "1.5"
) -> Filler:
    """The rod that a joint takes. line: the edge it is fed along; depth: how far it runs in; gap:
    one figure or 0.05 to 0.12, the widest counts; fillet: its leg; rod: its diameter.

    >>> filler("12", "6", "0.1", fillet="1").length
    10.0
    """
    from barstock.drawing.part import Form
    from barstock.fabricating.filler import filler as rod_for
    from barstock.fabricating.joints import Joint

    with asked_for():
        ends = [_length(end) for end in gap.split(" to ")]
        joint = Joint(
            "joint", ("", ""), Form.LAP, (alloy,), min(ends), max(ends), (),
            _length(line), _length(depth), _length(fillet),
        )  # fmt: skip
        return rod_for(joint, alloy, _length(rod))


def filled(gap: str, alloy: str = "Ag 155") -> tuple[Finding, ...]:
    """What is wrong with a gap, one figure or 0.05 to 0.12, for an alloy to fill.

    >>> filled("0.1"), len(filled("0.5"))
    ((), 1)
    """
    from barstock.fabricating.filler_gaps import Gap, check_gap

    with asked_for():
        ends = [_length(end) for end in gap.split(" to ")]
        least, most = min(ends), max(ends)
        return check_gap(Gap("joint", least, most, least, most, ()), alloy)


def gap(
    outside: str,
    inside: str,
    *,
    alloy: str = "Ag 155",
    metals: tuple[str, str] | None = None,
    heat: float = 680.0,
) -> tuple[Gap, tuple[Finding, ...]]:
    """The gap on each side of a spigot in a hole, or a tenon in a slot, and what is wrong with it.

    outside: the hole or slot, inside: what goes in, with limits; metals: of both, where they
    differ, for what heat [C] does to a round one.

    >>> found, wrong = gap("20.2 +0.05/0", "20 +0/-0.02")
    >>> round(found.least, 3), round(found.most, 3), wrong
    (0.1, 0.135, ())
    """
    from barstock.fabricating.filler_gaps import Link, check_gap, gap_of
    from barstock.fabricating.growth import spigot_change

    with asked_for():
        inner = _size(inside)
        found = gap_of(
            "joint", (Link("hole", _size(outside), +1, 0.5), Link("spigot", inner, -1, 0.5))
        )
        if metals:
            opens = spigot_change(inner.middle, *metals, heat)
            found = found.heated((opens, opens))
        return found, check_gap(found, alloy)


def growth(of: str, length: str, fixture: str, heat: float, *, screw: str = "M3") -> HoleGrowth:
    """What heat [C] does to a hole so far from the one that locates a piece on a fixture, and the
    hole that its screw then needs; the worse of a fixture as hot as the piece and one behind.

    >>> round(growth("brass", "60", "mild steel", 680).needs, 2)
    4.05
    """
    from barstock.fabricating.growth import Hold, hole_growths
    from barstock.handbook.materials import material
    from barstock.handbook.threads import clearance, thread

    with asked_for():
        form = thread(screw)
        wide = clearance(screw)
        near = Hold("near", "piece", (0.0, 0.0), wide, form.major, locates=True)
        far = Hold("far", "piece", (_length(length), 0.0), wide, form.major)
        materials = {"piece": material(of).name}
        return hole_growths((near, far), materials, material(fixture).name, heat)[1]


def _size(text: str) -> Dimension:
    from barstock.quantities import SizeError, parse_dimension

    size = parse_dimension(text)
    if size.low < 0:
        raise SizeError(f"'{text}' is less than nothing", "write it like 12 or 12 ±0.1")
    return size


def _length(text: str) -> float:
    from barstock.quantities import SizeError, parse_length

    length = parse_length(text)
    if length < 0:
        raise SizeError(f"'{text}' is less than nothing", "write it like 12.5 or 1/2")
    return length
