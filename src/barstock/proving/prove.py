"""Proves a route: cuts every bar by its numbers, checks each setup, compares with the drawing."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import Future
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from barstock.drawing.build import Build, Part
from barstock.methods.drawn_solid import drawn_solid
from barstock.proving import figures
from barstock.proving.compare import Comparison, compare
from barstock.proving.kept_proofs import kept_proof, key_of, read_proof
from barstock.proving.machining import Memory, Work
from barstock.proving.pieces_joined import (
    JoinedJob,
    fused,
    joined_key,
    joined_work,
    parts_of,
    through,
)
from barstock.proving.proof_record import PartProof, Proof, Stage, Violation
from barstock.proving.stock_cutting import raw, saw
from barstock.proving.wanted import Wanted, wanted
from barstock.quantities import Length, Unit, told_in
from barstock.route import BarPiece, Fabrication, Route, Setup
from barstock.solids.shapes import Solid, box, nothing
from barstock.solids.workers import TooLongError, Workers

ROUNDING = 0.01  # a face already cut may lie this far off by the rounding of readings [mm]

NEAR = 0.01  # half the size of the box that stands for a place [mm]
BESIDE = 1.0  # a fault no further from a feature may be of its making [mm]

Progress = Callable[[str, float], None]


@dataclass(frozen=True)
class Job:
    """One part to prove: what is wanted of it, its bars, and the setups of its bars and pieces."""

    want: Wanted
    bars: tuple[BarPiece, ...]
    setups: tuple[Setup, ...]
    copies: int
    least_wall: float = 1.0


@dataclass(frozen=True)
class Finished:
    """A piece as it comes out of the route, against its drawing."""

    solid: Solid
    comparison: Comparison


def prove(
    route: Route,
    build: Build,
    *,
    progress: Progress | None = None,
    cache: Path | None = None,
    workers: Workers | None = None,
) -> Proof:
    """Prove a route against its build.

    progress: told the part being proved and the share done, 0 to 1. cache: a folder to keep proofs
    of parts in; a part whose bar, setups and drawing have not changed is read from there. workers:
    who proves the parts, several at once; else they are proved here.
    """
    return finish(begin(route, build, cache, workers or Workers(0)), progress)


def begin(
    route: Route, build: Build, cache: Path | None, workers: Workers
) -> dict[str, Future[PartProof]]:
    """Have every part proved; the answers to come, by the part's name.

    What the route leaves to the person is not asked of it: a part is held against its drawing
    without those features, and a piece that is left is taken as drawn. A proof that breaks off is
    an answer too: it refuses.
    """
    answers: dict[str, Future[PartProof]] = {}
    keys: dict[str, str] = {}
    by_name = {part.name: part for part in build.parts}
    left = {one.part for one in route.left}
    for drawn in build.parts:
        if any(one.part == drawn.name and one.whole for one in route.left):
            wanted_of = [f for f in route.fabrications if drawn.name in parts_of(f)]
            answers[drawn.name] = workers.ask(partial(_taken, drawn, bool(wanted_of)))
            continue
        part = routed(drawn, route)
        bars, setups = works_of(route, part)
        numbers = {str(n): setup.id for n, setup in enumerate(setups, 1)}
        setups = tuple(
            setup.model_copy(update={"id": n}) for n, setup in zip(numbers, setups, strict=True)
        )
        key = key_of(part, build.least_wall, bars, setups)
        task = partial(_proved, part, build.least_wall, bars, setups)
        if part.joined:
            record = next((f for f in route.fabrications if f.part == part.name), None)
            names = parts_of(record) if record else ()
            pieces = {name: by_name[name] for name in names if name in by_name}
            known_by = {n: keys.get(n, "") for n in pieces} | {
                n: key_of(pieces[n], build.least_wall, (), ()) for n in pieces if n in left
            }
            key = joined_key(key, record, known_by)
            solids = {
                name: partial(drawn_solid, piece)
                if name in left
                else partial(_piece_of, piece, build.least_wall, *works_of(route, piece))
                if not answers[name].done()
                else answers[name].result().finished
                for name, piece in pieces.items()
            }
            task = partial(_proved_whole, part, build.least_wall, record, setups, solids)
        keys[part.name] = key
        known = read_proof(cache, key) if cache else None
        if known is not None:
            answer = Workers(0).ask(partial(_same, known))
        else:
            answer = workers.ask(partial(kept_proof, cache, key, task) if cache else task)
        answers[part.name] = _answered(answer, partial(_numbered, numbers, part.unit), part.name)
    return answers


def routed(part: Part, route: Route) -> Part:
    """The part as the route is to make it: without the features that it leaves to the person."""
    left = {name for one in route.left if one.part == part.name for name in one.features}
    return replace(part, features=tuple(f for f in part.features if f.name not in left))


def _taken(part: Part, joined: bool) -> PartProof:
    """A part that the person makes: as drawn, where it is joined to others."""
    solid = None
    if joined:
        with suppress(Exception):  # what cannot be drawn is missed where it is joined
            solid = drawn_solid(part)
    return PartProof(part.name, finished=solid, taken=True)


def _numbered(numbers: Mapping[str, str], unit: Unit, proof: PartProof) -> PartProof:
    """The proof with the setups called as in the route, in the unit of the drawing; it is kept with
    those of the part alone, so that it stands whatever is done in between."""
    return replace(
        proof,
        unit=unit,
        violations=tuple(replace(v, setup=numbers.get(v.setup, "")) for v in proof.violations),
        stages=tuple(replace(s, setup=numbers[s.setup]) for s in proof.stages),
    )


def _answered(
    answer: Future[PartProof], change: Callable[[PartProof], PartProof], part: str
) -> Future[PartProof]:
    """The answer changed, once it has come; one that broke off refuses, and says what broke it."""
    changed: Future[PartProof] = Future()

    def hand_on(done: Future[PartProof]) -> None:
        if done.cancelled():
            changed.cancel()
            return
        wrong = done.exception()
        if wrong is None:
            changed.set_result(change(done.result()))
        elif isinstance(wrong, Exception):
            late = isinstance(wrong, TooLongError)
            told = str(wrong) if late else f"{type(wrong).__name__}: {wrong}"
            what = f"the proof breaks off: {told}"
            broken = Violation(what, part=part, about="time" if late else "proof")
            changed.set_result(PartProof(part, violations=(broken,)))
        else:
            changed.set_exception(wrong)

    answer.add_done_callback(hand_on)
    return changed


def finish(answers: dict[str, Future[PartProof]], progress: Progress | None = None) -> Proof:
    """The whole proof, once every answer has come."""
    parts = []
    for n, (name, answer) in enumerate(answers.items()):
        if progress is not None:
            progress(name, n / len(answers))
        parts.append(answer.result())
    if progress is not None:
        progress("every part", 1.0)
    return Proof(tuple(parts))


def _same(known: PartProof) -> PartProof:
    return known


def _proved(
    part: Part, least_wall: float, bars: tuple[BarPiece, ...], setups: tuple[Setup, ...]
) -> PartProof:
    with told_in(part.unit):
        return prove_part(Job(wanted(part), bars, setups, part.copies, least_wall))


def _piece_of(
    part: Part, least_wall: float, bars: tuple[BarPiece, ...], setups: tuple[Setup, ...]
) -> Solid | None:
    return _proved(part, least_wall, bars, setups).finished


def _proved_whole(
    part: Part,
    least_wall: float,
    record: Fabrication | None,
    setups: tuple[Setup, ...],
    pieces: Mapping[str, Solid | Callable[[], Solid | None] | None],
) -> PartProof:
    want = wanted(part)
    if record is None:
        what = "the route does not say how it is joined"
        return PartProof(part.name, violations=(Violation(what, "plan it anew", part.name),))
    finished = {name: made() if callable(made) else made for name, made in pieces.items()}
    with told_in(part.unit):
        return prove_joined(JoinedJob(want, record, finished, setups, part.copies, least_wall))


def works_of(route: Route, part: Part) -> tuple[tuple[BarPiece, ...], tuple[Setup, ...]]:
    """The bars of a part, and the setups of those bars and of its pieces."""
    bars = tuple(bar for bar in route.bars if bar.part == part.name)
    works = {bar.id for bar in bars} | {part.name}
    return bars, tuple(setup for setup in route.setups if setup.work in works)


def job_of(route: Route, build: Build, part: Part) -> Job | JoinedJob:
    """The job of proving a part; of a fabrication its pieces are cut for it first.

    Raises StopIteration where the route does not say how that is joined.
    """
    bars, setups = works_of(route, part)
    if not part.joined:
        return Job(wanted(part), bars, setups, part.copies, build.least_wall)
    record = next(f for f in route.fabrications if f.part == part.name)
    pieces = [build.part(name) for name in parts_of(record)]
    finished = {
        piece.name: _piece_of(piece, build.least_wall, *works_of(route, piece)) for piece in pieces
    }
    return JoinedJob(wanted(part), record, finished, setups, part.copies, build.least_wall)


def cut_job(
    job: Job | JoinedJob, memory: Memory | None = None
) -> Iterator[Violation | Stage | Finished]:
    """Cut a part or a fabrication, telling as it goes."""
    return cut_joined(job, memory) if isinstance(job, JoinedJob) else cut_part(job, memory)


def prove_part(job: Job) -> PartProof:
    """Prove one part; the worst of its pieces is the one told of."""
    return _told(job.want, cut_part(job))


def prove_joined(job: JoinedJob) -> PartProof:
    """Prove a fabrication, given its pieces as they came out."""
    return _told(job.want, cut_joined(job))


def _told(want: Wanted, telling: Iterator[Violation | Stage | Finished]) -> PartProof:
    violations, stages, worst = list[Violation](), dict[str, Stage](), list[Finished]()
    for told in telling:
        if isinstance(told, Violation):
            violations.append(told)
        elif isinstance(told, Stage):
            stages.setdefault(told.setup, told)
        else:
            worst.append(told)
    faults = tuple(dict.fromkeys(_placed(want, fault) for fault in violations))
    shown = tuple(stages.values())
    if not worst:
        left = want.drawn.volume
        return PartProof(want.part, gouged=left, violations=faults, stages=shown)
    finished = max(worst, key=lambda f: f.comparison.deviation)
    found = finished.comparison
    return PartProof(
        want.part,
        found.deviation,
        found.left,
        found.gouged,
        found.features,
        faults,
        shown,
        finished.solid,
    )


def _placed(want: Wanted, fault: Violation) -> Violation:
    """The violation with the feature it lies nearest to, where it names nothing but a place."""
    if fault.where is None or fault.operation or fault.setup or fault.feature:
        return fault
    x, y, z = fault.where
    spot = box((x - NEAR, y - NEAR, z - NEAR), (x + NEAR, y + NEAR, z + NEAR))
    away = {name: region.distance(spot) for name, region in want.removes.items()}
    near = min(away, key=lambda name: away[name], default="")
    return replace(fault, feature=near) if near and away[near] < BESIDE else fault


def cut_part(job: Job, memory: Memory | None = None) -> Iterator[Violation | Stage | Finished]:
    """Cut the pieces of a part, telling as it goes what is wrong and how the work looks.

    memory: what setups did to works, kept between calls where routes differ only in places.
    """
    memory = {} if memory is None else memory
    none = list(figures.check(job.want.part, *job.bars, *job.setups))
    yield from none
    if none:
        return
    yield from _counts(job)
    for bar in job.bars:
        on_bar = [s for s in job.setups if s.work == bar.id]
        on_piece = [s for s in job.setups if s.work == job.want.part]
        story = bar.model_dump_json()
        drawn = job.want.drawn
        whole = Work(job.want.part, raw(bar), story, drawn, job.least_wall, memory, bar.start)
        yield from whole.through(on_bar)
        sawing = next((s.saws for s in on_bar if s.saws is not None), None)
        try:
            pieces = saw(bar, whole.solid, sawing)
        except ValueError as short:
            yield Violation(
                str(short), "use a longer bar, or saw fewer pieces from it", job.want.part
            )
            continue
        for n, sawn in enumerate(pieces):
            faults = list(_too_small(job.want, sawn.solid))
            yield from faults
            if faults:
                continue
            history = [replace(d, frame=d.frame.then(sawn.shift)) for d in whole.history]
            piece = replace(
                whole, solid=sawn.solid, start=(0.0, 0.0, 0.0), ends=sawn.ends, history=history
            )
            piece.tell(f"piece {n} of {sawing!r}")
            yield from piece.through(on_piece)
            comparison = compare(job.want, piece.solid, piece.history)
            yield from comparison.violations
            yield Finished(piece.solid, comparison)


def cut_joined(
    job: JoinedJob, memory: Memory | None = None
) -> Iterator[Violation | Stage | Finished]:
    """Join the pieces of a fabrication and cut it, telling as it goes like `cut_part`."""
    none = list(figures.check(job.want.part, job.record, *job.setups))
    whole, faults = (nothing(), none) if none else fused(job)
    yield from faults
    if faults:
        return
    work = joined_work(job, whole, {} if memory is None else memory)
    yield from through(work, job)
    comparison = compare(job.want, work.solid, work.history)
    yield from comparison.violations
    yield Finished(work.solid, comparison)


def _counts(job: Job) -> Iterator[Violation]:
    made = sum(b.pieces * (b.count - 1) + (b.last_pieces or b.pieces) for b in job.bars)
    if made < job.copies:
        yield Violation(
            f"only {made} of {job.copies} pieces are cut", "cut another length", job.want.part
        )
    for setup in job.setups:
        if setup.stage == "piece" and setup.copies < job.copies:
            yield Violation(
                f"only {setup.copies} of {job.copies} copies go through it",
                "load every copy",
                job.want.part,
                setup.id,
            )


def _too_small(want: Wanted, piece: Solid) -> Iterator[Violation]:
    (low, high), (floor, roof) = piece.bounds, want.drawn.bounds
    names = ("left", "front", "bottom"), ("right", "back", "top")
    for i in range(3):
        for side, gap in ((0, low[i] - floor[i]), (1, roof[i] - high[i])):
            if gap > ROUNDING:
                yield Violation(
                    f"the stock is too small: {Length(gap):.3f} short on the {names[side][i]}",
                    "use a larger bar",
                    want.part,
                )
