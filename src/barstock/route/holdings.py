"""How the work is held, and where its zeros are found."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from barstock.drawing.build import Face
from barstock.route.record import Record


class Zero(Record):
    """Where one axis is zero and how it is found (see the module's text)."""

    find: Literal[
        "left", "right", "front", "back", "fixed jaw", "centre", "V-block", "top", "rest", "none"
    ]
    set_to: float = 0.0
    finder: float = 0.0
    gauge: float = 0.0
    gauge_of: str = ""


class Screw(Record):
    """A screw that holds the work down on a fixture block, through one of the work's own holes.

    thread: its name; size: its diameter; x, y: where it stands on the table; head: diameter of its
    head, or of the washer under it; tall: how far that stands above what it bears on [mm].
    """

    thread: str
    size: float
    x: float
    y: float
    head: float
    tall: float


class Block(Record):
    """A fixture block: the work lies on its top. low, high: its corners on the table [mm].

    screws: what holds the work down, in holes tapped in the block. made: to be made for this work.
    """

    low: tuple[float, float, float]
    high: tuple[float, float, float]
    screws: tuple[Screw, ...]
    made: bool = True


Side = Literal["left", "right", "front", "back"]


class Ground(Record):
    """A rectangle of the table: its corners [mm]."""

    low: tuple[float, float]
    high: tuple[float, float]


class Strap(Ground):
    """A clamp's strap, from its nose on the work to its heel, coming in over the side `over`.

    bears: height of the work under the nose; top: of the strap; nut, nut_top: of its nut beside the
    work, with washer and stud [mm].
    """

    over: Side
    bears: float
    top: float
    nut: Ground
    nut_top: float


class Across(Ground):
    """A strap across the front of work that stands upright, from `bottom` to `top` [mm]; nuts:
    where its studs and nuts stand on both sides."""

    bottom: float
    top: float
    nuts: tuple[Ground, ...]


class Table(Record):
    """Work strapped down on the table itself. under: the parallels it lies on, or the board, which
    cutters may go into; fence: the straight edge its back is against, its top at `fence_top` [mm].
    across: where the fence is an angle plate, the straps that press the work against it.
    """

    straps: tuple[Strap, ...]
    under: tuple[Ground, ...]
    board: bool = False
    fence: Ground
    fence_top: float
    across: tuple[Across, ...] = ()

    def bodies(self) -> Iterator[tuple[str, Ground, float]]:
        """Straps and their nuts, each named, with the height of its top [mm]."""
        for strap in self.straps:
            name = f"the strap over the {strap.over}"
            yield name, strap, strap.top
            yield name, strap.nut, strap.nut_top
        for across in self.across:
            for part in (across, *across.nuts):
                yield "a strap across the front", part, across.top


class Vee(Record):
    """A V-block of 90 degrees with round work in it: its corners on the table, and how wide its V
    is at the face [mm].

    upright: its V stands upright and looks at the fixed jaw, against which the moving jaw presses
    block and work; else it looks up, the jaws grip the block, and a clamp holds the work down:
    from where to where along x, the height it presses at, and its top [mm].
    """

    low: tuple[float, float, float]
    high: tuple[float, float, float]
    mouth: float
    upright: bool = False
    clamp: tuple[float, float] = (0.0, 0.0)
    presses: float = 0.0
    clamp_top: float = 0.0


class Holding(Record):
    """How the work is held. device: the vise's (or "saw vise", "bench vise") name.

    jaws_from, jaws_to: where the jaws stand along table x [mm]; jaw_top: z of the jaws' top;
    opening: what the jaws are open when closed on the work; parallels: heights used (stacked from
    the bed) [mm], their sum is `packing`; they stand along both jaws, `parallel_thickness` thick,
    and are drawn out once the work is gripped where `parallels_out`. stop: side the work is pushed
    against; stop_below: height on the table under which all of it must stay, for a cutter comes
    over it there. grip, stick_up: heights inside and above the jaws [mm].
    block: where the work is screwed down on a fixture block, which is then what the jaws grip and
    the parallels carry; `packing` is the height of its top, and the work's rearmost point is at
    y = 0 wherever the jaws are.
    vee: the V-block that holds round work. Where the work lies in it, `packing` is the height of
    its lowest point, the work's rearmost point is at y = 0 wherever the jaws are, and the parallels
    carry the block.
    table: where the work is strapped down on the table: then z = 0 is the table, y = 0 the fence,
    and there are no jaws.
    """

    device: str
    up: Face
    fixed_jaw: Face
    stop: Literal["left", "right", "none"] = "left"
    stop_below: float | None = None
    tilt: float = 0.0
    tilt_by: str = ""
    sine_stack: tuple[float, ...] = ()
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
    jaw_pieces: str = ""
    block: Block | None = None
    table: Table | None = None
    vee: Vee | None = None
