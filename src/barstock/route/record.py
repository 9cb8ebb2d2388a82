"""The base of every record in a route: plain data, JSON in and out."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Record(BaseModel):
    """Base of every record in a route."""

    model_config = ConfigDict(frozen=True, extra="forbid")
