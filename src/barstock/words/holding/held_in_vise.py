"""Work gripped in the vise, along the jaws or standing on end; round work lying between them."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.route import Setup
from barstock.words.holding.way_in_words import WayInWords, on_parallels, turned
from barstock.words.lines import Line
from barstock.words.reader import Reader


class RoundWork(WayInWords):
    """Round work, which the parallels at the jaws would not carry."""

    def held(self, setup: Setup, reader: Reader) -> Iterator[tuple[str, str]]:
        h = setup.holding
        out = ", drawn out lengthwise once tight" if h.parallels_out else ""
        on = f"one of the {on_parallels(h, reader)}, under the middle of the round{out}"
        for label, words in super().held(setup, reader):
            yield label, on if label == "Rests on" and h.parallels else words

    def steps(self, setup: Setup, reader: Reader) -> Iterator[Line]:
        yield from turned(setup.holding, "between the jaws")
        yield from super().steps(setup, reader)


WAYS = {"vise": WayInWords(), "on end": WayInWords(), "vise, round work": RoundWork()}
