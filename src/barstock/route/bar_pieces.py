"""Lengths of bar cut from the rack, sawn into pieces."""

from __future__ import annotations

from typing import Literal

from barstock.route.record import Record


class BarPiece(Record):
    """A length of bar cut from the rack's stock, sawn into `pieces` of `part`; `count` such lengths
    (the last only with `last_pieces` where that is not 0).

    start: where the piece's frame lies in the bar's: the part's y, z of the raw section's front
    bottom corner, and x of a sawn piece's left end (all <= 0) [mm].
    """

    id: str
    part: str
    material: str
    stock: str
    shape: Literal["rectangle", "round"]
    width: float
    height: float
    length: float
    pieces: int
    count: int = 1
    last_pieces: int = 0
    start: tuple[float, float, float] = (0.0, 0.0, 0.0)
    to_buy: bool = False
