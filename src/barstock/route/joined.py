"""A fabrication: its pieces, its fixture, its joints and its heats."""

from __future__ import annotations

from barstock.drawing.build import Face
from barstock.route.record import Record


class ToShorten(Record):
    """A line of the list of screws to shorten: count of a thread, from stock to cut_to [mm]."""

    thread: str
    of: str
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
