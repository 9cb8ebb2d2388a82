"""The date in a drawing's title block is the day when the drawing became what it is.

A drawing office dates the issue, not the print (ISO 7200, date of issue; from memory): two prints
of one issue say the same, and a changed drawing says a later day. So a part's sheet keeps its date
until something on it changes. The dates stand in one small file; without it all are of today.
"""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

from barstock.drawing.build import Build
from barstock.store.content import digest
from barstock.store.whole_files import write_whole

FILE = "issued.json"


def issued(build: Build, cache: Path, today: date | None = None) -> dict[str, date]:
    """The date of each part's drawing, by the part's name; what is new or changed is of `today`.

    Raises OSError where the file cannot be written.
    """
    today, known = today or date.today(), _known(cache / FILE)
    common = [build.name, build.projection, build.general]
    keys = {part.name: digest(part, common) for part in build.parts}
    dates = {
        name: known[name][1] if name in known and known[name][0] == key else today
        for name, key in keys.items()
    }
    now = {name: [key, dates[name].isoformat()] for name, key in keys.items()}
    if {name: [key, when.isoformat()] for name, (key, when) in known.items()} != now:
        cache.mkdir(parents=True, exist_ok=True)
        write_whole(cache / FILE, json.dumps(now, indent=1).encode())
    return dates


def _known(path: Path) -> dict[str, tuple[str, date]]:
    """Each part's key and date; nothing where the file is not there or not whole."""
    try:
        written = json.loads(path.read_text())
        return {name: (str(key), date.fromisoformat(on)) for name, (key, on) in written.items()}
    except (OSError, ValueError, TypeError, AttributeError):
        return {}
