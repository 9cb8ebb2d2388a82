"""Puts the setups of a part that are held alike one after another, where its cuts allow it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from barstock.drawing.build import Pin
from barstock.errors import UnplannableError
from barstock.planning.order.alike_setups import likeness, saving
from barstock.planning.order.arranging import arrange
from barstock.planning.order.known_orders import Solver
from barstock.planning.part_plan import PartPlan, plan_part
from barstock.route import Setup
from barstock.workshop.shop import ShopTimes

WORTH = 0.1  # of saving below which the order stays as it is [minutes]


def alike_following(plan: PartPlan, steps: int, solver: Solver) -> PartPlan:
    """The plan with setups held alike one after another, where that makes it quicker.

    A part's order is found before it is known how its setups will be held; which of them are held
    alike is seen only when they are made, and then made anew: another order may ask for another
    packing.
    """
    times = plan.prepared.givens.workshop.times
    bar = [s for s in plan.setups if s.stage == "bar"]
    pieces = [s for s in plan.setups if s.stage != "bar"]
    if len({likeness(s) for s in pieces}) == len(pieces):
        return plan
    placed = {p.task.id: p for p in plan.order.placed}
    firsts = [(first, p.task.id) for p in placed.values() for first in p.task.after]
    if bar:
        firsts += [(bar[-1].operations[-1].id, s.operations[0].id) for s in pieces]
    pins = [Pin("before", pair) for pair in firsts]
    chains = [bar, *([s] for s in pieces)]
    arranged = arrange([chain for chain in chains if chain], times, steps, pins, solver)
    if arranged.saved < _saved(plan.setups, times) + WORTH:
        return plan
    ordered = [placed[o.id] for s in arranged.setups for o in s.operations if o.id in placed]
    try:
        other = plan_part(plan.prepared, replace(plan.order, placed=tuple(ordered)), plan.packings)
    except UnplannableError:
        return plan
    return min(plan, other, key=lambda one: _minutes(one.setups, times))


def _minutes(setups: Sequence[Setup], times: ShopTimes) -> float:
    return sum(s.minutes for s in setups) - _saved(setups, times)


def _saved(setups: Sequence[Setup], times: ShopTimes) -> float:
    """The minutes that setups save by following one held alike."""
    return sum(saving(b, times) for a, b in pairwise(setups) if likeness(a) == likeness(b))
