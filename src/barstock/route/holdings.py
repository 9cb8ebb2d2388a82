"""How the work is held, and where its zeros are found."""

from __future__ import annotations

import math
from enum import StrEnum
from typing import Literal

from barstock.drawing.build import Face, Vec
from barstock.route.record import Record


class BodyKind(StrEnum):
    """The bodies that hold the work: those with a shape or a part of their own, by their names in
    the trade, and plain blocks, of which each says what it is called.
    """

    PARALLEL = "parallel"
    BOARD = "board"
    FENCE = "fence"
    ANGLE_PLATE = "angle plate"
    STRAP = "strap"
    NUT = "nut"
    BLOCK = "fixture block"
    SCREW = "screw"
    V_BLOCK = "V-block"
    CLAMP = "clamp"
    TILTING_TABLE = "tilting table"
    PLAIN = "plain"


Side = Literal["left", "right", "front", "back"]
Towards = Literal["left", "right", "front", "back", "up", "down"]


class Body(Record):
    """A body that carries the work, stands against it or presses on it.

    low, high: its corners on the table [mm]. bears: which way it bears on the work: what carries it
    bears up, a fence to the front, a strap over it down. at: where along that way it bears [mm],
    where that is not at a corner; of a tilting table, where along it the stop is. over: the side of
    the work that it comes in over. diameter: of a screw, whose corners are those of its head in
    plan. thread: of a screw. mouth: the width at its face of the V of 90 degrees in it, which opens
    the way it bears [mm]. made: to be made for this work. called: what a plain block is called.
    lean: of a body on a tilted table, which is described as if the table were level, then turned by
    so much about table y, through the zeros of table x and z, its right-hand side up [degrees].
    """

    kind: BodyKind
    low: Vec
    high: Vec
    bears: Towards
    at: float = 0.0
    over: Side | None = None
    diameter: float = 0.0
    thread: str = ""
    mouth: float = 0.0
    made: bool = False
    called: str = ""
    lean: float = 0.0

    @property
    def name(self) -> str:
        """What it is called in the trade."""
        return self.called or self.kind.value

    @property
    def middle(self) -> Vec:
        """The point half way between its corners [mm]."""
        (a, b, c), (d, e, f) = self.low, self.high
        return ((a + d) / 2, (b + e) / 2, (c + f) / 2)

    @property
    def upright(self) -> tuple[tuple[float, float], ...]:
        """Its corners as it is seen from the front, in turn, (x, z) on the table [mm]."""
        (a, _, b), (c, _, d) = self.low, self.high
        cos, sin = math.cos(math.radians(self.lean)), math.sin(math.radians(self.lean))
        corners = ((a, b), (c, b), (c, d), (a, d))
        return tuple((x * cos - z * sin, x * sin + z * cos) for x, z in corners)

    @property
    def size(self) -> Vec:
        """The size from corner to corner along the table's axes [mm]."""
        (a, b, c), (d, e, f) = self.low, self.high
        return (d - a, e - b, f - c)


class TiltBy(StrEnum):
    """The means by which work is set to a tilt."""

    SINE_BAR = "sine bar"
    TILTING_TABLE = "tilting table"
    DIAL_INDICATOR = "dial indicator"
    PROTRACTOR = "protractor"


class TiltSetting(Record):
    """How work is set to its tilt before it is gripped.

    height: under the raised roller of a sine bar, laid together from `blocks` where they are owned
    [mm]. rise: what a dial indicator shows when it is run `over` so much of the work's top [mm].
    """

    by: TiltBy
    height: float = 0.0
    blocks: tuple[float, ...] = ()
    over: float = 0.0
    rise: float = 0.0


class Turned(Record):
    """How round work is turned before it is gripped: until a `feature` cut before looks that way.

    flat: a straight edge lies in it; else a pin goes through it.
    """

    feature: str
    looks: Towards
    flat: bool


class Zero(Record):
    """The zero of one axis, and how it is found (see the package's text).

    on: the body whose sides are touched, where they are not the work's.
    """

    find: Literal["left", "right", "front", "back", "fixed jaw", "centre", "top", "rest", "none"]
    on: BodyKind | None = None
    set_to: float = 0.0
    finder: float = 0.0
    gauge: float = 0.0
    gauge_of: str = ""


class Holding(Record):
    """The holding of the work in a setup.

    way: the name of the way of holding it. device: what the shop calls the thing that does. bodies:
    all that stands about the work but the vise's own jaws and parallels, which close on it.
    jaws_from, jaws_to: where the jaws stand along table x [mm]; jaw_top: z of the jaws' top;
    opening: what the jaws are open when closed on the work; parallels: heights used (stacked from
    the bed or the table) [mm]; in a vise they stand along both jaws, `parallel_thickness` thick,
    and are drawn out once the work is gripped where `parallels_out`. packing: the height of the
    work's lowest point. stop: side the work is pushed against; stop_below: height on the table
    under which all of it must stay, for a cutter comes over it there. grip, stick_up: heights
    inside and above the jaws [mm]. Where no jaws hold the work, its rearmost point is at y = 0.
    tilt_set: how a tilted work is set; turned: how round work is.
    """

    way: str
    device: str
    up: Face
    fixed_jaw: Face
    stop: Literal["left", "right", "none"] = "left"
    stop_below: float | None = None
    tilt: float = 0.0
    tilt_set: TiltSetting | None = None
    turned: Turned | None = None
    packing: float = 0.0
    parallels: tuple[float, ...] = ()
    parallel_thickness: float = 3.0
    parallels_out: bool = False
    grip: float = 0.0
    stick_up: float = 0.0
    jaws_from: float = 0.0
    jaws_to: float = 0.0
    jaw_top: float = 0.0
    opening: float = 0.0
    largest_opening: float = 0.0
    bodies: tuple[Body, ...] = ()

    def of(self, *kinds: BodyKind) -> tuple[Body, ...]:
        """The bodies of these kinds, in order."""
        return tuple(body for body in self.bodies if body.kind in kinds)
