"""What a route tells besides its moves: cautions, reasons, marks on the work, notes, shopping.

Each is a kind with its figures; `words/` makes the sentences.
"""

from __future__ import annotations

from enum import StrEnum

from barstock.route.record import Record, Statement


class CautionKind(StrEnum):
    """The kinds of caution."""

    SPINDLE = "spindle"
    EYES = "eyes"
    DEBURR = "deburr"
    INTO_BLOCK = "into block"
    PARALLELS_OUT = "parallels out"
    PAST_JAWS = "past jaws"
    PAST_PARALLELS = "past parallels"
    TO_ONE_SIDE = "to one side"
    LITTLE_GRIP = "little grip"
    TALL = "tall"
    DRILL_SNATCHES = "drill snatches"
    PLATE = "plate"
    HIGH_ON_PLATE = "high on plate"
    STRAPS_LEVEL = "straps level"
    STRAPS_CLEAR = "straps clear"
    STRAPS_STAY = "straps stay"
    V_BLOCK_CLAMP = "V-block clamp"
    V_BLOCK_SEAT = "V-block seat"
    VISE_KEPT = "vise kept"
    FINDS_SPOT = "finds spot"
    SLOW_SPINDLE = "slow spindle"
    DEEP_HOLE = "deep hole"
    BREAKS_THROUGH = "breaks through"
    TAP_BY_HAND = "tap by hand"
    FILE_BY_HAND = "file by hand"
    SAW_BY_HAND = "saw by hand"
    SAWN_OFF = "sawn off"
    SLITTING = "slitting"


class Caution(Statement):
    """Something to beware of in a setup, or at an operation."""

    kind: CautionKind


class ReasonKind(StrEnum):
    """The kinds of reason why something stands where it does."""

    # between two operations
    STEP_BEFORE = "step before"
    FACE_FIRST = "face first"
    SEAT = "seat"
    SQUARED_END = "squared end"
    FINISHED_END = "finished end"
    LENGTH_FROM_END = "length from end"
    EDGE_THERE = "edge there"
    ENDS_LOCATE = "ends locate"
    CORNER_GOES = "corner goes"
    EDGE_GOES = "edge goes"
    FACE_GOES = "face goes"
    ROOT_FIRST = "root first"
    OUTLINE_LAST = "outline last"
    FILING_LAST = "filing last"
    FLOOR = "floor"
    NOTHING_TO_CUT = "nothing to cut"
    NOTHING_TO_GUIDE = "nothing to guide"
    JAWS_HOLD_IT = "jaws hold it"
    SAW_FIRST = "saw first"
    MILL_FIRST = "mill first"
    FLUSH_FIRST = "flush first"
    PINNED = "pinned"
    PARTS_SETUP = "parts setup"
    # of an operation by itself
    ROUGH_ENDS = "rough ends"
    LARGER_BAR = "larger bar"
    LEANS = "leans"
    NARROW = "narrow"
    EDGES_LAST = "edges last"
    NOT_MILLED = "not milled"
    FILED_FIRST = "filed first"
    SCREW_LEADS = "screw leads"
    HOLE_LEADS = "hole leads"
    POINT_LEADS = "point leads"
    SAWN_OUTLINE = "sawn outline"
    SCREWED_DOWN = "screwed down"
    FILED_ARCS = "filed arcs"
    # of a setup
    IN_THE_BAR = "in the bar"
    DRILL_PRESS = "drill press"
    TILTED = "tilted"
    HELD_ALIKE = "held alike"
    BAR_DONE = "bar done"
    PATTERN = "pattern"


class Reason(Statement):
    """A reason why something stands where it does. after: id of the operation it comes after, if
    any; choice: that of the user's it comes of.
    """

    kind: ReasonKind
    after: str = ""
    choice: Choice | None = None

    @property
    def pinned(self) -> bool:
        """Is the reason the user's own choice, not what the work asks?"""
        return self.kind in (ReasonKind.PINNED, ReasonKind.PARTS_SETUP)


def because(kind: ReasonKind, **figures: str | float) -> Reason:
    """A reason with its figures: words are its names, all else its numbers."""
    names = {name: told for name, told in figures.items() if isinstance(told, str)}
    numbers = {name: told for name, told in figures.items() if not isinstance(told, str)}
    return Reason(kind=kind, names=names, numbers=numbers)


class Choice(Record):
    """A choice pinned in build.yaml, as it is written there."""

    rule: str
    names: tuple[str, ...] = ()
    value: str = ""


class Pinned(Choice):
    """A pinned choice with the minutes that it costs."""

    minutes: float


class MarkKind(StrEnum):
    """The kinds of mark on the work."""

    SQUARED_END = "squared end"
    TO_THE_STOP = "to the stop"


class Mark(Statement):
    """Something to be marked on the work."""

    kind: MarkKind


class RemedyKind(StrEnum):
    """The kinds of remedy that would make a dimension hold."""

    FIRST_OFF = "first-off"
    OTHER_FACE = "other face"
    EDGE_AFRESH = "edge afresh"
    TOP_AFRESH = "top afresh"
    CLOSE_IN = "close in"
    MEASURE_BAR = "measure bar"
    CLOSER_STOP = "closer stop"
    CLOSER_VISE = "closer vise"
    WORK_TO = "work to"
    SMALLER_DRILL = "smaller drill"
    BORE = "bore"
    DRILL_AND_BORE = "drill and bore"
    GET_GAUGE = "get gauge"
    PLUG = "plug"
    OTHER_COUNTERSINK = "other countersink"
    INDICATE = "indicate"
    CUTTER_OF_RADIUS = "cutter of radius"


class Remedy(Statement):
    """Something that would make a dimension hold."""

    kind: RemedyKind


class GivenKind(StrEnum):
    """The kinds of thing that give a size that no reading makes."""

    MEASURED = "measured"
    TAP = "tap"
    TAPPING_DRILL = "tapping drill"
    REAMER = "reamer"
    DRILL = "drill"
    CUTTER = "cutter"
    BORED_BLIND = "bored blind"
    BORED = "bored"
    CUTTER_ANGLE = "cutter angle"
    COUNTERSINK = "countersink"
    TILT = "tilt"
    CUTTER_RADIUS = "cutter radius"


class Given(Statement):
    """The thing that gives a size that no reading makes."""

    kind: GivenKind


class NoteKind(StrEnum):
    """The kinds of note on the whole route."""

    HELD_ALIKE = "held alike"
    IN_THE_BAR = "in the bar"
    DONE_STAYS = "done stays"
    HEARTH = "hearth"
    NOT_GUARANTEED = "not guaranteed"
    NOT_GIVEN = "not given"
    FIT_LACKS = "fit lacks"
    FIT_LOOSE = "fit loose"


class Note(Statement):
    """Something worth knowing of the whole route. remedies: what would help, all of them together;
    given: what gives the size."""

    kind: NoteKind
    remedies: tuple[Remedy, ...] = ()
    given: Given | None = None


class ItemKind(StrEnum):
    """The kinds of thing that the shop lacks."""

    TOOL = "tool"
    FLUTED = "fluted"
    BAR = "bar"
    TAP = "tap"
    TOUCH_GAUGE = "touch gauge"
    EDGE_FINDER = "edge finder"
    PINS = "pins"
    INSTRUMENT = "instrument"
    BOARD = "board"
    SCREWS = "screws"


class Item(Statement):
    """Something to buy or borrow. pieces: lengths of a bar [mm]; setups: ids of those it is for."""

    kind: ItemKind
    pieces: tuple[float, ...] = ()
    setups: tuple[str, ...] = ()
