"""Round work in a V-block: lying in it under its clamp, or standing between it and a jaw."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.quantities import show
from barstock.route import Body, BodyKind, Holding, Setup
from barstock.words.holding.way_in_words import (
    WayInWords,
    middle_anew,
    on_parallels,
    stop,
    turned,
)
from barstock.words.lines import Line
from barstock.words.reader import Reader
from barstock.words.size_figures import settable


class Lying(WayInWords):
    """Work lying in a block that the jaws grip, held down by a clamp."""

    def held(self, setup: Setup, reader: Reader) -> Iterator[tuple[str, str]]:
        h = setup.holding
        (vee,) = h.of(BodyKind.V_BLOCK)
        mouth, start = show(vee.mouth, reader.unit), show(abs(vee.low[0]), reader.unit)
        way = "right" if vee.low[0] >= 0 else "left"
        on = on_parallels(h, reader) or "the vise bed"
        yield "Held in", f"a V-block with its clamp, gripped in {h.device} on {on}"
        yield (
            "V-block",
            f"{show(vee.size[0], reader.unit)} long, its {mouth} V up; its left end {start} to "
            f"the {way} of the stop; the clamp {_clamped(h, vee)}",
        )
        yield "Up", h.up.value
        yield "Fixed jaw", h.fixed_jaw.value
        yield "Stop", stop(setup, reader)

    def steps(self, setup: Setup, reader: Reader) -> Iterator[Line]:
        yield from turned(setup.holding, "in the V")


class Standing(WayInWords):
    """Work standing in a block that the moving jaw presses to the fixed one."""

    def held(self, setup: Setup, reader: Reader) -> Iterator[tuple[str, str]]:
        h = setup.holding
        (vee,) = h.of(BodyKind.V_BLOCK)
        yield "Held in", f"{h.device}, a V-block between the work and the moving jaw"
        long, mouth = show(vee.size[2], reader.unit), show(vee.mouth, reader.unit)
        yield "V-block", f"{long} long, its {mouth} V upright, on the vise bed"
        yield "Up", h.up.value
        yield "Fixed jaw", h.fixed_jaw.value
        yield "Rests on", on_parallels(h, reader) or "the vise bed"
        yield "Grip", settable(h.grip, reader.unit)

    def steps(self, setup: Setup, reader: Reader) -> Iterator[Line]:
        yield from turned(setup.holding, "in the V")
        yield from middle_anew(setup)


def _clamped(h: Holding, vee: Body) -> str:
    (clamp,) = h.of(BodyKind.CLAMP)
    share = (clamp.low[0] - vee.low[0]) / vee.size[0]
    middle = clamp.middle[0] - vee.middle[0]
    if abs(middle) < 1.0:
        return "in its middle"
    return "at its left end" if share < 0.5 else "at its right end"


WAYS = {"V-block, lying": Lying(), "V-block, standing": Standing()}
