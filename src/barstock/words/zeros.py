"""Zeros in words: where each is, how it is found, and which way the readings rise."""

from __future__ import annotations

from dataclasses import dataclass

from barstock.handbook.holding_limits import FINDER_ROOM
from barstock.quantities import Unit, show
from barstock.route import BodyKind, Holding, Setup, Zero
from barstock.words.filling_in import joined
from barstock.words.holding.way_in_words import bed, sides
from barstock.words.lines import Value, value
from barstock.words.reader import Reader
from barstock.words.size_figures import stack

BACK = "A − is counted back from zero: a collar then stands at its whole turn less the divisions."
AGAIN = (
    "as to zero; if you pass one, go back a whole turn and come again, so that the screw's slack "
    "is always taken up."
)
WAYS = {"X": ("to the right", "to the left"), "Y": ("away from you", "towards you")}


@dataclass(frozen=True)
class ZeroLine:
    """The line of how one axis is set to zero, and the reading there."""

    axis: str
    words: str
    set_to: Value


def zero_lines(setup: Setup, reader: Reader) -> tuple[ZeroLine, ...]:
    """The lines of how each axis is set to zero."""
    named = (("X", setup.zero_x), ("Y", setup.zero_y), ("Z", setup.zero_z))
    return tuple(_zero(axis, zero, setup, reader) for axis, zero in named if zero.find != "none")


def _zero(axis: str, zero: Zero, setup: Setup, reader: Reader) -> ZeroLine:
    found = _how_it_is_found(zero, setup, reader)
    if zero.set_to and axis in WAYS and reader.by_wheel(axis):
        way = WAYS[axis][0 if zero.set_to < 0 else 1]
        onward = " ".join(run.text for run in reader.distance(axis, abs(zero.set_to)))
        return ZeroLine(axis, f"{found}; lift, wind on {onward} {way}", value("0"))
    return ZeroLine(axis, found, reader.place(axis, zero.set_to) if zero.set_to else value("0"))


def _how_it_is_found(zero: Zero, setup: Setup, reader: Reader) -> str:
    h = setup.holding
    left, right = sides(h.up, h.fixed_jaw)
    finder = f"{stack((zero.finder,), reader.unit)} edge finder" if zero.finder else "edge finder"
    if zero.find == "top":
        return "each cutter touched on the highest point of the work"
    if zero.find == "rest":
        on = "the parallels" if h.packing else bed(h)
        on = "the board" if h.of(BodyKind.BOARD) else on
        on += ", laid back beside the work" * h.parallels_out
        gauge = f"{stack((zero.gauge,), reader.unit)} {zero.gauge_of or 'gauge'}"
        return f"each cutter touched on a {gauge} standing on {on}"
    if zero.on is not None:
        return (
            f"{finder} on both sides of the {zero.on}, half way between, where the work's axis is"
        )
    if zero.find == "centre":
        return f"{finder} on both sides, half way between"
    edges = {
        "left": f"the left-hand end ({left})",
        "right": f"the right-hand end ({right})",
        "front": f"the front ({h.fixed_jaw.opposite})",
        "back": f"the back ({h.fixed_jaw})",
        "fixed jaw": "the fixed jaw's face, from the front",
    }
    seats = [body for body in h.bodies if body.bears == "front"]
    if zero.find == "fixed jaw" and seats:
        face = f"the {seats[0].name}'s face"
        return f"before the work goes on: {finder} against {face}, from the front"
    if zero.find == "fixed jaw" and not _goes_in(zero.finder, h):
        return f"before the work goes in, the jaws wide open: {finder} against {edges[zero.find]}"
    return f"{finder} against {edges[zero.find]}"


def _goes_in(tip: float, h: Holding) -> bool:
    """Is there room for a finder between the jaws closed on the work, beyond its end at the stop?

    The work begins at x = 0.
    """
    return min(h.opening, -h.jaws_from) >= tip + FINDER_ROOM


def readings_in(reader: Reader) -> str:
    """The words for what the readings are in, which way they rise, and which way wheels are wound
    up to them.
    """
    alike: dict[str, list[str]] = {}
    for name in ("X", "Y", "Z"):
        alike.setdefault(_read_in(name, reader), []).append(name)
    units = "; ".join(
        f"{joined(names)} in {unit}" if len(alike) > 1 else unit for unit, names in alike.items()
    )
    found = (
        f"Readings {'of' if len(alike) > 1 else 'in'} {units}; the cutter goes + X to the right, "
        "+ Y away from you, + Z up."
    )
    wheels = [name for name in ("X", "Y", "Z") if reader.by_wheel(name)]
    if not wheels:
        return found
    level = [name for name in wheels if name != "Z"]
    ways = [f"up to every {joined(level)} reading in the + direction"] * bool(level)
    ways += ["down to every Z"] * ("Z" in wheels)
    return f"{found} {BACK} Wind {' and '.join(ways)}, {AGAIN}"


def _read_in(name: str, reader: Reader) -> str:
    axis = reader.axis(name)
    if not reader.by_wheel(name):
        return "inches" if axis.unit is Unit.INCH else "millimetres"
    turn = show(axis.per_turn, axis.unit)
    return f"turns and divisions ({turn} a turn, {axis.divisions} divisions)"
