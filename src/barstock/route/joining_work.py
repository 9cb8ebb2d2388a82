"""What is done at the hearth to join a fabrication: its heats, the steps about them, the cleaning.

Each is a kind with its figures; `words/` makes the sentences.
"""

from __future__ import annotations

from enum import StrEnum

from barstock.drawing.faces import Face
from barstock.route.record import Record, Statement


class HearthStepKind(StrEnum):
    """The kinds of step at the hearth, from fitting up to looking at the fillets."""

    BRIGHTEN = "brighten"
    TRY_GAPS = "try gaps"
    PAINT = "paint"
    PUT_PINS = "put pins"
    SCREW_DOWN = "screw down"
    SCREW_BETWEEN = "screw between"
    SCREW_AGAINST_PINS = "screw against pins"
    KEEP_AT_PINS = "keep at pins"
    STAND_IN_HOLE = "stand in hole"
    BLOCK_SLOPES = "block slopes"
    CHECK = "check"
    SCREW_AND_CHECK = "screw and check"
    BLOCK_FROM_ACID = "block from acid"
    PICKLE_AGAIN = "pickle again"
    SOAK_AGAIN = "soak again"
    FLUX_AGAIN = "flux again"
    HEAT = "heat"
    COOL = "cool"
    CLEAN = "clean"
    SAW_SCREWS = "saw screws"
    LOOK = "look"


class HearthStep(Statement):
    """One step at the hearth. of: the pieces it is done to; heat: number of the heat, else 0."""

    kind: HearthStepKind
    of: tuple[str, ...] = ()
    heat: int = 0


class NoFillerKind(StrEnum):
    """The places where filler must not go."""

    ROUND_JOINTS = "round joints"
    SCREWS = "screws"
    FIXTURE_FACE = "fixture face"
    FIXTURE_FACE_AND_PINS = "fixture face and pins"
    FIXTURE_SIDES = "fixture sides"


class NoFiller(Statement):
    """A place where filler must not go, to be painted. joints: those whose fillets are alike."""

    kind: NoFillerKind
    joints: tuple[str, ...] = ()


class HeatHolding(StrEnum):
    """The ways the work is held in a heat."""

    ON_FIXTURE = "on fixture"
    AGAINST_PINS = "against pins"
    UPRIGHT = "upright"
    FREE = "free"


class MeltKind(StrEnum):
    """The kinds of thing that happen as the work grows hot."""

    FLUX_WORKS = "flux works"
    BEGINS = "begins"
    FLOWS = "flows"
    AGAIN_HELD = "again, held"
    AGAIN = "again"
    FLUX_SPENT = "flux spent"
    PIECE = "piece"


class Melt(Record):
    """What happens at a temperature [C]. of: the joint or piece; metal: its filler or its own
    metal, or the flux."""

    at: float
    kind: MeltKind
    of: str = ""
    metal: str


class TorchCan(StrEnum):
    """The answers to whether a torch can bring the work to heat before the flux is spent."""

    YES = "yes"
    MARGINAL = "marginal"
    NO = "no"


class Heat(Record):
    """One firing of every copy.

    attitude: the face that looks up, or the two whose edge does; up: unit vector of the work that
    looks up; working: temperature [C]; fluxed: joints; flame: pieces in the order that it goes to
    them; feeds: joint -> the sides that the rod is put to; melts: rising; power: of the torch [W];
    minutes: to heat, least and most; done: copies that had it when the route was planned.
    """

    number: int
    joints: tuple[str, ...]
    holding: HeatHolding
    on_fixture: bool
    attitude: tuple[Face, ...]
    up: tuple[float, float, float]
    working: float
    held: tuple[str, ...]
    fluxed: tuple[str, ...]
    flame: tuple[str, ...]
    feeds: dict[str, tuple[Face, ...]]
    melts: tuple[Melt, ...]
    remelts: tuple[str, ...] = ()
    strip_before: bool = False
    minutes: tuple[float, float]
    power: float
    can: TorchCan
    done: int = 0


class HeatReasonKind(StrEnum):
    """The reasons why there are no fewer heats."""

    ONE = "one"
    AS_ASKED = "as asked"
    OWN_ORDER = "own order"
    MADE = "made"
    NONE_SHARE = "none share"
    ALL_TRIED = "all tried"
    # why two joints cannot share one
    NO_ATTITUDE = "no attitude"
    ZINC_BOILS = "zinc boils"
    FLUX_SPENT = "flux spent"
    FLUX_LATE = "flux late"
    FIXTURE_MELTS = "fixture melts"
    PIECE_MELTS = "piece melts"


class HeatReason(Statement):
    """A reason why there are no fewer heats. joints: those that cannot share one."""

    kind: HeatReasonKind
    joints: tuple[str, ...] = ()


class BathDip(Record):
    """One time something goes into the bath: names of things and how many; small ones together in
    a basket."""

    things: tuple[tuple[str, int], ...]
    basket: bool = False


class HandCleaning(StrEnum):
    """The ways a thing is cleaned that must not go into the bath."""

    SOAKED = "soaked"
    NO_ACID = "no acid"


class Cleaning(Record):
    """The cleaning after the heats. bath: by its handbook name, heated or cold, its temperature [C]
    and minutes (least, most); dips: into it, in order; by_hand: what is cleaned otherwise, and how.
    """

    bath: str
    heated: bool
    temperature: float
    minutes: tuple[float, float]
    dips: tuple[BathDip, ...] = ()
    by_hand: tuple[tuple[str, HandCleaning], ...] = ()
