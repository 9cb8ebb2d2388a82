"""The JSON Schema of build.yaml, for editors."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from barstock.drawing.build_fields import BuildFields
from barstock.drawing.build_reading import FieldsAndResolve

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def build_schema(kinds: Mapping[str, FieldsAndResolve]) -> dict[str, Any]:
    """The schema of build.yaml with every feature kind in it."""
    schema = BuildFields.model_json_schema(by_alias=True)
    defs: dict[str, Any] = schema.setdefault("$defs", {})
    choices = []
    for name, kind in kinds.items():
        one = kind.fields.model_json_schema(by_alias=True)
        defs.update(one.pop("$defs", {}))
        one["required"] = sorted({*one.get("required", []), "kind"})
        defs[f"{name} feature"] = one
        choices.append({"$ref": f"#/$defs/{name} feature"})
    for owner in ("PartFields", "FabricationFields"):
        defs[owner]["properties"]["features"]["additionalProperties"] = {"oneOf": choices}
    return {"$schema": DIALECT, **schema, "title": "build.yaml"}
