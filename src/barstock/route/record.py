"""The bases of every record in a route: plain data, JSON in and out."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict, Field


class Record(BaseModel):
    """Base of every record in a route."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


class Statement(Record):
    """Something to be told: a kind (each subclass has its own), with its figures by name.

    lengths: [mm], told in the reader's unit. numbers: counts, degrees, shares and minutes, told as
    they are. names: faces, features, ids of operations and setups, tools, threads, and what the
    user's own files say.
    """

    lengths: dict[str, float] = Field(default={})
    numbers: dict[str, float] = Field(default={})
    names: dict[str, str] = Field(default={})
