"""One tool doing one thing in a setup."""

from __future__ import annotations

from pydantic import Field

from barstock.route.expected import Expect
from barstock.route.moves import Cutter, Move
from barstock.route.record import Record
from barstock.route.statements import Caution, Reason


class Step(Record):
    """One line a person reads and dials: words, then readings, in the machine's own figures.

    dial: axis -> what to dial as text ("X +12.345", "X 6 turns 17.5 div").
    """

    words: str
    dial: dict[str, str] = Field(default={})
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
    why: tuple[Reason, ...] = ()
    cautions: tuple[Caution, ...] = ()
    minutes: float = 0.0
