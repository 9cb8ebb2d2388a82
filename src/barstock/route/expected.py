"""A check says what a dimension must measure, how, and which operation makes it."""

from __future__ import annotations

from enum import StrEnum

from barstock.drawing.dimension_runs import CheckSort, Runs
from barstock.route.record import Record, Statement
from barstock.route.statements import Remedy


class ReadingWay(StrEnum):
    """The ways a check is read, or what its limits ask that is more than can be read."""

    # of a hole's place, whose centre no instrument finds
    FROM_WALL = "from wall"
    OVER_PIN = "over pin"
    OVER_DRILL = "over drill"
    BETWEEN_WALLS = "between walls"
    # of a depth that no rod goes down to
    SCREW = "screw"
    STANDING_DRILL = "standing drill"
    # by gauges
    STACKS = "stacks"
    NO_STACK = "no stack"
    PINS = "pins"
    PINS_LACKING = "pins lacking"
    # by what no instrument is
    MATING_SCREW = "mating screw"
    SINE_BAR = "sine bar"
    RULE = "rule"
    ROUND_BAR = "round bar"
    NOTHING_LISTED = "nothing listed"
    # too coarse for the limits
    COARSE = "coarse"
    COARSE_TO_HOLD = "coarse to hold"
    COARSE_DIAL = "coarse dial"
    STOP_REPEATS = "stop repeats"


class HowRead(Statement):
    """One thing to know of how a check is read."""

    kind: ReadingWay


class Expect(Record):
    """A check: the drawing's dimension an operation makes, how it is measured, what it must read.

    name: "feature/dimension". nth: which it is of several of one name, which is then numbered; of
    an outline's radii, the point that it begins at; else 0. sort, runs: what sort of size it is,
    and from what to what; runs is None where it is no distance. low, nominal, high [mm] (or degrees
    of an angle), text: as the drawing has it. with_, with_kind: the instrument's name in the shop
    and what it is, "" where none measures it. read: how. stack_low, stack_high: gauge blocks where
    a stack is used [mm]. hold_low, hold_high: closer limits to hold here so that every copy and all
    made later holds, both 0 where the drawing's do [mm]; besides: what else that takes.
    """

    name: str
    nth: int = 0
    sort: CheckSort
    runs: Runs | None = None
    low: float
    nominal: float
    high: float
    text: str = ""
    with_: str = ""
    with_kind: str = ""
    read: tuple[HowRead, ...] = ()
    stack_low: tuple[float, ...] = ()
    stack_high: tuple[float, ...] = ()
    hold_low: float = 0.0
    hold_high: float = 0.0
    besides: tuple[Remedy, ...] = ()

    @property
    def angle(self) -> bool:
        """Are the check's limits degrees?"""
        return self.sort is CheckSort.ANGLE


class Made(Record):
    """The operation that makes a dimension of the drawing (the index); its check says the rest."""

    part: str
    dimension: str
    operation: str
    setup: str
