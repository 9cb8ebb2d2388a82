"""Work at the bench and at the saw."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.route import Setup
from barstock.words.holding.way_in_words import WayInWords
from barstock.words.lines import Line
from barstock.words.reader import Reader


class HeldByHand(WayInWords):
    """Work held by hand tools' vise, for which nothing is set up but the vise itself."""

    def held(self, setup: Setup, reader: Reader) -> Iterator[tuple[str, str]]:
        yield "Held in", setup.holding.device

    def steps(self, setup: Setup, reader: Reader) -> Iterator[Line]:
        yield from ()


WAYS = {"bench vise": HeldByHand(), "saw vise": HeldByHand()}
