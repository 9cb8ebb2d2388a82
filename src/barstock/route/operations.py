"""One tool doing one thing in a setup."""

from __future__ import annotations

from enum import StrEnum

from barstock.drawing.build import Face
from barstock.route.expected import Expect
from barstock.route.moves import Cutter, Move
from barstock.route.record import Record
from barstock.route.statements import Caution, Reason


class Process(StrEnum):
    """The processes by which an operation works on its feature, face or end."""

    SAW_OFF = "saw off"
    FACE = "face"
    SQUARE = "square"
    MILL = "mill"
    MILL_ROUND = "mill round"
    SLIT = "slit"
    BEVEL = "bevel"
    SPOT = "spot"
    DRILL = "drill"
    DRILL_FOR_THREAD = "drill for the thread in"
    DRILL_FOR_REAMING = "drill for reaming"
    DRILL_FOR_BORING = "drill for boring"
    DRILL_UNDER_SIZE = "drill under size"
    MILL_UNDER_SIZE = "mill under size"
    FLATTEN = "flatten"
    REAM = "ream"
    BORE = "bore"
    TAP = "tap"
    COUNTERSINK = "countersink"
    COUNTERBORE = "counterbore"
    SAW = "saw"
    FILE = "file"
    FILE_FLUSH = "file flush"


class Operation(Record):
    """One tool doing one thing in a setup: what is cut and what is read at the bench are its moves.

    id: unique in the route ("axlebox/bore/ream"). features: the features it works on. face: the
    face or end it works on, where it is one. cut: which of the feature's cuts it is, from 1, where
    there are several; 0 where it is the only one. to_size: it brings the work to the drawing's
    length, width or height. size: of a bevel [mm]. rpm, feed [mm/min]; speed_share: share of the
    wanted surface speed the spindle reaches (1 = all). minutes: for one copy, cutting and moving.
    why: reasons it stands where it stands. contact: z of touch-off is per tool.
    """

    id: str
    does: Process
    features: tuple[str, ...]
    face: Face | None = None
    cut: int = 0
    to_size: bool = False
    size: float = 0.0
    cutter: Cutter
    moves: tuple[Move, ...]
    rpm: float = 0.0
    feed: float = 0.0
    surface_speed: float = 0.0
    speed_share: float = 1.0
    checks: tuple[Expect, ...] = ()
    why: tuple[Reason, ...] = ()
    cautions: tuple[Caution, ...] = ()
    minutes: float = 0.0

    @property
    def part(self) -> str:
        """The part it is done to, out of its id: either name may have strokes of its own."""
        whole, _, _ = self.id.rpartition("/")
        named = self.features[0] if self.features else whole.rpartition("/")[2]
        return whole.removesuffix(f"/{named}")
