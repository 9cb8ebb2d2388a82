"""The route as a file: route.json, described in docs/route.md."""

from __future__ import annotations

import json
from pathlib import Path

from pydantic import ValidationError

from barstock.errors import WrongUseError
from barstock.reading.fields import in_words
from barstock.route import VERSION, Route

OUT = "out"
"""The folder in a build's own that a plan is written into."""
FILE = "route.json"


def route_path(folder: Path) -> Path:
    """The path of the route of a build's folder."""
    return folder / OUT / FILE


def last_route(folder: Path, path: Path | None = None) -> Route:
    """The route last planned of a build, or the one in a file. Raises WrongUseError."""
    path = path or route_path(folder)
    if not path.is_file():
        raise WrongUseError(f"there is no route {path}; 'barstock plan {folder}' makes one")
    try:
        return read_route(path)
    except ValueError as wrong:
        raise WrongUseError(str(wrong)) from wrong


def route_text(route: Route) -> str:
    """The route as JSON, one value a line."""
    return route.model_dump_json(indent=1) + "\n"


def read_route(path: Path) -> Route:
    """The route in a file. Raises OSError if it cannot be read, ValueError if it is no route."""
    try:
        written = json.loads(path.read_text(encoding="utf-8"))
    except (ValueError, RecursionError) as wrong:
        raise ValueError(f"{path} is no JSON: {wrong}") from None
    version = written.get("version") if isinstance(written, dict) else None
    if version != VERSION:
        raise ValueError(
            f"{path} is a route of version {version}, and version {VERSION} is read here; "
            "plan the build again"
        )
    try:
        return Route.model_validate(written)
    except ValidationError as wrong:
        found = wrong.errors()  # of a move that is none of its kinds there is one for each
        first = next((one for one in found if one["type"] == "finite_number"), found[0])
        where = ".".join(str(step) for step in first["loc"])
        raise ValueError(f"{path} is no route: {where}: {in_words(first['msg'])}") from None
