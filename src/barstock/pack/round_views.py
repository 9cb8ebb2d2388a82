"""A setup's work in the round is made when first looked at, and kept by the readings
it is cut by.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from pathlib import Path

from barstock.pack.illustrate import made_by
from barstock.route import BarPiece, Fabrication, Route, Setup
from barstock.solids.shapes import Placement, nothing
from barstock.store.content import key
from barstock.store.kept_folders import Kept

FOLDER = "rounds"


def turned(route: Route, part: str, cache: Path) -> Kept:
    """The folder of the works of a part cut step by step, with a file for each of its setups.

    A route that cannot be cut raises ValueError, ArithmeticError when it is made; one proved can.
    """
    whole = next((one for one in route.fabrications if one.part == part), None)
    made = made_by(route, part)
    pieces = {}
    if whole is not None:
        made += [str(piece) for piece in whole.pieces]
        made += [text for piece in whole.pieces for text in made_by(route, piece.part)]
        pieces = {piece.part: _works(route, piece.part) for piece in whole.pieces}
    cut = partial(_cut, part, *_works(route, part), whole, pieces)
    return Kept(cache / FOLDER, key(*made), cut, f"{part} in the round")


def file_of(route: Route, setup: Setup) -> tuple[str, str]:
    """The part whose works hold a setup's, and the name of its file among them."""
    bars = {bar.id: bar.part for bar in route.bars}
    part = bars.get(setup.work, setup.work)
    return part, str(_works(route, part)[1].index(setup))


def _works(route: Route, part: str) -> tuple[list[BarPiece], list[Setup]]:
    bars = [bar for bar in route.bars if bar.part == part]
    setups = [s for bar in bars for s in route.setups if s.work == bar.id]
    return bars, setups + [s for s in route.setups if s.work == part]


def _cut(
    part: str,
    bars: Sequence[BarPiece],
    setups: Sequence[Setup],
    whole: Fabrication | None,
    pieces: Mapping[str, tuple[list[BarPiece], list[Setup]]],
    folder: Path,
) -> None:
    from barstock.pack.in_the_round import in_the_round
    from barstock.proving.step_by_step import Worked, finished, from_bars, from_solid

    def worked() -> Iterator[Worked]:
        if whole is None:
            yield from from_bars(bars, setups, part)
        else:
            ends = {name: finished(*works, name) for name, works in pieces.items()}
            standing = [
                ends[p.part].moved(Placement((p.rows[0], p.rows[1], p.rows[2]), p.shift))
                for p in whole.pieces
            ]
            yield from from_solid(nothing().fuse(*standing), setups)

    for one in worked():
        (folder / str(setups.index(one.setup))).write_bytes(in_the_round(one))
