"""Work screwed down on a fixture block through its own holes."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.quantities import figure, show
from barstock.route import BodyKind, Setup
from barstock.words.holding.way_in_words import WayInWords, apart, on_parallels
from barstock.words.lines import Line, Reading, line, value
from barstock.words.reader import Reader


class HeldOnBlock(WayInWords):
    """Work screwed down on a block that the vise grips."""

    def held(self, setup: Setup, reader: Reader) -> Iterator[tuple[str, str]]:
        h = setup.holding
        screws = " and ".join(screw.thread for screw in h.of(BodyKind.SCREW))
        base = on_parallels(h, reader) or "the vise bed"
        yield "Held on", f"a fixture block, screwed down through its own holes by {screws}"
        yield "Block in", f"{h.device}, jaws {apart(h, reader)} apart, on {base}"
        yield "Up", h.up.value
        yield "Towards you", h.fixed_jaw.opposite.value

    def steps(self, setup: Setup, reader: Reader) -> Iterator[Line]:
        """The steps of making the block, in the unit that the machine is dialled in, and of
        screwing the work down true on it.
        """
        (block,), screws = (setup.holding.of(k) for k in (BodyKind.BLOCK, BodyKind.SCREW))
        unit = reader.dial_unit
        size = " x ".join(show(mm, unit) for mm in block.size)
        verb = "Make a fixture block" if block.made else "Take the fixture block"
        yield line(f"{verb}, {size}, its top milled clean; drill and tap it right through")
        for n, screw in enumerate(screws, 1):
            yield line(
                f"Hole {n}, {screw.thread}",
                *(
                    Reading(label, "", (value(figure(at, unit), unit.sign),))
                    for label, at in (
                        ("from its left", screw.middle[0] - block.low[0]),
                        ("from its front", screw.middle[1] - block.low[1]),
                    )
                ),
            )
        heads = " and ".join(dict.fromkeys(show(screw.size[0], unit) for screw in screws))
        yield line(
            "Screw the work down lightly, bring its back edge true along X with a dial indicator, "
            f"tighten; screw heads or washers no wider than {heads}"
        )
        yield line("The screws do not bring the next piece to the same place: find zero afresh")


WAYS = {"fixture block": HeldOnBlock()}
