"""What stands on each page of the pack, apart from how it is set: the PDF and the HTML share it."""

from __future__ import annotations

from dataclasses import dataclass

from barstock.pack.heat_pages import HearthPages
from barstock.pack.left_pages import LeftPage
from barstock.pack.moving_pages import MovingPage
from barstock.words.checks import CheckLine
from barstock.words.lines import Line
from barstock.words.zeros import ZeroLine


@dataclass(frozen=True)
class OperationBox:
    """One operation on the page. running: speed and feed as (figure, unit) pairs.

    shortfall: the share that the spindle reaches of the speed wanted, "" where it is all.
    """

    number: int
    title: str
    tool: str
    running: tuple[tuple[str, str], ...]
    shortfall: str
    lines: tuple[Line, ...]
    checks: tuple[CheckLine, ...]
    cautions: tuple[str, ...]
    why: tuple[str, ...]


@dataclass(frozen=True)
class Pass:
    """Operations done at one loading of each work; boxes: what to tick, one for each."""

    words: str
    operations: tuple[OperationBox, ...]
    boxes: tuple[str, ...]


@dataclass(frozen=True)
class SetupPage:
    """One setup. held: (label, words) pairs repeated on every page of it. bench: the name of the
    mark that opens it at the bench, "" where there is none.
    """

    number: str
    last: str
    build: str
    part: str
    stage: str
    copies: str
    title: str
    machine: str
    minutes: str
    held: tuple[tuple[str, str], ...]
    zeros: tuple[ZeroLine, ...]
    readings_in: str
    mark: str
    steps: tuple[Line, ...]
    cautions: tuple[str, ...]
    why: tuple[str, ...]
    passes: tuple[Pass, ...]
    picture: str = ""
    bench: str = ""


@dataclass(frozen=True)
class Stop:
    """One setup in the list of the order of work."""

    number: str
    part: str
    title: str
    machine: str
    copies: str
    minutes: str


@dataclass(frozen=True)
class IndexLine:
    """Which operation makes a dimension and how it is checked."""

    dimension: str
    size: str
    setup: str
    operation: str
    how: str


@dataclass(frozen=True)
class DrawingPage:
    """A part's drawing. picture: its name among the pictures; wide: to be turned on the page."""

    part: str
    picture: str
    wide: bool


@dataclass(frozen=True)
class Pack:
    """The whole pack. parts: name, how many, material, and in which setups each is worked; shorten:
    screws by size.

    chart: the name of the route's picture. left_said: the first page's lines on what is left.
    """

    build: str
    parts: tuple[tuple[str, str, str, str], ...]
    figures: tuple[tuple[str, str], ...]
    bars: tuple[tuple[str, ...], ...]
    buy: tuple[str, ...]
    notes: tuple[str, ...]
    order: tuple[Stop, ...]
    setups: tuple[SetupPage, ...]
    index: tuple[tuple[str, tuple[IndexLine, ...]], ...]
    drawings: tuple[DrawingPage, ...]
    safety: tuple[str, ...]
    chart: str = ""
    shorten: tuple[tuple[str, ...], ...] = ()
    hearth: tuple[HearthPages, ...] = ()
    moving: tuple[MovingPage, ...] = ()
    left: tuple[LeftPage, ...] = ()
    left_said: tuple[str, ...] = ()
