"""One line of the log: what was done, when and on which device. Lines are added, never changed."""

from __future__ import annotations

from datetime import UTC, datetime
from enum import StrEnum
from typing import Annotated
from uuid import uuid4

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

MOST_WORDS = 2000
"""Longest note [characters]."""


class Kind(StrEnum):
    """What a line tells."""

    TICK = "tick"
    SIZE = "size"
    SPOILED = "spoiled"
    HEAT = "heat"
    START = "start"
    STOP = "stop"
    NOTE = "note"
    PLANNED = "planned"
    UNDO = "undo"


def _utc(moment: datetime) -> datetime:
    if moment.tzinfo is None:
        raise ValueError("a time needs its zone, e.g. 2031-05-04T10:20:30Z")
    return moment.astimezone(UTC)


Moment = Annotated[datetime, AfterValidator(_utc)]
Name = Annotated[str, Field(max_length=200)]
Id = Annotated[str, Field(max_length=40)]
Minutes = Annotated[float, Field(ge=0, le=100_000, allow_inf_nan=False)]


class Entry(BaseModel):
    """A line of the log.

    device: where it was entered. setup, operation: ids of the route it was done by (a heat's id is
    an operation's). work: the bar's id or the part's name, as the setup has it; nth: which of them,
    from 1 (0: none in particular). dimension: "feature/dimension"; reading: [mm] or [degrees];
    instrument: it was measured with. figure: what was timed ("setting up", "sawing", …); minutes:
    spent, or to wait; planned: what the route had for the same work [minutes]. undoes: the id of
    the line this one takes back. row: its place in this log, 0 before it is written.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    kind: Kind
    id: Annotated[Id, Field(min_length=1)] = Field(default_factory=lambda: uuid4().hex)
    at: Moment = Field(default_factory=lambda: datetime.now(UTC))
    device: Name = ""
    setup: Name = ""
    operation: Name = ""
    work: Name = ""
    nth: Annotated[int, Field(ge=0, le=100_000)] = 0
    dimension: Name = ""
    reading: Annotated[float, Field(allow_inf_nan=False)] | None = None
    instrument: Name = ""
    figure: Name = ""
    minutes: Minutes | None = None
    planned: Minutes | None = None
    words: Annotated[str, Field(max_length=MOST_WORDS)] = ""
    undoes: Id = ""
    row: int = 0
