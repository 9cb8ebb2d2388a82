"""The heats and the cleaning of fabrications, ticked copy by copy like any operation."""

from __future__ import annotations

from dataclasses import dataclass

from barstock.bench.work import Work
from barstock.route import Fabrication, Route


def cleaning_id(one: Fabrication) -> str:
    """The id that the cleaning after the heats is ticked under."""
    return f"{one.part}/cleaning"


def steps(one: Fabrication) -> tuple[str, ...]:
    """The ids of all that is ticked at the hearth, in order."""
    heats = tuple(one.heat_id(heat.number) for heat in one.heats)
    return (*heats, cleaning_id(one)) if one.cleaning is not None else heats


@dataclass(frozen=True)
class HearthLeft:
    """What is left of a fabrication at the hearth. done: copies joined and clean; minutes: left."""

    fabrication: Fabrication
    done: int
    minutes: float

    @property
    def finished(self) -> bool:
        """Are all copies joined?"""
        return self.done >= self.fabrication.copies


def copies_of(one: Fabrication, work: Work) -> dict[str, frozenset[int]]:
    """The copies that have each step: by the log, else those made before the route was planned."""
    before = {one.heat_id(heat.number): heat.done for heat in one.heats}
    return {
        step: work.copies(step) or frozenset(range(1, before.get(step, 0) + 1))
        for step in steps(one)
    }


def hearth(route: Route, work: Work) -> list[HearthLeft]:
    """What is left to do of every fabrication at the hearth."""
    found = []
    for one in route.fabrications:
        every = range(1, one.copies + 1)
        has = copies_of(one, work)
        done = sum(all(n in copies for copies in has.values()) for n in every)
        ticked = sum(n in copies for copies in has.values() for n in every)
        share = ticked / (len(steps(one)) * one.copies) if steps(one) else 1.0
        found.append(HearthLeft(one, done, one.minutes * (1 - share)))
    return found
