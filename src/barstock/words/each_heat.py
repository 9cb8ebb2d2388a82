"""A heat in words: how the work lies, what melts when, where filler must not go, the torch."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from barstock.drawing.faces import Face
from barstock.route import (
    Heat,
    HeatHolding,
    Melt,
    MeltKind,
    NoFiller,
    NoFillerKind,
    TorchCan,
)
from barstock.words.filling_in import Sentence, filled
from barstock.words.reader import Reader

HOLDINGS: Mapping[HeatHolding, str] = {
    HeatHolding.ON_FIXTURE: "on the fixture",
    HeatHolding.AGAINST_PINS: "on the fixture, level, against its pins",
    HeatHolding.UPRIGHT: "level on the hearth, the round pieces upright in their holes",
    HeatHolding.FREE: "standing free",
}

MELTS: Mapping[MeltKind, str] = {
    MeltKind.FLUX_WORKS: "{metal} runs clear and works",
    MeltKind.BEGINS: "{of}: {metal} begins to melt",
    MeltKind.FLOWS: "{of}: {metal} flows",
    MeltKind.AGAIN_HELD: "{of}, made before: {metal} melts again, held",
    MeltKind.AGAIN: "{of}, made before: {metal} would melt again",
    MeltKind.FLUX_SPENT: "{metal} is spent",
    MeltKind.PIECE: "{of} itself begins to melt ({metal})",
}

TORCH: Mapping[TorchCan, str] = {
    TorchCan.YES: "yes",
    TorchCan.MARGINAL: "marginal",
    TorchCan.NO: "no",
}
"""Whether it can bring the work to heat before the flux is spent."""


def _round_joints(told: NoFiller, reader: Reader) -> str:
    beside = reader.length(told.lengths["beside"])
    return f"all round {' and '.join(told.joints)}, from {beside} beside the joint"


NO_FILLER: Mapping[NoFillerKind, Sentence[NoFiller]] = {
    NoFillerKind.ROUND_JOINTS: _round_joints,
    NoFillerKind.SCREWS: "every fixing screw: thread, head and the hole it goes into",
    NoFillerKind.FIXTURE_FACE: "the fixture's face under the {under}, and its holes",
    NoFillerKind.FIXTURE_FACE_AND_PINS: "the fixture's face under the {under}, its holes and pins",
    NoFillerKind.FIXTURE_SIDES: "every face of the fixture that the work lies against, its holes "
    "and pins",
}


def attitude(up: Sequence[Face]) -> str:
    """The words for how the work lies, by the face that looks up or the two whose edge does.

    >>> attitude((Face.TOP,)), attitude((Face.TOP, Face.FRONT))
    ('top up', 'top and front up, propped at 45°')
    """
    propped = ", propped at 45°" if len(up) > 1 else ""
    return f"{' and '.join(up)} up{propped}"


def melt(told: Melt) -> str:
    """The words for what happens at a temperature."""
    return MELTS[told.kind].format(of=told.of, metal=told.metal)


def no_filler(told: NoFiller, reader: Reader) -> str:
    """The words for where filler must not go."""
    return filled(NO_FILLER[told.kind], told, reader)


def takes(heat: Heat) -> str:
    """The words for how long the torch takes, and whether it is of the size for it."""
    least, most = heat.minutes
    torch = f"{heat.power / 1000:.1f} kW: {TORCH[heat.can]}"
    return f"{least:.1f} to {most:.1f} minutes with {torch} (order of magnitude)"
