"""How the work is held and where zero is, in words."""

from __future__ import annotations

from collections.abc import Sequence

from barstock.drawing.build import Face, Part, Vec
from barstock.pack import v_block_words
from barstock.pack.pack_pages import ZeroLine
from barstock.pack.printed_figures import settable
from barstock.quantities import Unit, show, show_rough
from barstock.route import BodyKind, Holding, Setup, Zero
from barstock.words.lines import Run, value
from barstock.words.reader import Reader
from barstock.words.size_figures import stack
from barstock.workshop.shop import MachineKind

BACK = "A − is counted back from zero: a collar then stands at its whole turn less the divisions."
AGAIN = (
    "as to zero; if you pass one, go back a whole turn and come again, so that the screw's slack "
    "is always taken up."
)
BESIDE = 1.0  # that a finder's tip needs beside it to go between the jaws [mm]; common practice
LEAST_STOP = 1.0  # of the work's height that a stop must bear on [mm]; common practice
WAYS = {"X": ("to the right", "to the left"), "Y": ("away from you", "towards you")}


def sides(up: Face, fixed_jaw: Face) -> tuple[Face, Face]:
    """The work's faces at the left and right hand as it is held."""
    b, u = fixed_jaw.normal, up.normal
    right: Vec = (b[1] * u[2] - b[2] * u[1], b[2] * u[0] - b[0] * u[2], b[0] * u[1] - b[1] * u[0])
    axis = max(range(3), key=lambda i: abs(right[i]))
    at_right = Face.of(axis, 1 if right[axis] > 0 else -1)
    return at_right.opposite, at_right


def held_words(setup: Setup, part: Part) -> tuple[tuple[str, str], ...]:
    """The holding as (label, words) pairs."""
    h, unit = setup.holding, part.unit
    if setup.machine_kind in (MachineKind.SAW, MachineKind.BENCH):
        return (("Held in", h.device),)
    if h.of(BodyKind.BLOCK):
        return _on_block(h, unit)
    if h.of(BodyKind.STRAP):
        return _on_the_table(setup, unit)
    for vee in h.of(BodyKind.V_BLOCK):
        return v_block_words.words(h, vee, _stop(setup, unit), unit)
    words = [
        ("Held in", f"{h.device}, jaws {_apart(h.opening, unit)} apart" if h.opening else h.device),
        ("Up", h.up.value),
        ("Fixed jaw", h.fixed_jaw.value),
        ("Stop", _stop(setup, unit)),
        ("Rests on", _rest(h, unit)),
        ("Grip", settable(h.grip, unit)),
        ("Stick-up", settable(h.stick_up, unit)),
    ]
    if h.tilt:
        lifted = "right" if h.tilt > 0 else "left"
        words.append(("Tilt", f"{abs(h.tilt):.3g}°, {lifted}-hand end up"))
    return tuple(words)


def _on_block(h: Holding, unit: Unit) -> tuple[tuple[str, str], ...]:
    screws = " and ".join(screw.thread for screw in h.of(BodyKind.SCREW))
    base = f"parallels {stack(h.parallels, unit)}" if h.parallels else "the vise bed"
    return (
        ("Held on", f"a fixture block, screwed down through its own holes by {screws}"),
        ("Block in", f"{h.device}, jaws {_apart(h.opening, unit)} apart, on {base}"),
        ("Up", h.up.value),
        ("Towards you", h.fixed_jaw.opposite.value),
    )


def _on_the_table(setup: Setup, unit: Unit) -> tuple[tuple[str, str], ...]:
    h = setup.holding
    straps = h.of(BodyKind.STRAP)
    n, over = len(straps), " and ".join(dict.fromkeys(strap.over or "" for strap in straps))
    held, seat = f"the table, under {n} straps, over the {over}", "Fence"
    if h.of(BodyKind.ANGLE_PLATE):
        held = f"the table, against the angle plate by {n} strap{'s' * (n > 1)} across its front"
        seat = "Angle plate"
    return (
        ("Held on", held),
        ("Up", h.up.value),
        (seat, h.fixed_jaw.value),
        ("Stop", _stop(setup, unit)),
        ("Rests on", _rest(h, unit)),
    )


def _apart(opening: float, unit: Unit) -> str:
    """Between the jaws, as a rule shows it: they are closed on the work in any case."""
    if unit is Unit.INCH:
        return settable(opening, unit)
    return show_rough(opening, unit).replace(".0 mm", " mm")


def _stop(setup: Setup, unit: Unit) -> str:
    h = setup.holding
    if h.stop == "none":
        return "none"
    face = sides(h.up, h.fixed_jaw)[0 if h.stop == "left" else 1]
    words = f"{face} {'end' if face.axis == 0 else 'face'} at the {h.stop}"
    if h.stop_below is None:
        return words
    high = h.stop_below - h.packing
    if high < LEAST_STOP:
        return f"{words}; take the stop away once the work is gripped: a cutter comes down there"
    straps = h.of(BodyKind.STRAP)
    if setup.zero_z.find == "top" and not h.of(BodyKind.ANGLE_PLATE):
        top = h.jaw_top + h.stick_up if h.stick_up else h.packing + h.grip
        top = straps[0].low[2] if straps else top
        where = f"{settable(top - h.stop_below, unit)} or more below the work's top"
    else:
        under = "the parallels" if h.packing else _bed(h)
        where = f"no more than {settable(high, unit)} above {under}"
    return f"{words}; all of the stop {where}: a cutter passes over it"


def _bed(h: Holding) -> str:
    return "the vise bed" if h.jaw_top else "the table"


def _rest(h: Holding, unit: Unit) -> str:
    if not h.packing:
        return f"{h.up.opposite} on {_bed(h)}"
    if h.of(BodyKind.BOARD):
        return f"{h.up.opposite} on a flat board, {show(h.packing, unit)}"
    made = f"parallels {stack(h.parallels, unit)}" if h.parallels else show(h.packing, unit)
    return f"{h.up.opposite} on {made}" + (", drawn out once tight" if h.parallels_out else "")


def zero_lines(setup: Setup, part: Part, reader: Reader) -> tuple[ZeroLine, ...]:
    """How each axis is set to zero."""
    named = (("X", setup.zero_x), ("Y", setup.zero_y), ("Z", setup.zero_z))
    return tuple(
        _zero(axis, zero, setup, part, reader) for axis, zero in named if zero.find != "none"
    )


def _zero(axis: str, zero: Zero, setup: Setup, part: Part, reader: Reader) -> ZeroLine:
    found = _found(axis, zero, setup, part)
    if zero.set_to and axis in WAYS and reader.by_wheel(axis):
        way = WAYS[axis][0 if zero.set_to < 0 else 1]
        onward = " ".join(run.text for run in reader.distance(axis, abs(zero.set_to)))
        return ZeroLine(axis, f"{found}; lift, wind on {onward} {way}", (Run("0", True),))
    return ZeroLine(axis, found, reader.place(axis, zero.set_to) if zero.set_to else value("0"))


def _found(axis: str, zero: Zero, setup: Setup, part: Part) -> str:
    left, right = sides(setup.holding.up, setup.holding.fixed_jaw)
    finder = f"{stack((zero.finder,), part.unit)} edge finder" if zero.finder else "edge finder"
    front = setup.holding.fixed_jaw.opposite
    if zero.find == "top":
        return "each cutter touched on the highest point of the work"
    if zero.find == "rest":
        on = "the parallels" if setup.holding.packing else _bed(setup.holding)
        on = "the board" if setup.holding.of(BodyKind.BOARD) else on
        on += ", laid back beside the work" * setup.holding.parallels_out
        gauge = f"{stack((zero.gauge,), part.unit)} {zero.gauge_of or 'gauge'}"
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
        "front": f"the front ({front})",
        "back": f"the back ({setup.holding.fixed_jaw})",
        "fixed jaw": "the fixed jaw's face, from the front",
    }
    seats = setup.holding.of(BodyKind.FENCE, BodyKind.ANGLE_PLATE)
    if zero.find == "fixed jaw" and seats:
        face = f"the {seats[0].kind}'s face"
        return f"before the work goes on: {finder} against {face}, from the front"
    if zero.find == "fixed jaw" and not _goes_in(zero.finder, setup.holding):
        return f"before the work goes in, the jaws wide open: {finder} against {edges[zero.find]}"
    return f"{finder} against {edges[zero.find]}"


def _goes_in(tip: float, h: Holding) -> bool:
    """Is there room for a finder between the jaws closed on the work, beyond its end at the stop?

    The work begins at x = 0.
    """
    return min(h.opening, -h.jaws_from) >= tip + BESIDE


def readings_in(reader: Reader) -> str:
    """What the readings are in, which way they rise, and which way wheels are wound up to them."""
    alike: dict[str, list[str]] = {}
    for name in ("X", "Y", "Z"):
        alike.setdefault(_read_in(name, reader), []).append(name)
    units = "; ".join(
        f"{_listed(names)} in {unit}" if len(alike) > 1 else unit for unit, names in alike.items()
    )
    found = (
        f"Readings {'of' if len(alike) > 1 else 'in'} {units}; the cutter goes + X to the right, "
        "+ Y away from you, + Z up."
    )
    wheels = [name for name in ("X", "Y", "Z") if reader.by_wheel(name)]
    if not wheels:
        return found
    level = [name for name in wheels if name != "Z"]
    ways = [f"up to every {_listed(level)} reading in the + direction"] * bool(level)
    ways += ["down to every Z"] * ("Z" in wheels)
    return f"{found} {BACK} Wind {' and '.join(ways)}, {AGAIN}"


def _read_in(name: str, reader: Reader) -> str:
    axis = reader.axis(name)
    if not reader.by_wheel(name):
        return "inches" if axis.unit is Unit.INCH else "millimetres"
    turn = show(axis.per_turn, axis.unit)
    return f"turns and divisions ({turn} a turn, {axis.divisions} divisions)"


def _listed(names: Sequence[str]) -> str:
    return " and ".join(", ".join(names).rsplit(", ", 1))
