"""How a feature's fields are written in build.yaml: the base record and its types of value."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, WithJsonSchema


def _as_text(value: Any) -> Any:
    return str(value) if isinstance(value, int | float) and not isinstance(value, bool) else value


NUMBER_OR_TEXT = {"anyOf": [{"type": "string"}, {"type": "number"}]}

Written = Annotated[str, BeforeValidator(_as_text), WithJsonSchema(NUMBER_OR_TEXT)]
"""A size, length or angle as the drawing gives it: 12.0 ±0.05, 8 H7, 1-3/8, #36."""

Where = dict[str, Any]
"""A position along one axis or two: {left: 15, width: centre}."""

At = dict[str, Any] | list[dict[str, Any]]
"""A position, a list of them, or a pattern (row, grid, circle, mirrored)."""


class Fields(BaseModel):
    """Base of what may be written under a feature; names are written with spaces."""

    model_config = ConfigDict(
        extra="forbid",
        frozen=True,
        populate_by_name=True,
        alias_generator=lambda name: name.replace("_", " "),
    )
