"""The proof: cut every bar by the route's numbers, check each setup, compare with the drawing."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from barstock.drawing.model import Build
from barstock.planning.route import BarPiece, Route, SawOff, Setup
from barstock.proving import holding, order, reach, walls
from barstock.proving.compare import Wanted, compare, wanted
from barstock.proving.cutting import Done, hold, perform, raw, saw
from barstock.proving.record import PartProof, Proof, Stage, Violation
from barstock.proving.stored import key_of, read_proof, write_proof
from barstock.solids.shapes import Solid, together

Progress = Callable[[str, float], None]


def prove(
    route: Route,
    build: Build,
    *,
    progress: Progress | None = None,
    cache: Path | None = None,
) -> Proof:
    """Prove a route against its build.

    progress: told what is being proved and the share done, 0 to 1. cache: a folder to keep proofs
    of parts in; a part whose bar, setups and drawing have not changed is read from there.
    """
    parts = []
    for n, part in enumerate(build.parts):
        if progress is not None:
            progress(part.name, n / len(build.parts))
        bars = [bar for bar in route.bars if bar.part == part.name]
        works = {bar.id for bar in bars} | {part.name}
        setups = [setup for setup in route.setups if setup.work in works]
        key = key_of(part, build.least_wall, bars, setups)
        known = read_proof(cache, key) if cache else None
        if known is None:
            known = prove_part(wanted(part), bars, setups, part.copies, build.least_wall)
            if cache:
                write_proof(cache, key, known)
        parts.append(known)
    if progress is not None:
        progress("", 1.0)
    return Proof(tuple(parts))


def prove_part(
    want: Wanted, bars: list[BarPiece], setups: list[Setup], copies: int, least_wall: float
) -> PartProof:
    """Prove one part: `setups` are those of its bars and of its pieces, in order."""
    shop = _Shop(want.part, least_wall, walls.least(want.drawn)[0])
    shop.violations += list(_counts(want.part, bars, setups, copies))
    result: PartProof | None = None
    for bar in bars:
        for finished, history in shop.make(want, bar, setups):
            found = compare(want, finished, history)
            shop.violations += found.violations
            if result is None or found.deviation > result.deviation:
                result = PartProof(
                    want.part,
                    found.deviation,
                    found.left,
                    found.gouged,
                    found.features,
                    finished=finished,
                )
    if result is None:
        result = PartProof(want.part, left=want.drawn.volume)
        if not shop.violations:
            shop.fault("nothing is made of it", "give it a bar")
    return PartProof(
        result.part,
        result.deviation,
        result.left,
        result.gouged,
        result.features,
        tuple(dict.fromkeys(shop.violations)),
        tuple(shop.stages.values()),
        result.finished,
    )


def _counts(
    part: str, bars: list[BarPiece], setups: list[Setup], copies: int
) -> Iterator[Violation]:
    made = sum(b.pieces * (b.count - 1) + (b.last_pieces or b.pieces) for b in bars)
    if made < copies:
        yield Violation(f"only {made} of {copies} pieces are cut", "cut another length", part=part)
    for setup in setups:
        if setup.stage == "piece" and setup.copies < copies:
            yield Violation(
                f"only {setup.copies} of {copies} copies go through {setup.title}",
                "load every copy",
                part=part,
                setup=setup.id,
            )


@dataclass
class _Shop:
    """The works of one part as they go through the shop."""

    part: str
    least_wall: float
    drawn_wall: float
    violations: list[Violation] = field(default_factory=list)
    stages: dict[str, Stage] = field(default_factory=dict)

    def fault(self, what: str, mend: str = "", setup: str = "", operation: str = "") -> None:
        self.violations.append(Violation(what, mend, self.part, setup, operation))

    def make(
        self, want: Wanted, bar: BarPiece, setups: list[Setup]
    ) -> Iterator[tuple[Solid, list[Done]]]:
        """Each different piece of a bar, finished, with all that was done to it."""
        on_bar = [s for s in setups if s.work == bar.id]
        moves = [m for s in on_bar for o in s.operations for m in o.moves]
        sawing = next((m for m in moves if isinstance(m, SawOff)), None)
        done: list[Done] = []
        work = self._through(raw(bar), on_bar, done, None)
        try:
            pieces = saw(bar, work, sawing)
        except ValueError as short:
            self.fault(str(short), "use a longer bar, or saw fewer pieces from it")
            return
        for piece in pieces:
            if not self._large_enough(want, piece.solid):
                continue
            history = [replace(d, frame=d.frame.then(piece.shift)) for d in done]
            on_piece = [s for s in setups if s.work == self.part]
            yield self._through(piece.solid, on_piece, history, piece.ends), history

    def _large_enough(self, want: Wanted, piece: Solid) -> bool:
        (low, high), (floor, roof) = piece.bounds, want.drawn.bounds
        names = ("left", "front", "bottom"), ("right", "back", "top")
        short = [
            (names[side][i], gap)
            for i in range(3)
            for side, gap in ((0, low[i] - floor[i]), (1, roof[i] - high[i]))
            if gap > 1e-3
        ]
        for name, gap in short:
            self.fault(
                f"the stock is too small: {gap:.3f} mm short on the {name}", "use a larger bar"
            )
        return not short

    def _through(
        self,
        work: Solid,
        setups: list[Setup],
        history: list[Done],
        ends: tuple[float, float] | None,
    ) -> Solid:
        for setup in setups:
            if any(isinstance(m, SawOff) for o in setup.operations for m in o.moves):
                continue
            try:
                held = hold(setup, work)
            except ValueError as fault:
                self.fault(str(fault), "turn the work another way", setup.id)
                continue
            here, fresh = held.work, list[Solid]()
            found: list[Violation] = []
            earlier = list(history)
            for operation in setup.operations:
                try:
                    done = perform(held, here, operation)
                except ValueError as fault:
                    self.fault(str(fault), "look at its readings", setup.id, operation.id)
                    continue
                if operation.moves and done.removed.empty:
                    self.fault(
                        f"{operation.title} cuts nothing",
                        "leave it out, or look at its readings",
                        setup.id,
                        operation.id,
                    )
                for fault_found in (*reach.check(held, done), *order.check(done)):
                    found.append(fault_found.at(self.part, setup.id, operation.id))
                here = done.after
                fresh += done.removed.lumps()
                history.append(done)
            gone = together(fresh)
            found += holding.check(held, here, earlier)
            if ends is not None:
                found += holding.sawn_zeros(held, ends)
            found += walls.check(held, here, gone, self.least_wall, self.drawn_wall)
            self.violations += [v.at(self.part, setup.id) for v in found]
            self.stages.setdefault(
                setup.id, Stage(self.part, setup.id, here, gone, held.placement, held.opening)
            )
            work = here.moved(held.placement.inverse())
        return work
