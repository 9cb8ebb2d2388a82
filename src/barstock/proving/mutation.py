"""Routes are spoilt on purpose, one mistake each: the proof is worth what it refuses of them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from barstock.proving.machining import Memory
from barstock.proving.pieces_joined import JoinedJob
from barstock.proving.proof_record import Violation
from barstock.proving.prove import Finished, Job, cut_job
from barstock.proving.sweeps import sweep_of
from barstock.route import (
    Cutter,
    Move,
    Operation,
    Setup,
    Zero,
)
from barstock.solids.shapes import Solid
from barstock.workshop.shop import ToolKind

DEEPER = 0.2  # how far a depth is set wrong [mm]
SAME = 1e-3  # finished parts that differ by less than this are the same [mm3]


@dataclass(frozen=True)
class Mutant:
    """A job with one mistake. kind: of mistake; what: exactly; at: the operation or setup; tool:
    the operation's, None for a setup's mistake."""

    kind: str
    what: str
    at: str
    job: Job | JoinedJob
    tool: ToolKind | None = None


@dataclass(frozen=True)
class Verdict:
    """What the proof says of a mutant: the first fault that refuses it, or why it is harmless."""

    mutant: Mutant
    fault: Violation | None
    harmless: str = ""

    @property
    def refused(self) -> bool:
        """Did the proof refuse it?"""
        return self.fault is not None


def mutants(job: Job | JoinedJob) -> Iterator[Mutant]:
    """The mutants of a job: every mistake at every setup and operation that cuts by readings."""
    for setup in job.setups:
        for kind, what, spoilt in _setup_mistakes(setup):
            yield Mutant(kind, what, setup.id, _with(job, setup, spoilt))
        for operation in setup.operations:
            for kind, what, changed in _mistakes(operation, job):
                operations = tuple(
                    new
                    for old in setup.operations
                    for new in ([changed] if old is operation else [old])
                    if new is not None
                )
                spoilt = setup.model_copy(update={"operations": operations})
                spoilt_job = _with(job, setup, spoilt)
                yield Mutant(kind, what, operation.id, spoilt_job, operation.cutter.kind)


def judge(mutant: Mutant, sound: Solid, memory: Memory) -> Verdict:
    """Prove a mutant until the first fault. sound: what the unspoilt route makes."""
    gaps = []
    for told in cut_job(mutant.job, memory):
        if isinstance(told, Violation) and told.severity == "error":
            return Verdict(mutant, told)
        if isinstance(told, Finished):
            gaps.append(told.solid.cut(sound).volume + sound.cut(told.solid).volume)
    if max(gaps, default=math.inf) < SAME:
        return Verdict(mutant, None, f"the finished part is the same: {_why(mutant)}")
    within = "the finished part stays within the drawing's limits"
    if mutant.kind == "depth":
        within += f": {DEEPER:g} mm is no more than those of the depth leave"
    return Verdict(mutant, None, within)


def survey(job: Job | JoinedJob, every: int = 1) -> list[Verdict]:
    """Judge the mutants of a job, or every so many of them.

    Raises ValueError if the unspoilt job is itself refused.
    """
    memory: Memory = {}
    told = list(cut_job(job, memory))
    faults = [v for v in told if isinstance(v, Violation) and v.severity == "error"]
    sound = [piece.solid for piece in told if isinstance(piece, Finished)]
    if faults or not sound:
        raise ValueError(f"the route of {job.want.part} is refused as it stands: {faults}")
    return [judge(m, sound[0], memory) for m in list(mutants(job))[::every]]


def _why(mutant: Mutant) -> str:
    if mutant.tool is ToolKind.SPOT_DRILL:
        return "the drill that follows swallows the spot"
    if mutant.kind == "swap ends" and "stop" in mutant.what:
        return "zero is found on the work, wherever the stop is"
    if mutant.kind == "swap ends":
        return "the work is alike that way round"
    if mutant.kind == "radius added" and mutant.what.startswith("zero"):
        return "the cuts run past the work along that axis"
    if mutant.kind == "depth":
        return "the cut ends below the work, or in metal that goes or may go"
    if mutant.kind == "neighbouring cutter" and mutant.tool is ToolKind.COUNTERSINK:
        return "the cone is the same"
    return "other cuts take the same metal"


def _with(job: Job | JoinedJob, old: Setup, new: Setup) -> Job | JoinedJob:
    return replace(job, setups=tuple(new if s is old else s for s in job.setups))


def _setup_mistakes(setup: Setup) -> Iterator[tuple[str, str, Setup]]:
    h = setup.holding
    if not any(sweep_of(m).powered for o in setup.operations for m in o.moves):
        return

    def held(**changes: object) -> Setup:
        return setup.model_copy(update={"holding": h.model_copy(update=changes)})

    yield (
        "swap ends",
        f"{h.fixed_jaw.opposite} at the fixed jaw",
        held(fixed_jaw=h.fixed_jaw.opposite),
    )
    yield "swap ends", f"{h.up.opposite} up", held(up=h.up.opposite)
    if h.stop != "none":
        other = "left" if h.stop == "right" else "right"
        yield "swap ends", f"stop on the {other}", held(stop=other)
    if h.tilt:
        yield "flip a sign", f"tilted by {-h.tilt:g} degrees", held(tilt=-h.tilt)
    across = {"left": "right", "right": "left", "front": "back", "back": "front"}
    for axis in ("zero_x", "zero_y"):
        zero: Zero = getattr(setup, axis)
        if zero.find in across:
            found = zero.model_copy(update={"find": across[zero.find]})
            yield "swap ends", f"{axis} on the {found.find}", setup.model_copy(update={axis: found})
        if zero.finder and zero.find != "centre":
            found = zero.model_copy(update={"finder": -zero.finder})
            yield (
                "radius added",
                f"{axis}: the finder's radius the wrong way",
                setup.model_copy(update={axis: found}),
            )


def _mistakes(
    operation: Operation, job: Job | JoinedJob
) -> Iterator[tuple[str, str, Operation | None]]:
    moves = operation.moves
    yield "drop", "left out", None
    for axis in ("x", "y", "z"):
        changed = _with_moves(operation, (sweep_of(m).flipped(m, axis) for m in moves))
        if changed.moves != operation.moves:
            yield "flip a sign", f"{axis} turned round", changed
    for deeper in (DEEPER, -DEEPER):
        changed = _with_moves(operation, (sweep_of(m).deeper(m, deeper) for m in moves))
        if changed.moves != operation.moves:
            yield "depth", f"{abs(deeper)} mm {'less' if deeper > 0 else 'more'} deep", changed
    for way in (1, -1):
        d = operation.cutter.diameter * way
        changed = _with_moves(operation, (sweep_of(m).beside(m, d) for m in moves))
        if changed.moves != operation.moves:
            yield "radius added", f"{d:+g} mm to the side", changed
    for cutter in _neighbours(operation, job):
        changed = operation.model_copy(update={"cutter": cutter})
        yield "neighbouring cutter", f"{cutter.name} ({cutter.diameter:g} mm)", changed


def _with_moves(operation: Operation, moves: Iterable[Move]) -> Operation:
    return operation.model_copy(update={"moves": tuple(moves)})


def _neighbours(operation: Operation, job: Job | JoinedJob) -> Iterator[Cutter]:
    """The next cutters of its kind in the route, or half a millimetre either way."""
    own = operation.cutter
    if not own.diameter or not any(sweep_of(m).powered for m in operation.moves):
        return
    alike = {
        o.cutter.diameter: o.cutter
        for s in job.setups
        for o in s.operations
        if o.cutter.kind is own.kind
    }
    for way in (-1, 1):
        beyond = [d for d in alike if (d - own.diameter) * way > 1e-6]
        if beyond:
            yield alike[min(beyond, key=lambda d: abs(d - own.diameter))]
        elif own.diameter + way * 0.5 > 0.2:
            size = own.diameter + way * 0.5
            yield own.model_copy(update={"diameter": size, "shank": own.shank + way * 0.5})
