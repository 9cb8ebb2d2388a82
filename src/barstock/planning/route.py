"""The route: what is printed, and all that the proof is given. Plain data, JSON in and out.

Three frames. *Work* frame: the part's (drawing/model.py) or, for a bar, the same axes with x from
the bar's left sawn end and y, z from the raw section's front and bottom. *Table* frame: x along the
jaws to the right, y away from the operator, z up; y = 0 at the fixed jaw (which is at the back) or
at the fence of work strapped to the table, z = 0 at the vise bed or the table, x = 0 at the stop.
*Readings*: table positions relative to the zero found.

Placing a work: turn it so that the face `up` looks up and the face `fixed_jaw` looks to the back
(+y); then tilt it about the table's y axis by `tilt` degrees (positive lifts the right-hand end);
then slide it until its lowest point is at z = packing, its rearmost point below the jaws' top at
y = 0, and its leftmost (stop "left") or rightmost (stop "right", else leftmost) at x = 0. Devices
other than a vise on a mill or drill press ("bench vise", the saw) need no placing: their moves
(SawOff, Shape) are measured from the work's own extremes.

Zeros are found on the work as it then is (its extreme on that side). x, y: a finder of tip diameter
d is brought against the edge from outside and the axis set to `set_to` there, so that reading R is
at edge -/+ d/2 + (R - set_to) ("-" on the left/front, "+" on the right/back). "centre" is half way
between both extremes, set to `set_to`. y may be found on "fixed jaw" (y = 0 itself) likewise from
the front with the finder, or half way between the sides of the "V-block". z: "top" is the work's
highest point touched with each cutter; "rest" is the packing's top, touched over a gauge of `gauge`
mm (`gauge_of`: what it is, of the shop's own); reading there is `set_to`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from pydantic import BaseModel, ConfigDict

from barstock.drawing.model import Face
from barstock.joining.screws import ToShorten
from barstock.workshop.model import MachineKind, ToolKind

VERSION = 1


class Record(BaseModel):
    """Base of every record in a route."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Cutter(Record):
    """The tool of an operation with what the proof needs of it [mm, degrees]."""

    name: str
    kind: ToolKind
    diameter: float
    flute: float = 0.0
    reach: float = 0.0
    shank: float = 0.0
    point: float = 180.0
    holder: str = "collet"
    thread: str = ""


class Plunge(Record):
    """Straight down at x, y to the reading z (the tool's tip), from above the work.

    touch: for a countersink, z is below the reading at which the cone just touches the hole's edge.
    wide: diameter swept when it differs from the cutter's (a boring head set to size).
    follow: x, y are by eye only, within a millimetre: the drill finds the spot that is there.
    """

    kind: Literal["plunge"] = "plunge"
    x: float
    y: float
    z: float
    touch: bool = False
    wide: float = 0.0
    follow: bool = False


class Traverse(Record):
    """The cutter's axis along straight lines through `points`, its tip at reading z throughout."""

    kind: Literal["traverse"] = "traverse"
    points: tuple[tuple[float, float], ...]
    z: float


class Flush(Record):
    """Filed until level: all goes that stands proud of the surface which lies bare on `face` at
    `at`, distances inward from the work's extremes on the faces `from_u` and `from_v` [mm].
    """

    kind: Literal["flush"] = "flush"
    face: Face
    from_u: Face
    from_v: Face
    at: tuple[float, float]


class SawOff(Record):
    """Sawing a bar across: `pieces` lengths of `each` mm from its left end, kerf between them.

    first: length sawn off and thrown away before the first.
    """

    kind: Literal["saw off"] = "saw off"
    each: float
    pieces: int
    kerf: float
    first: float = 0.0


class Shape(Record):
    """Sawn or filed to a marked-out line: all outside the closed outline goes, right through.

    face: the face marked out. The line is marked from the work's extremes on the faces `from_u` and
    `from_v` (e.g. left and bottom): points are distances inward from them (u, v) [mm].
    bulge = tan(included angle / 4) of the piece arriving at that point; 0 is straight.
    inside_out True: the inside of the outline goes instead.
    depth: 0 = right through, else how deep below the face.
    most: where the work is near the line already, the most that may be filed away [mm]; 0: no
    matter.
    """

    kind: Literal["shape"] = "shape"
    face: Face
    from_u: Face
    from_v: Face
    outline: tuple[tuple[float, float, float], ...]
    inside_out: bool = False
    depth: float = 0.0
    most: float = 0.0


Move = Plunge | Traverse | SawOff | Shape | Flush


class Expect(Record):
    """A check: the drawing's dimension an operation makes, how it is measured, what it must read.

    name: "feature/dimension". low, nominal, high [mm] (or degrees where unit says so). with_: the
    instrument. stack_low, stack_high: gauge blocks where a stack is used [mm]. first_off: measured
    on the first copy and written in the box; else a spot check on the rest. hold_low, hold_high:
    closer limits to hold here so that every copy and all made later holds, both 0 where the
    drawing's do [mm]; besides: what else that takes.
    """

    name: str
    how: str
    with_: str = ""
    low: float
    nominal: float
    high: float
    text: str = ""
    angle: bool = False
    stack_low: tuple[float, ...] = ()
    stack_high: tuple[float, ...] = ()
    note: str = ""
    hold_low: float = 0.0
    hold_high: float = 0.0
    besides: str = ""


class Step(Record):
    """One line a person reads and dials: words, then readings, in the machine's own figures.

    dial: axis -> what to dial as text ("X +12.345", "X 6 turns 17.5 div").
    """

    words: str
    dial: dict[str, str] = {}
    caution: str = ""


class Operation(Record):
    """One tool doing one thing in a setup. moves are what is cut, steps what is read at the bench.

    id: unique in the route ("axlebox/bore/ream"). features: the features it works on. allow: the
    features whose region it may reach into besides. rpm, feed [mm/min]; speed_share: share of the
    wanted surface speed the spindle reaches (1 = all). minutes: for one copy, cutting and moving.
    why: reasons it stands where it stands. contact: z of touch-off is per tool.
    """

    id: str
    title: str
    features: tuple[str, ...]
    cutter: Cutter
    moves: tuple[Move, ...]
    steps: tuple[Step, ...] = ()
    rpm: float = 0.0
    feed: float = 0.0
    surface_speed: float = 0.0
    speed_share: float = 1.0
    checks: tuple[Expect, ...] = ()
    why: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    minutes: float = 0.0


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


class Setup(Record):
    """One way of holding one kind of work, and what is done to it there.

    work: the bar's id or the part's name. copies: how many works are loaded in turn. passes: the
    operations' ids grouped by loading (each pass loads every copy once). picture: file name.
    """

    id: str
    title: str
    work: str
    stage: Literal["bar", "piece"]
    copies: int
    machine: str
    machine_kind: MachineKind
    holding: Holding
    zero_x: Zero
    zero_y: Zero
    zero_z: Zero
    operations: tuple[Operation, ...]
    passes: tuple[tuple[str, ...], ...] = ()
    steps: tuple[Step, ...] = ()
    cautions: tuple[str, ...] = ()
    why: tuple[str, ...] = ()
    mark: str = ""
    minutes: float = 0.0
    picture: str = ""


class BarPiece(Record):
    """A length of bar cut from the rack's stock, sawn into `pieces` of `part`; `count` such lengths
    (the last only with `last_pieces` where that is not 0).

    start: where the piece's frame lies in the bar's: the part's y, z of the raw section's front
    bottom corner, and x of a sawn piece's left end (all <= 0) [mm].
    """

    id: str
    part: str
    material: str
    stock: str
    shape: Literal["rectangle", "round"]
    width: float
    height: float
    length: float
    pieces: int
    count: int = 1
    last_pieces: int = 0
    start: tuple[float, float, float] = (0.0, 0.0, 0.0)
    to_buy: bool = False


class StandingPiece(Record):
    """A piece of a fabrication where it stands: its frame turned by `rows` (the rows of a matrix),
    then shifted [mm], lies in the frame of the whole.
    """

    name: str
    part: str
    rows: tuple[tuple[float, float, float], ...]
    shift: tuple[float, float, float]


class FixtureScrewHole(Record):
    """A hole of the fixture: `left`, `front` from its edges [mm]; `size`: its diameter or thread;
    `locates`: it fixes the place, the others leave room to grow; `shift`: by how much the work
    outgrows the block there [mm].
    """

    screw: str
    left: float
    front: float
    size: str
    locates: bool
    shift: float


class FixtureStop(Record):
    """A pin in the fixture that a `piece` is pushed against, standing beside the `side` of the
    whole: `left`, `front` of the block's edges, of diameter `size`, `tall` out of the block [mm].
    """

    piece: str
    side: Face
    left: float
    front: float
    size: float
    tall: float


class FixtureBlock(Record):
    """The block the work is screwed to for its heats, itself the part `part`. under: the face of
    the work on it; rows, shift: as of a piece, where it stands then; pitch: what becomes of the
    distance it holds, locates: what locates each piece, both in words."""

    part: str
    under: Face
    rows: tuple[tuple[float, float, float], ...]
    shift: tuple[float, float, float]
    material: str
    holes: tuple[FixtureScrewHole, ...]
    stops: tuple[FixtureStop, ...] = ()
    pitch: str = ""
    locates: tuple[str, ...] = ()


class FixingScrews(Record):
    """`count` screws alike, shortened from `stock` to `cut_to` [mm] where those differ; `engaged`:
    thread that holds at least. `stays`: soldered in, sawn off and drilled out afterwards."""

    name: str
    thread: str
    of: str
    count: int
    stock: float
    cut_to: float
    engaged: float
    stays: bool = False
    to_buy: bool = False


class Ring(Record):
    """The ring of filler round a spigot: the hole it is in, filled from its mouth to the spigot's
    end; `inner` stands in `outer` [mm]."""

    inner: str
    outer: str
    mouth: tuple[float, float, float]
    end: tuple[float, float, float]
    across: float


class JointToMake(Record):
    """A joint and the filler for it. at: its middle in the whole [mm]; gap_least, gap_most: as
    designed, cold [mm]; gap_from: what sets it, in words; fillets: corners of the square bars that
    those at its edges lie in [mm]; rod: diameter, rod_length: of it for one copy, with allowance
    [mm]."""

    name: str
    pieces: tuple[str, str]
    form: str
    at: tuple[float, float, float]
    alloy: str
    gap_least: float
    gap_most: float
    gap_from: str = ""
    ring: Ring | None = None
    fillets: tuple[tuple[tuple[float, float, float], tuple[float, float, float]], ...] = ()
    rod: float
    rod_length: float


class Heat(Record):
    """One firing of every copy. up: unit vector of the work that looks up; feeds: joint -> the side
    the rod is put to; melts: temperature [C] and what happens there, rising; minutes: to heat,
    least and most; done: copies that had it when the route was planned."""

    number: int
    joints: tuple[str, ...]
    holding: str
    on_fixture: bool
    attitude: str
    up: tuple[float, float, float]
    working: float
    held: tuple[str, ...]
    fluxed: tuple[str, ...]
    flame: tuple[str, ...]
    feeds: dict[str, str]
    melts: tuple[tuple[float, str], ...]
    remelts: tuple[str, ...] = ()
    strip_before: bool = False
    minutes: tuple[float, float]
    torch: str = ""
    done: int = 0


class Cleaning(Record):
    """After the heats. dips: things that go into the bath together; by_hand: cleaned otherwise."""

    dips: tuple[str, ...]
    steps: tuple[str, ...]
    by_hand: tuple[str, ...]
    cautions: tuple[str, ...]


class Fabrication(Record):
    """Pieces joined into the work `part`; its own setups follow, on the work so made.

    after: the setup that joining follows, "" for none. order: what is done, from fitting up to the
    last rinse. careful: heats and minutes of one joint at a time, beside `minutes` of this order.
    """

    part: str
    copies: int
    pieces: tuple[StandingPiece, ...]
    after: str = ""
    fixture: FixtureBlock | None = None
    screws: tuple[FixingScrews, ...] = ()
    joints: tuple[JointToMake, ...] = ()
    flux: str = ""
    marks: tuple[str, ...] = ()
    order: tuple[str, ...] = ()
    heats: tuple[Heat, ...] = ()
    cleaning: Cleaning | None = None
    reasons: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    minutes: float = 0.0
    careful: tuple[int, float] = (0, 0.0)

    def heat_id(self, number: int) -> str:
        """What a heat is ticked under."""
        return f"{self.part}/heat {number}"

    @property
    def left(self) -> float:
        """Minutes at the hearth that are still to go."""
        made = sum(heat.done for heat in self.heats)
        return self.minutes * (1 - made / (len(self.heats) * self.copies)) if made else self.minutes


class Made(Record):
    """Which operation makes a dimension of the drawing, and how it is checked (the index)."""

    part: str
    dimension: str
    text: str
    operation: str
    setup: str
    how: str


class Summary(Record):
    """Hours and shopping.

    hours: of all of it; hearth_hours: of them at the hearth, which every order takes alike;
    shorten: fixing screws by size; pins: minutes that each of the user's pins costs, by its words.
    """

    hours: float
    hearth_hours: float = 0.0
    minutes_by_setup: dict[str, float] = {}
    buy: tuple[str, ...] = ()
    borrow: tuple[str, ...] = ()
    shorten: tuple[ToShorten, ...] = ()
    bound_hours: float = 0.0
    optimal: bool = False
    one_part_at_a_time_hours: float = 0.0
    one_tool_at_a_time_hours: float = 0.0
    pins: dict[str, float] = {}
    notes: tuple[str, ...] = ()


class Route(Record):
    """All of it, in order. A bar's setups come before those of the pieces sawn from it."""

    version: int = VERSION
    build: str
    bars: tuple[BarPiece, ...]
    setups: tuple[Setup, ...]
    fabrications: tuple[Fabrication, ...] = ()
    index: tuple[Made, ...] = ()
    summary: Summary
