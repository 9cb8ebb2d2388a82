"""Of all places along the work that a block may have, the fewest that do for all that is cut."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from barstock.planning.tasks.pose import Pose

Place = tuple[float, float]
"""Where the block stands along lying work [mm], and its clamp along the block (0 to 1)."""


def fewest(
    ways: Mapping[str, Mapping[Pose, Sequence[Place]]], rank: Callable[[Pose, Place], Any]
) -> dict[str, list[tuple[Pose, Place]]]:
    """For each task a place in every pose it has: the one that most tasks share, again and again.

    ways: places that leave it free, by task and pose; rank: the better of places that as many share
    has the greater.
    """
    chosen: dict[str, list[tuple[Pose, Place]]] = {name: [] for name in ways}
    for pose in dict.fromkeys(p for found in ways.values() for p in found):
        waiting = {name: found[pose] for name, found in ways.items() if found.get(pose)}
        while waiting:
            shared = {
                place: sum(place in found for found in waiting.values())
                for found in waiting.values()
                for place in found
            }
            best = max(shared, key=lambda place: (shared[place], rank(pose, place)))
            for name in [name for name, found in waiting.items() if best in found]:
                chosen[name].append((pose, best))
                del waiting[name]
    return chosen
