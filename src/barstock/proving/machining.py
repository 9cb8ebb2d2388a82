"""A work goes through its setups: held, cut, and checked after each; nothing is compared yet."""

from __future__ import annotations

import hashlib
import math
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from barstock.drawing.build import Vec
from barstock.proving import holding_check, reach, sawn_ends, tool_order, walls
from barstock.proving.held_work import Done, Held
from barstock.proving.proof_record import Stage, Violation
from barstock.proving.stock_cutting import hold, perform
from barstock.proving.sweeps import sweep_of
from barstock.route import Setup
from barstock.solids.shapes import Solid, together

ALONG = 200  # places along a part that are looked at for metal


@dataclass(frozen=True)
class Outcome:
    """What a setup makes of a work: `work` in its own frame, what was `done`, what is wrong."""

    work: Solid
    done: tuple[Done, ...] = ()
    violations: tuple[Violation, ...] = ()
    stage: Stage | None = None


Memory = dict[str, Outcome]


@dataclass
class Work:
    """A bar or a piece on its way. `story` is a digest of all that has befallen it so far.

    drawn: the part's drawn solid; start: where its frame lies in the work's [mm]. least_wall [mm].
    ends: x of a piece's sawn ends [mm], None for a bar. memory: outcomes already known, by story.
    """

    part: str
    solid: Solid
    story: str
    drawn: Solid
    least_wall: float
    memory: Memory
    start: Vec = (0.0, 0.0, 0.0)
    ends: tuple[float, float] | None = None
    history: list[Done] = field(default_factory=list)

    def through(self, setups: list[Setup]) -> Iterator[Violation | Stage]:
        """Go through the setups in order, telling what is wrong and how the work then looks."""
        for setup in setups:
            if setup.saws is not None:
                continue
            self.tell(setup.model_dump_json(exclude=WORDS))
            if self.story not in self.memory:
                self.memory[self.story] = self._outcome(setup)
            outcome = self.memory[self.story]
            yield from outcome.violations
            if outcome.stage is not None:
                yield outcome.stage
            self.solid = outcome.work
            self.history += outcome.done

    def tell(self, what: str) -> None:
        """Add to the story of the work."""
        self.story = hashlib.sha256((self.story + what).encode()).hexdigest()

    def _outcome(self, setup: Setup) -> Outcome:
        try:
            held = hold(setup, self.solid)
        except ValueError as fault:
            found = Violation(str(fault), "turn the work another way").at(self.part, setup.id)
            return Outcome(self.solid, (), (found,))
        here, done, faults = held.work, list[Done](), list[Violation]()
        for operation in setup.operations:
            try:
                one = perform(held, here, operation)
            except (ValueError, ArithmeticError) as fault:
                found = Violation(str(fault), "look at its readings")
                faults.append(found.at(self.part, setup.id, operation.id))
                continue
            faults += [v.at(self.part, setup.id, operation.id) for v in _at_cut(held, one)]
            done.append(one)
            here = one.after
        fresh = together([lump for one in done for lump in one.removed.lumps()])
        faults += [v.at(self.part, setup.id) for v in self._at_end(held, here, fresh)]
        stage = Stage(self.part, setup.id, here, fresh, held.placement, held.opening)
        work = here.moved(held.placement.inverse())
        return Outcome(work, tuple(done), tuple(faults), stage)

    def _at_end(self, held: Held, work: Solid, fresh: Solid) -> Iterator[Violation]:
        for fault in holding_check.check(held, work, fresh, self.history):
            yield replace(fault, about="holding")
        if self.ends is not None:
            yield from sawn_ends.check(held, self.ends)
        drawn = self._drawn_wall, self._drawn_keeps, self._drawn_hollow
        yield from walls.check(held, work, fresh, self.least_wall, *drawn)

    def _drawn_keeps(self, place: Vec) -> bool:
        """Does the drawing keep the metal at a place of the work? Of a bar, wherever along it that
        of any piece may be.
        """
        x, y, z = (place[i] + self.start[i] for i in range(3))
        if self.ends is not None:
            return self.drawn.contains((x, y, z))
        (left, _, _), (right, _, _) = self.drawn.bounds
        along = np.linspace(left, right, ALONG)
        beside = np.stack([along, np.full(ALONG, y), np.full(ALONG, z)], axis=1)
        return bool((self.drawn.deep(beside) >= 0).any())

    def _drawn_hollow(self, place: Vec) -> bool:
        """Has the drawing no metal at a place of a piece? Of a bar that is not known."""
        at = np.array([[place[i] + self.start[i] for i in range(3)]])
        return self.ends is not None and bool(self.drawn.deep(at)[0] <= walls.BEYOND)

    def _drawn_wall(self, place: Vec) -> float:
        """The thinnest wall the drawing has near a place of the work [mm]."""
        by = 3 * self.least_wall
        x, y, z = (place[i] + self.start[i] for i in range(3))
        (a, b, c), (d, e, f) = walls.around((x, y, z), by)
        if self.ends is None:
            a, d = -math.inf, math.inf
        wall = walls.least(self.drawn, [((a, b, c), (d, e, f))])
        return wall.thick if wall else math.inf


def _at_cut(held: Held, done: Done) -> Iterator[Violation]:
    if done.operation.moves and done.removed.empty:
        yield Violation("it cuts nothing", "leave it out, or look at its readings")
    for fault in reach.check(held, done):
        yield replace(fault, about="cutter")
    yield from tool_order.check(done)
    for move in done.operation.moves:
        yield from sweep_of(move).faults(move, held, done)


WORDS: Any = {
    "pieces": True,
    "left": True,
    "marks": True,
    "cautions": True,
    "why": True,
    "minutes": True,
    "picture": True,
    "operations": {
        "__all__": {
            "does": True,
            "face": True,
            "cut": True,
            "to_size": True,
            "size": True,
            "cautions": True,
            "why": True,
            "minutes": True,
            "checks": True,
            "rpm": True,
            "feed": True,
        }
    },
}
"""What of a setup is for the reader and cuts nothing."""
