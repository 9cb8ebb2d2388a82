"""What the log hands on to planning and to others: the work as it stands, and the sizes as made."""

from __future__ import annotations

import json
from typing import Any

from barstock.bench.work import Work
from barstock.route import Route
from barstock.route.work_done import Standing


def standing(work: Work, route: Route) -> Standing:
    """What is done and spoiled, counted in good copies, as `plan --done` reads it."""
    done = {}
    for setup in route.setups:
        for operation in setup.operations:
            count = sum(n <= setup.copies for n in work.copies(operation.id))
            if count or not setup.minutes:  # done in a route before this one
                done[operation.id] = count or setup.copies
    for one in route.fabrications:
        for heat in one.heats:
            step = one.heat_id(heat.number)
            count = sum(n <= one.copies for n in work.copies(step)) or heat.done
            if count:
                done[step] = count
    parts = dict.fromkeys(bar.part for bar in route.bars)
    spoiled = {part: n for part in parts if (n := work.spoiled_of(part))}
    return Standing(done, spoiled)


def standing_text(standing: Standing) -> str:
    """The work as it stands, as the text of a file that `plan --done` reads."""
    found = {"done": dict(standing.done), "spoiled": dict(standing.spoiled)}
    return json.dumps(found, indent=1, ensure_ascii=False) + "\n"


def as_made(work: Work) -> dict[str, dict[int, dict[str, float]]]:
    """The sizes last measured [mm or degrees] by part, copy and "feature/dimension"."""
    found: dict[str, dict[int, dict[str, Any]]] = {}
    for entry in work.sizes:
        if entry.reading is not None:
            copies = found.setdefault(entry.work, {})
            copies.setdefault(entry.nth, {})[entry.dimension] = entry.reading
    return found


def as_made_text(work: Work) -> str:
    """The sizes as made, as the text of a file."""
    return json.dumps(as_made(work), indent=1, ensure_ascii=False) + "\n"
