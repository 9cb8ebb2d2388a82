"""Counts how alike setups are, and can be: the ways of holding a plan must have, whatever its
order.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from barstock.drawing.build import Part
from barstock.errors import UnplannableError
from barstock.machines import machine_type
from barstock.planning.holding.way import hold, way_of
from barstock.planning.holding.ways import WAYS
from barstock.planning.tasks.task import Task
from barstock.route import Setup
from barstock.stocking.bar_choice import CLEAN_UP, Stock, sawn
from barstock.workshop.shop import ShopTimes, Workshop


def likeness(setup: Setup) -> str:
    """The things that must be the same for the next work to go straight in."""
    return WAYS[setup.holding.way].alike(setup)


def saving(setup: Setup, times: ShopTimes) -> float:
    """The minutes saved where the setup before was held alike."""
    return WAYS[setup.holding.way].kept(times, bool(setup.holding.tilt))


@dataclass(frozen=True)
class Room:
    """What a pose leaves open of its holding: the packing from least to most [mm].

    kept: minutes that following a setup held alike saves.
    """

    tilt: float
    kept: float
    least: float
    most: float

    def meets(self, other: Room) -> bool:
        """May two setups, one of each, be held alike?"""
        return (
            abs(self.tilt - other.tilt) < 1e-3
            and self.least <= other.most + 1e-6
            and other.least <= self.most + 1e-6
        )


def rooms(tasks: Sequence[Task], part: Part, stock: Stock, shop: Workshop) -> list[list[Room]]:
    """For every task at readings, what its poses leave open, from the raw work to the finished."""
    raw = (
        (-CLEAN_UP, stock.y[0], stock.z[0]),
        (sawn(part) - CLEAN_UP, stock.y[1], stock.z[1]),
    )
    found = []
    for task in tasks:
        if any(not machine_type(way_of(pose).machine).axes for pose in task.poses):
            continue
        ways = []
        for pose in task.poses:
            limits = []
            for box in (raw, ((0.0, 0.0, 0.0), part.size)):
                try:
                    grip = hold(pose, box, [task], shop)
                except UnplannableError:
                    continue
                limits += [grip.least, grip.most]
            if limits:
                kept = way_of(pose).kept(shop.times, bool(pose.tilt))
                ways.append(Room(pose.tilt, kept, min(limits), max(limits)))
        found.append(ways)
    return found


def unlike(tasks: Iterable[Sequence[Room]]) -> list[Sequence[Room]]:
    """The tasks of which no two can ever be held alike: each asks for a setup of its own kind.

    Those that leave least open are taken first, which need not find the most there are.
    """
    found: list[Sequence[Room]] = []
    for ways in sorted(tasks, key=lambda ways: sum(way.most - way.least + 1.0 for way in ways)):
        alike = (a.meets(b) for other in found for a in ways for b in other)
        if ways and not any(alike):
            found.append(ways)
    return found
