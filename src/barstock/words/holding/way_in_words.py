"""Every way of holding work is told in words as `WayInWords` does, or in its own."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.drawing.build import Face, Vec
from barstock.quantities import Unit, show, show_rough
from barstock.route import Body, BodyKind, Holding, Setup
from barstock.words.holding.tilt_steps import tilt_steps
from barstock.words.lines import Line, line
from barstock.words.reader import Reader
from barstock.words.size_figures import settable, stack

LOOKS = {"up": "up", "down": "down"}
LEAST_STOP = 1.0
"""Of the work's height that a stop must bear on [mm]; common practice."""


class WayInWords:
    """A way of holding work in words; as it stands, that of a vise with whatever bodies besides."""

    def held(self, setup: Setup, reader: Reader) -> Iterator[tuple[str, str]]:
        """How the work is held, as (label, words) pairs."""
        h, unit = setup.holding, reader.unit
        yield "Held in", f"{h.device}, jaws {apart(h, reader)} apart" if h.opening else h.device
        yield "Up", h.up.value
        yield "Fixed jaw" if h.jaw_top else "Back", h.fixed_jaw.value
        yield "Stop", stop(setup, reader)
        yield from along(h, reader)
        yield "Rests on", rest(h, reader)
        if h.jaw_top:
            yield "Grip", settable(h.grip, unit)
            yield "Stick-up", settable(h.stick_up, unit)
        if h.tilt:
            lifted = "right" if h.tilt > 0 else "left"
            yield "Tilt", f"{abs(h.tilt):.3g}°, {lifted}-hand end up"

    def steps(self, setup: Setup, reader: Reader) -> Iterator[Line]:
        """The steps by which it is set up, line by line."""
        for body in setup.holding.bodies:
            yield placed(body, setup.holding, reader)
        yield from tilt_steps(setup.holding, reader)
        yield from middle_anew(setup)


def placed(body: Body, h: Holding, reader: Reader) -> Line:
    """The place where a body stands, for a way that has no words of its own."""
    (left, front, _), (_, _, top) = body.low, body.high
    return line(
        f"Set the {body.name}: its left-hand side from the stop, its front from "
        + (
            "the fixed jaw, its top above the bed"
            if h.jaw_top
            else "where the back of the work comes, its top above the table"
        ),
        reader.set_roughly("left", left),
        reader.set_roughly("front", -front),
        reader.set_roughly("top", top),
    )


def middle_anew(setup: Setup) -> Iterator[Line]:
    """The line that says that each copy has its own zero, where that is half way between the work's
    sides.
    """
    if "centre" in (setup.zero_x.find, setup.zero_y.find):
        yield line("Find the middle anew on every copy: both sides, half way between")


def turned(h: Holding, where: str) -> Iterator[Line]:
    """How round work is turned so that what is cut now lies true to what was cut before."""
    if h.turned is None:
        return
    by = "a straight edge laid in it" if h.turned.flat else "a pin put through it"
    looks = LOOKS.get(h.turned.looks, f"to the {h.turned.looks}")
    yield line(
        f"Turn the work {where} until {h.turned.feature} looks {looks}, true by {by} and a square"
    )


def sides(up: Face, fixed_jaw: Face) -> tuple[Face, Face]:
    """The work's faces at the left and right hand as it is held."""
    b, u = fixed_jaw.normal, up.normal
    right: Vec = (b[1] * u[2] - b[2] * u[1], b[2] * u[0] - b[0] * u[2], b[0] * u[1] - b[1] * u[0])
    axis = max(range(3), key=lambda i: abs(right[i]))
    at_right = Face.of(axis, 1 if right[axis] > 0 else -1)
    return at_right.opposite, at_right


def apart(h: Holding, reader: Reader) -> str:
    """The width between the jaws, as a rule shows it: they are closed on the work in any case."""
    if reader.unit is Unit.INCH:
        return settable(h.opening, reader.unit)
    return show_rough(h.opening, reader.unit).replace(".0 mm", " mm")


def stop(setup: Setup, reader: Reader) -> str:
    """The words for what touches the stop, and how low that must stay."""
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
        top = straps[0].low[2] if straps and not h.tilt else top
        where = f"{settable(top - h.stop_below, reader.unit)} or more below the work's top"
    else:
        under = "the parallels" if h.packing else bed(h)
        where = f"no more than {settable(high, reader.unit)} above {under}"
    return f"{words}; all of the stop {where}: a cutter passes over it"


def along(h: Holding, reader: Reader) -> Iterator[tuple[str, str]]:
    """Where work longer than the jaws lies along them."""
    if h.jaws_to > h.jaws_from >= 0 and not h.bodies:
        out = h.jaws_from
        past = f"{settable(out, reader.unit)} past" if out else "level with"
        yield "Along the jaws", f"left-hand end {past} their left-hand end"


def bed(h: Holding) -> str:
    """The words for what everything stands on."""
    return "the vise bed" if h.jaw_top else "the table"


def rest(h: Holding, reader: Reader) -> str:
    """The words for what the work lies on."""
    if not h.packing:
        return f"{h.up.opposite} on {bed(h)}"
    if h.of(BodyKind.BOARD):
        return f"{h.up.opposite} on a flat board, {show(h.packing, reader.unit)}"
    made = on_parallels(h, reader) or show(h.packing, reader.unit)
    return f"{h.up.opposite} on {made}" + (", drawn out once tight" if h.parallels_out else "")


def on_parallels(h: Holding, reader: Reader) -> str:
    """The parallels used, in words; "" where there are none."""
    return f"parallels {stack(h.parallels, reader.unit)}" if h.parallels else ""
