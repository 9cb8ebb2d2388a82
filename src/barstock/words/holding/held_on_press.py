"""Work in a vise on the drill press."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.route import Setup
from barstock.words.holding.way_in_words import WayInWords
from barstock.words.lines import Line, line
from barstock.words.reader import Reader


class HeldOnPress(WayInWords):
    """Work in a vise that slides on the press's table: each drill finds its own spot."""

    def steps(self, setup: Setup, reader: Reader) -> Iterator[Line]:
        yield line(
            "Stand the vise on the drill press's table, free to slide, with a bolt or stop beside "
            "it that keeps it from turning with the drill; set speed and depth stop, so that the "
            "drill goes clear through but not into the table"
        )


WAYS = {"drill press": HeldOnPress()}
