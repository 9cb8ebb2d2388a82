"""The whole route, in order, with its hours and its shopping."""

from __future__ import annotations

from pydantic import Field

from barstock.route.bar_pieces import BarPiece
from barstock.route.expected import Made
from barstock.route.joined import Fabrication, ToShorten
from barstock.route.left import Left
from barstock.route.record import Record
from barstock.route.setups import Setup
from barstock.route.statements import Item, Note, Pinned

VERSION = 2


class Summary(Record):
    """The summary of a route: hours and shopping.

    hours: of all of it; hearth_hours: of them at the hearth, which every order takes alike;
    shorten: fixing screws by size; pins: the user's own choices, with what each costs.
    """

    hours: float
    hearth_hours: float = 0.0
    minutes_by_setup: dict[str, float] = Field(default={})
    buy: tuple[Item, ...] = ()
    shorten: tuple[ToShorten, ...] = ()
    bound_hours: float = 0.0
    optimal: bool = False
    one_part_at_a_time_hours: float = 0.0
    one_tool_at_a_time_hours: float = 0.0
    pins: tuple[Pinned, ...] = ()
    notes: tuple[Note, ...] = ()


class Route(Record):
    """The whole route, in order. A bar's setups come before those of the pieces sawn from it.

    left: what the route does not make; the person does, after all setups of its part.
    """

    version: int = VERSION
    build: str
    bars: tuple[BarPiece, ...]
    setups: tuple[Setup, ...]
    fabrications: tuple[Fabrication, ...] = ()
    index: tuple[Made, ...] = ()
    left: tuple[Left, ...] = ()
    summary: Summary
