"""Does the cutter reach, and does anything but its edges meet the work, the jaws or the bed?"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial

from barstock.drawing.build import Vec
from barstock.handbook.cutter_lengths import deepest
from barstock.handbook.holding_limits import HOLDER_RADIUS
from barstock.handbook.slitting_saws import SCREW
from barstock.proving.held_work import Done, Held
from barstock.proving.holding import way_of
from barstock.proving.holding.obstacles import CLEAR, Obstacle
from barstock.proving.proof_record import Violation
from barstock.proving.upright_run import Run
from barstock.quantities import Length
from barstock.solids.shapes import Solid
from barstock.workshop.shop import ToolKind


def check(held: Held, done: Done) -> Iterator[Violation]:
    """The faults in reaching the cut and in what the cutter meets, one of each sort at most."""
    obstacles = way_of(held.setup.holding).obstacles(held)
    beside = [partial(fault, obstacles) for fault in (_shank, _arbor, _holder)]
    faults: list[Callable[[Held, Done, Run], Violation | None]] = [_flutes, *beside, _stop]
    for fault in faults:
        for run in done.runs:
            what = fault(held, done, run)
            if what is not None:
                yield what
                break
    told: set[str] = set()
    for obstacle in obstacles:
        met = [run for run in done.runs if obstacle.mend not in told and obstacle.met_by(run)]
        for run in met[:1]:
            told.add(obstacle.mend)
            deep = obstacle.top - run.tip
            yield Violation(
                f"{run.cutter.name} {obstacle.how} {obstacle.name}, {Length(deep):.2f} below its "
                "top",
                obstacle.mend,
                where=_spot(held, run),
            )


def _spot(held: Held, run: Run) -> Vec:
    return held.placement.inverse().apply((*run.start, run.tip))


def _height(solid: Solid, run: Run) -> float:
    """How high above the tip `solid` stands within the run's own width [mm]."""
    if solid.empty or solid.bounds[1][2] <= run.tip:
        return 0.0
    lumps = [lump for lump in solid.lumps() if _beside(lump, run)]
    return max((lump.bounds[1][2] for lump in lumps), default=run.tip) - run.tip


def _beside(lump: Solid, run: Run) -> bool:
    (x0, y0, _), (x1, y1, _) = lump.bounds
    return run.gap((x0, y0), (x1, y1)) < run.radius


def _flutes(held: Held, done: Done, run: Run) -> Violation | None:
    cutter = run.cutter
    if cutter.kind is ToolKind.SLITTING_SAW or cutter.flute <= 0:
        return None
    limit = deepest(cutter)
    deep = _height(done.removed, run)
    if deep <= limit + CLEAR:
        return None
    return Violation(
        f"{cutter.name} cuts {Length(limit):g} deep at most and is asked for {Length(deep):.2f}",
        "use a longer cutter, or cut from the other side",
        where=_spot(held, run),
    )


def _shank(obstacles: Sequence[Obstacle], held: Held, done: Done, run: Run) -> Violation | None:
    cutter, radius = run.cutter, run.cutter.shank / 2
    low, top = run.tip + cutter.flute, done.after.bounds[1][2]
    if cutter.flute <= 0 or radius <= run.radius + CLEAR:
        return None
    met = _met_above(obstacles, run, low, radius)
    if not met and low < top - CLEAR:
        shank = run.stadium(radius - CLEAR, low + CLEAR, top + 1.0)
        met = "the work" if done.after.common(shank).volume >= 1e-3 else ""
    if not met:
        return None
    return Violation(
        f"the shank of {cutter.name} ({Length(cutter.shank):g}) rubs on {met}",
        "use a cutter with more flute or a thinner shank",
        where=_spot(held, run),
    )


def _arbor(obstacles: Sequence[Obstacle], held: Held, done: Done, run: Run) -> Violation | None:
    """A slitting saw's arbor beside it: the collar over it, and the collar and screw under it."""
    cutter = run.cutter
    if cutter.kind is not ToolKind.SLITTING_SAW:
        return None
    low, radius = run.tip - SCREW, cutter.shank / 2
    met = _met_above(obstacles, run, low, radius)
    if not met:
        arbor = run.stadium(radius, low, run.tip + max(cutter.reach, cutter.flute))
        met = "the work" if done.after.common(arbor).volume > 1e-3 else ""
    if not met:
        return None
    return Violation(
        f"the arbor of {cutter.name}, {Length(cutter.shank):g} across and {Length(SCREW):g} long "
        f"under the saw, meets {met}",
        "use a larger saw or a smaller collar, or hold the work higher",
        where=_spot(held, run),
    )


def _holder(obstacles: Sequence[Obstacle], held: Held, done: Done, run: Run) -> Violation | None:
    cutter, radius = run.cutter, HOLDER_RADIUS.get(run.cutter.holder, 0.0)
    if cutter.reach <= 0 or radius == 0.0:
        return None
    low = run.tip + cutter.reach
    met = _met_above(obstacles, run, low, radius)
    top = done.after.bounds[1][2]
    if not met and low < top - CLEAR:
        nose = run.stadium(radius, low + CLEAR, top + 1.0)
        met = "the work" if done.after.common(nose).volume > 1e-3 else ""
    if not met:
        return None
    return Violation(
        f"the {cutter.holder} meets {met}: {cutter.name} sticks out {Length(cutter.reach):g} only",
        "use a cutter that sticks out further",
        where=_spot(held, run),
    )


def _met_above(obstacles: Sequence[Obstacle], run: Run, low: float, radius: float) -> str:
    """What is met by what is above `low` [mm] on the cutter's axis, of this radius; "" if none."""
    return next((one.name for one in obstacles if one.met_above(run, low, radius)), "")


def _stop(held: Held, done: Done, run: Run) -> Violation | None:
    h = held.setup.holding
    if h.stop == "none" or h.stop_below is None or run.tip > h.stop_below - CLEAR:
        return None
    (low, *_), (high, *_) = held.work.bounds
    left, right = sorted((run.start[0], run.end[0]))
    beyond = low - left if h.stop == "left" else right - high
    if beyond + run.radius < CLEAR:
        return None
    return Violation(
        f"{run.cutter.name} comes over the stop, {Length(h.stop_below - run.tip):.2f} below its "
        "top",
        "set the stop lower",
        where=_spot(held, run),
    )
