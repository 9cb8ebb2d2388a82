"""The small sums of the bench: these functions take texts, and look up the handbook's sets.

Every function raises WrongUseError, with what to write instead, for what cannot be worked out.
"""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from pathlib import Path
from typing import TYPE_CHECKING

from barstock.errors import WrongUseError, asked_for
from barstock.reading.faults import fault_line, nearest

if TYPE_CHECKING:
    from barstock.measuring.angles import SineSetting
    from barstock.measuring.closing_in import Advice, Cut
    from barstock.measuring.gauging import Gauging
    from barstock.measuring.stacks import Stack
    from barstock.quantities import Dimension, Unit
    from barstock.workshop.shop import Axis

SET = "112 piece"


@dataclass(frozen=True)
class Blocks:
    """A set of gauge blocks. unit: what bare sizes are in; sizes [mm]."""

    unit: Unit
    sizes: tuple[float, ...]


def blocks(set: str = SET, shop: str | os.PathLike[str] | None = None) -> Blocks:
    """A set of gauge blocks by its name, or the one that the workshop of a build's folder owns."""
    from barstock.handbook.gauge_blocks import gauge_set
    from barstock.quantities import INCH, Unit
    from barstock.workshop.shop_reading import find_workshop, read_workshop

    if shop is None:
        with asked_for():
            found = gauge_set(set)
            return Blocks(found.unit, found.mm)
    path = find_workshop(Path(shop), None)
    workshop, faults = read_workshop(path)
    if workshop is None:
        raise WrongUseError("\n".join(fault_line(fault) for fault in faults))
    for one in workshop.instruments:
        if one.kind == "gauge blocks":  # no metric set holds a block of an inch
            inch = any(abs(size - INCH) < 1e-6 for size in one.sizes)
            return Blocks(Unit.INCH if inch else Unit.MM, one.sizes)
    raise WrongUseError(f"{path} lists no gauge blocks; add them under 'measuring'")


def stack(
    sizes: Sequence[str | float],
    set: str = SET,
    *,
    together: bool = False,
    shop: str | os.PathLike[str] | None = None,
) -> list[Stack]:
    """The fewest blocks of a set for each size; sizes without a unit are in the set's.

    together: all standing at once, no block in two of them. shop: a build's folder, to use the
    blocks that its workshop owns. Stacks are in mm.

    >>> stack(["57.333"])[0].blocks
    (50.0, 5.0, 1.33, 1.003)
    """
    from barstock.measuring import stacks
    from barstock.quantities import parse_length

    found = blocks(set, shop)
    with asked_for():
        wanted = [parse_length(str(size), found.unit) for size in sizes]
        if together:
            return stacks.stacks(wanted, found.sizes)
        return [stacks.stack(size, found.sizes) for size in wanted]


def sine(
    angle: str | float,
    bar: str | float = "100 mm",
    set: str = SET,
    *,
    shop: str | os.PathLike[str] | None = None,
) -> SineSetting:
    """The stack under one roller of a sine bar for an angle [degrees, or 1°30'].

    bar: distance of its rollers' centres [mm]; shop: as for stack.

    >>> sine("30").stack.blocks
    (50.0,)
    """
    from barstock.measuring.angles import sine_setting
    from barstock.quantities import parse_angle, parse_length

    found = blocks(set, shop)
    with asked_for():
        centres = parse_length(str(bar))
        return sine_setting(parse_angle(str(angle)).nominal, centres, found.sizes)


def sine_of(angle: str | float, height: str | float, bar: str | float = "100 mm") -> SineSetting:
    """The angle that a stack of that height [mm] under one roller gives, against the angle wanted.

    >>> round(sine_of(30, 50.01).error, 1)
    23.8
    """
    from barstock.measuring.angles import SineSetting, sine_angle, sine_error
    from barstock.measuring.stacks import Stack
    from barstock.quantities import parse_angle, parse_length

    with asked_for():
        tall, centres = parse_length(str(height)), parse_length(str(bar))
        wanted = parse_angle(str(angle)).nominal
        error = sine_error(wanted, tall, centres)
        return SineSetting(wanted, Stack(tall, (tall,)), sine_angle(tall, centres), error)


def close(
    want: str,
    cuts: Sequence[Cut | str],
    of: str = "inside",
    axis: Axis | None = None,
    *,
    toward: int = 1,
    tilt: float = 0.0,
    half: bool = False,
    angle: float = 90.0,
) -> Advice:
    """The next cut towards a dimension, after these cuts and what was measured of them.

    want: with limits, "8.0 +0.05/0", "10 H7". cuts: in mm, or as texts READING:MEASURED in the
    size's own unit, with an s behind where one was taken again without feed. of: a sort of
    `making.SORTS` (angle: a countersink's included angle). axis: how it is read, 0.005 mm without.
    toward: 1 where feed makes the reading greater, -1 smaller. tilt: of the work [degrees]. half:
    the drawing gives half of it.

    >>> close("8.0 +0.05/0", ["0:7.9"]).words
    'each wall: feed 0.030 mm, to +0.030; expect 7.96 mm'
    """
    from barstock.measuring.closing_in import close_in
    from barstock.measuring.feed_effect import SORTS, halved, on_slope, usual
    from barstock.workshop.shop import Axis

    if of not in SORTS:
        raise WrongUseError(f"no feed closes in on '{of}'; {nearest(of, SORTS)}")
    with asked_for():
        size = _dimension(want)
        making = usual(of, angle)
        assert making is not None
        making = halved(making) if half else making
        making = on_slope(making, tilt) if tilt else making
        taken = [_cut(cut, size.unit) if isinstance(cut, str) else cut for cut in cuts]
        axis = axis or Axis(1000, 0.005, unit=size.unit)
        return close_in(size, making, axis, taken, toward=toward)


def axis(want: str, readout: str = "", per_turn: str = "", divisions: int = 0) -> Axis:
    """An axis read to `readout`, or by a wheel; bare figures are in the unit of the size `want`.

    >>> axis("1/4 +.002/0", per_turn=".100", divisions=100).per_turn
    2.54
    """
    from barstock.quantities import parse_length
    from barstock.workshop.shop import Axis

    with asked_for():
        unit = _dimension(want).unit
        if bool(per_turn) != bool(divisions):
            raise WrongUseError("a handwheel wants both: mm or inches per turn, and divisions")
        if per_turn:
            return Axis(1000, None, parse_length(per_turn, unit), divisions, unit=unit)
        return Axis(1000, parse_length(readout, unit) if readout else 0.005, unit=unit)


def _dimension(text: str) -> Dimension:
    """A size with limits, drills and fits looked up."""
    from barstock.handbook.drills import drill
    from barstock.handbook.iso_fits import limits
    from barstock.quantities import Tables, Unit, parse_dimension

    return parse_dimension(text, Unit.MM, Tables(drill, limits))


def _cut(text: str, unit: Unit) -> Cut:
    from barstock.measuring.closing_in import Cut
    from barstock.quantities import SizeError, parse_length

    reading, _, measured = text.removesuffix("s").partition(":")
    try:
        return Cut(parse_length(reading, unit), parse_length(measured, unit), text.endswith("s"))
    except SizeError:
        raise WrongUseError(f"'{text}' is no cut; write READING:MEASURED, 0.05:7.9") from None


@dataclass(frozen=True)
class Gauged:
    """An indirect measurement worked out. reading, low, high [mm]; dimension [mm or degrees].

    sensitivity: error in the dimension for one in the reading. low, high: of the reading, for the
    dimension's limits; both are the reading where it has none. unit: that it was given in; of an
    angle (`angular`) that of the reading alone.
    """

    way: str
    dimension: float
    reading: float
    sensitivity: float
    low: float
    high: float
    unit: Unit
    angular: bool = False


def _ways() -> dict[str, type[Gauging]]:
    """The ways of measuring what no instrument reaches, by name."""
    from barstock.measuring import cones, pins, tapers, wires

    return {
        "pin in countersink": cones.PinInCone,
        "ball in countersink": cones.BallInCone,
        "dovetail slot": pins.DovetailSlot,
        "dovetail slide": pins.DovetailSlide,
        "leaning slots": pins.LeaningSlots,
        "hole centres": pins.HoleCentres,
        "hole from edge": pins.HoleFromEdge,
        "taper by rollers": tapers.TaperByRollers,
        "taper's small end": tapers.SmallEnd,
        "taper by balls": tapers.TaperByBalls,
        "bore by balls": tapers.BoreByBalls,
        "thread over wires": wires.ThreeWires,
    }


def gauge_ways() -> dict[str, tuple[str, ...]]:
    """The ways of measuring by pins, balls, rollers and wires, and what each needs to know."""
    return {name: tuple(f.name for f in fields(way)) for name, way in _ways().items()}  # type: ignore[arg-type]


def gauge(
    way: str,
    given: Mapping[str, str],
    *,
    dimension: str | None = None,
    reading: str | None = None,
) -> Gauged:
    """What to read for a dimension (with limits, if it has them), or the dimension of a reading.

    given: what the way needs, by name: pin, ball, angle, ...

    >>> gauge("hole from edge", {"pin": "10"}, dimension="15 ±0.05").reading
    20.0
    """
    from barstock.quantities import parse_angle

    if (dimension is None) == (reading is None):
        raise WrongUseError("give either the dimension wanted or what was read")
    with asked_for():
        tool = _way(way, given)
        if reading is not None:
            was = _dimension(reading)
            read, found = was.nominal, tool.dimension(was.nominal)
            worth = tool.sensitivity(found)
            return Gauged(way, found, read, worth, read, read, was.unit, tool.angular)
        size = parse_angle(dimension or "") if tool.angular else _dimension(dimension or "")
        low, high = tool.limits(size.low, size.high) if size.plus > size.minus else (0.0, 0.0)
        read = tool.reading(size.nominal)
        low, high = (low, high) if low < high else (read, read)
        worth = tool.sensitivity(size.nominal)
        return Gauged(way, size.nominal, read, worth, low, high, size.unit, tool.angular)


def _way(way: str, given: Mapping[str, str]) -> Gauging:
    from barstock.handbook.threads import thread
    from barstock.quantities import parse_angle, parse_length

    known = _ways()
    if way not in known:
        raise WrongUseError(f"there is no way '{way}'; {nearest(way, known)}")
    named = {f.name: f for f in fields(known[way])}  # type: ignore[arg-type]
    for name in given:
        if name not in named:
            raise WrongUseError(f"'{way}' asks for no '{name}'; {nearest(name, named)}")
    values: dict[str, object] = {}
    for name, text in given.items():
        if name == "thread":
            values[name] = thread(text)
        elif name == "outside":
            values[name] = text.lower() in ("yes", "true", "over")
        elif name in ("angle", "lean"):
            values[name] = parse_angle(text).nominal
        else:
            values[name] = parse_length(text)
    try:
        return known[way](**values)
    except TypeError:
        raise WrongUseError(f"'{way}' wants {', '.join(named)}") from None
