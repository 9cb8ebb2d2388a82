"""The JSON Schema of workshop.yaml, for editors."""

from __future__ import annotations

from typing import Any

from barstock.workshop.shop_fields import WorkshopFields


def workshop_schema() -> dict[str, Any]:
    """The schema of workshop.yaml."""
    schema = WorkshopFields.model_json_schema(by_alias=True)
    dialect = "https://json-schema.org/draft/2020-12/schema"
    return {"$schema": dialect, **schema, "title": "workshop.yaml"}
