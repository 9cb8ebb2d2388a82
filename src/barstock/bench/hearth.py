"""Heats and cleaning of fabrications, ticked copy by copy like any operation."""

from __future__ import annotations

from dataclasses import dataclass

from barstock.bench.work import Work
from barstock.planning.route import Fabrication, Route


def heat_id(one: Fabrication, number: int) -> str:
    """What a heat is ticked under."""
    return f"{one.part}/heat {number}"


def cleaning_id(one: Fabrication) -> str:
    """What the cleaning after the heats is ticked under."""
    return f"{one.part}/cleaning"


def steps(one: Fabrication) -> tuple[str, ...]:
    """All that is ticked at the hearth, in order."""
    heats = tuple(heat_id(one, heat.number) for heat in one.heats)
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


def hearth(route: Route, work: Work) -> list[HearthLeft]:
    """What is left of every fabrication."""
    found = []
    for one in route.fabrications:
        every = range(1, one.copies + 1)
        done = sum(all(work.has(step, n) for step in steps(one)) for n in every)
        ticked = sum(work.has(step, n) for step in steps(one) for n in every)
        share = ticked / (len(steps(one)) * one.copies) if steps(one) else 1.0
        found.append(HearthLeft(one, done, one.minutes * (1 - share)))
    return found
