"""What moves as plain data beside its page, for others to show: verdicts, scenes, pictures."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from barstock.mechanism.guides.guide_assembly import Stood
from barstock.mechanism.guides.guide_words import CAUTION, guide_lines
from barstock.mechanism.mechanism_check import Moved
from barstock.pack.guide_scene import scene

FOLDER = "moving"
"""Beside build.yaml: what moves, its page, its pictures and this record."""
FILE = "moving.json"


def record(
    found: Moved,
    standing: Mapping[str, Sequence[Stood]],
    first: Sequence[str],
    pictures: Mapping[str, Mapping[str, str]],
) -> dict[str, Any]:
    """The record of what moves. first: verdicts of the whole. By guide: where its parts stand; its
    pictures, file names and their words.
    """
    return {
        "first": list(first),
        "caution": CAUTION,
        "guides": [
            {
                "name": judged.guide.name,
                "lines": [line.strip() for line in list(guide_lines(judged))[1:]],
                "scene": scene(judged, standing[name]) if judged.goes_in else None,
                "pictures": dict(pictures[name]),
            }
            for name, judged in found.guides.items()
        ],
    }


def read_record(folder: Path) -> dict[str, Any] | None:
    """The record written last; None where there is none, or it cannot be read."""
    try:
        found = json.loads((folder / FILE).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    return found if isinstance(found, dict) and "guides" in found else None
