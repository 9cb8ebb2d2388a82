"""Small work on end in a toolmaker's clamp block."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.route import BodyKind, Setup
from barstock.words.holding.way_in_words import WayInWords, rest, sides
from barstock.words.lines import Line, line
from barstock.words.reader import Reader


class HeldInClampBlock(WayInWords):
    """The block stays on the table; each copy is screwed into it."""

    def held(self, setup: Setup, reader: Reader) -> Iterator[tuple[str, str]]:
        h = setup.holding
        yield "Held in", "the clamp block on the table, by its screw"
        yield "Up", h.up.value
        yield "Block's back", h.fixed_jaw.value
        yield "Left-hand wall", sides(h.up, h.fixed_jaw)[0].value
        yield "Rests on", rest(h, reader)

    def steps(self, setup: Setup, reader: Reader) -> Iterator[Line]:
        (screw,) = setup.holding.of(BodyKind.SCREW)
        yield line(
            "Bolt the clamp block to the table, the face of its back true along X by a dial "
            "indicator, its screw above the table",
            reader.set_roughly("middle of the screw", screw.middle[2]),
        )
        yield line(
            "Stand the work in it, flat against back and left-hand wall; tighten the screw, then "
            "try by hand that the work does not rock"
        )


WAYS = {"clamp block": HeldInClampBlock()}
