"""A fabrication: its pieces, its fixture, its joints and screws, and what is done at the hearth."""

from __future__ import annotations

from enum import StrEnum

from barstock.drawing.build import Face
from barstock.drawing.part import Form
from barstock.quantities import Unit
from barstock.route.joining_work import Cleaning, HearthStep, Heat, HeatReason, NoFiller
from barstock.route.record import Record, Statement


class ToShorten(Record):
    """A line of the list of screws to shorten: count of a thread, from stock to cut_to [mm]."""

    thread: str
    material: str
    stock: float
    cut_to: float
    count: int
    places: tuple[str, ...]


class StandingPiece(Record):
    """A piece of a fabrication where it stands: its frame turned by `rows` (the rows of a matrix),
    then shifted [mm], lies in the frame of the whole.
    """

    name: str
    part: str
    rows: tuple[tuple[float, float, float], ...]
    shift: tuple[float, float, float]


class FixtureScrewHole(Record):
    """A hole of the fixture: its mouth `left`, `front` from its edges and `below` its top, in its
    `face`; its `diameter`, its `depth`, 0 right through [mm], its `thread` if it is tapped;
    `locates`: it fixes the place, the others leave room to grow; `shift`: by how much the work
    outgrows the block there [mm].
    """

    screw: str
    left: float
    front: float
    below: float = 0.0
    face: Face = Face.TOP
    diameter: float
    depth: float = 0.0
    thread: str = ""
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


class LocatedPiece(Record):
    """What locates a piece: `screws` of its own in the block, `pins` at its sides, the piece it
    `lies_in` or those it is `screwed_to`, shims against its neighbours; `free`: it may still turn
    or slide.
    """

    piece: str
    screws: int = 0
    pins: tuple[Face, ...] = ()
    lies_in: str = ""
    screwed_to: tuple[str, ...] = ()
    shimmed_to: tuple[str, ...] = ()
    free: bool = False


class PitchHeld(Record):
    """What becomes of the pitch that the fixture holds: by how much it spreads (positive) or closes
    up, and what to set cold for it to come out as drawn [mm]."""

    change: float
    set_cold: float


class FixtureBlock(Record):
    """The block the work is screwed to for its heats, itself the part `part`. under: the face of
    the work on it, or from where it goes in between the pieces `beside` it, with the side of the
    work that it lies on of each; rows, shift: as of a piece, where it stands then."""

    part: str
    under: Face
    rows: tuple[tuple[float, float, float], ...]
    shift: tuple[float, float, float]
    material: str
    holes: tuple[FixtureScrewHole, ...]
    beside: tuple[tuple[str, Face], ...] = ()
    stops: tuple[FixtureStop, ...] = ()
    pitch: PitchHeld | None = None
    locates: tuple[LocatedPiece, ...] = ()


class FixingScrews(Record):
    """Screws alike that hold a fabrication, `count` of them, shortened from `stock` to `cut_to`
    [mm] where those differ; `engaged`: thread that holds at least. `stays`: soldered in, sawn off
    and drilled out afterwards.
    """

    name: str
    thread: str
    material: str
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


class GapKind(StrEnum):
    """The kinds of thing that set a joint's gap."""

    SLOPE = "slope"
    ONE_IN_THE_OTHER = "one in the other"
    SHIMS = "shims"
    FIXTURE = "fixture"
    AS_WRITTEN = "as written"


class GapSize(Record):
    """A size that a gap comes from: by its `name` in the drawing, "" for the fixture's pitch; as
    written there (`text`, in `unit`) with its limits [mm]; `opens`: it opens the gap, else it
    closes it; `half`: half of it counts."""

    name: str
    text: str
    unit: Unit
    low: float
    nominal: float
    high: float
    opens: bool
    half: bool


class GapSetBy(Statement):
    """What sets a joint's gap; `sizes`: those that leave it."""

    kind: GapKind
    sizes: tuple[GapSize, ...] = ()


class JointToMake(Record):
    """A joint and the filler for it. at: its middle in the whole, low, high: corners of the block
    about where the pieces meet [mm]; side: that the first one's face looks to; gap_least, gap_most:
    as designed, cold [mm]; fillets: corners of the square bars that those at its edges lie in [mm];
    rod: diameter, rod_length: of it for one copy, with allowance [mm]."""

    name: str
    pieces: tuple[str, str]
    form: Form
    at: tuple[float, float, float]
    low: tuple[float, float, float]
    high: tuple[float, float, float]
    side: Face
    alloy: str
    gap_least: float
    gap_most: float
    gap_set_by: GapSetBy = GapSetBy(kind=GapKind.AS_WRITTEN)
    ring: Ring | None = None
    fillets: tuple[tuple[tuple[float, float, float], tuple[float, float, float]], ...] = ()
    rod: float
    rod_length: float


class Fabrication(Record):
    """Pieces joined into the work `part`; its own setups follow, on the work so made.

    after: the setup that joining follows, "" for none. no_filler: where it must not go. order: what
    is done, from fitting up to the last look. reasons: why there are no fewer heats. careful: heats
    and minutes of one joint at a time, beside `minutes` of this order.
    """

    part: str
    copies: int
    pieces: tuple[StandingPiece, ...]
    after: str = ""
    fixture: FixtureBlock | None = None
    screws: tuple[FixingScrews, ...] = ()
    joints: tuple[JointToMake, ...] = ()
    flux: str = ""
    no_filler: tuple[NoFiller, ...] = ()
    order: tuple[HearthStep, ...] = ()
    heats: tuple[Heat, ...] = ()
    cleaning: Cleaning | None = None
    reasons: tuple[HeatReason, ...] = ()
    minutes: float = 0.0
    careful: tuple[int, float] = (0, 0.0)

    def heat_id(self, number: int) -> str:
        """The id that a heat is ticked under."""
        return f"{self.part}/heat {number}"

    @property
    def left(self) -> float:
        """The minutes at the hearth that are still to go."""
        made = sum(heat.done for heat in self.heats)
        return self.minutes * (1 - made / (len(self.heats) * self.copies)) if made else self.minutes
