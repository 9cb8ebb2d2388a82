"""Every setup's work in the round, kept by the readings it is cut by."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import Future
from functools import partial
from pathlib import Path

from barstock import pack, proving, solids
from barstock.pack.illustrate import made_by
from barstock.pack.kept import Kept, digest, program
from barstock.planning.route import BarPiece, Fabrication, Route, Setup
from barstock.proving.record import Proof
from barstock.solids.hands import Hands
from barstock.solids.shapes import Placement, Solid, nothing

FOLDER = "round"


def turned(route: Route, proof: Proof, cache: Path, hands: Hands) -> dict[str, Future[Path]]:
    """Has the works of each part cut step by step; a folder of files for each, by the part's name.

    proof: of this route, found good; it has the pieces of fabrications.
    """
    source = program(pack) + program(proving) + program(solids)
    finished = {one.part: one.finished for one in proof.parts if one.finished is not None}
    asked = {}
    for part in finished:
        bars, setups = _works(route, part)
        whole = next((one for one in route.fabrications if one.part == part), None)
        made = made_by(route, part)
        if whole is not None:
            made += [str(piece) for piece in whole.pieces]
            made += [text for piece in whole.pieces for text in made_by(route, piece.part)]
        pieces = {p.part: finished[p.part] for p in whole.pieces} if whole else {}
        cut = partial(_cut, part, bars, setups, whole, pieces)
        kept = Kept(cache / "rounds", digest(*made, source), cut, f"{part} in the round")
        asked[part] = kept.asked(hands)
    return asked


def write_rounds(out: Path, route: Route, turned: Mapping[str, Path]) -> list[Path]:
    """Put them into the output folder, a file named after each setup; the files. Raises OSError."""
    place = out / FOLDER
    place.mkdir()
    written = []
    for part, kept in turned.items():
        for n, setup in enumerate(_works(route, part)[1]):
            path = round_file(out, setup.id)
            path.write_bytes((kept / str(n)).read_bytes())
            written.append(path)
    return written


def round_file(out: Path, setup: str) -> Path:
    """Where a setup's work in the round is kept in the output folder."""
    return out / FOLDER / f"setup-{setup}.gz"


def _works(route: Route, part: str) -> tuple[list[BarPiece], list[Setup]]:
    bars = [bar for bar in route.bars if bar.part == part]
    setups = [s for bar in bars for s in route.setups if s.work == bar.id]
    return bars, setups + [s for s in route.setups if s.work == part]


def _cut(
    part: str,
    bars: Sequence[BarPiece],
    setups: Sequence[Setup],
    whole: Fabrication | None,
    pieces: Mapping[str, Solid],
    folder: Path,
) -> None:
    from barstock.pack.in_the_round import in_the_round
    from barstock.proving.step_by_step import Worked, from_bars, from_solid

    def worked() -> Iterator[Worked]:
        if whole is None:
            yield from from_bars(bars, setups, part)
        else:
            standing = [
                pieces[p.part].moved(Placement((p.rows[0], p.rows[1], p.rows[2]), p.shift))
                for p in whole.pieces
            ]
            yield from from_solid(nothing().fuse(*standing), setups)

    for one in worked():
        (folder / str(setups.index(one.setup))).write_bytes(in_the_round(one))
