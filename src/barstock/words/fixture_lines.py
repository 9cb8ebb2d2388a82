"""The lines on a fixture's block: what it holds and locates."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.route import FixtureBlock, LocatedPiece, PitchHeld
from barstock.words.reader import Reader

SAME = 0.005  # a pitch that changes by less comes out as set [mm]


def block_lines(block: FixtureBlock, reader: Reader) -> Iterator[str]:
    """The lines on the block, what locates each piece on it, and what becomes of the pitch it
    holds.
    """
    stands = f"the {block.under} of the work lies on it"
    if block.beside:
        stands = f"it goes in from the {block.under}, against {' and '.join(dict(block.beside))}"
    yield f"{block.part}, {block.material}: {stands}."
    for one in block.locates:
        words = _located(one)
        yield f"{words[0].upper()}{words[1:]}."
    if block.pitch is not None:
        yield f"The pitch the block holds {_pitch(block.pitch, reader)}."


def _located(told: LocatedPiece) -> str:
    found = []
    if told.screws:
        found.append(f"by its screw{'s' * (told.screws > 1)} in the block")
    if told.pins:
        found.append(f"pushed against the pins at its {' and '.join(told.pins)}")
    if told.lies_in:
        found.append(f"it lies in {told.lies_in}")
    if told.screwed_to:
        found.append(f"by its screws to {' and '.join(told.screwed_to)}")
    if told.shimmed_to:
        found.append(f"against {' and '.join(told.shimmed_to)} with shims as thick as the gap")
    if told.free:
        found.append("free to turn or slide: set it with a square")
    return f"{told.piece}: {', '.join(found)}"


def _pitch(told: PitchHeld, reader: Reader) -> str:
    if abs(told.change) < SAME:
        return "comes out as set"
    how = "spreads" if told.change > 0 else "closes up"
    by, cold = reader.hundredth(abs(told.change)), reader.hundredth(told.set_cold)
    return f"{how} by {by}; set {cold} cold"
