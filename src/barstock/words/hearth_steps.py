"""The steps at the hearth that join a fabrication, in words."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from barstock.route import Fabrication, HearthStep, HearthStepKind
from barstock.words.each_heat import attitude
from barstock.words.filling_in import filled, joined
from barstock.words.reader import Reader
from barstock.words.size_figures import limits

Words = str | Callable[[HearthStep, Fabrication, Reader], str]
"""A template with the names of the step's figures, or a function where that does not do."""


def _try_gaps(step: HearthStep, one: Fabrication, reader: Reader) -> str:
    ends = sorted({(joint.gap_least, joint.gap_most) for joint in one.joints})
    gaps = ", ".join(limits(*both, reader.unit) for both in ends)
    return f"Fit the pieces up dry and try the gaps with a feeler: {gaps}."


def _keep_at_pins(step: HearthStep, one: Fabrication, reader: Reader) -> str:
    return f"Keep {' and '.join(step.of)} against the pins with binding wire or a weight."


def _pickle_again(step: HearthStep, one: Fabrication, reader: Reader) -> str:
    return (
        f"Pickle {joined(step.of)}, with no iron in the bath, tongs and screws included, until "
        "flux and scale are gone; rinse, brush, dry: the list of cleaning says how."
    )


def _soak_again(step: HearthStep, one: Fabrication, reader: Reader) -> str:
    return f"Soak {joined(step.of)} in hot water and brush the flux off: steel keeps out of acid."


def _flux_again(step: HearthStep, one: Fabrication, reader: Reader) -> str:
    return (
        f"Brighten {joined(step.of)} again where scale has grown, paint the anti-flow mark anew "
        "where it has gone, let it dry; flux anew."
    )


def _block_slopes(step: HearthStep, one: Fabrication, reader: Reader) -> str:
    return (
        f"Lay {' and '.join(step.of)} along a straight edge and block both ends: the slopes of "
        f"{step.names['joint']} slide on each other, the gap closes and the whole comes out short."
    )


def _heat(step: HearthStep, one: Fabrication, reader: Reader) -> str:
    heat = next(heat for heat in one.heats if heat.number == step.heat)
    joints = " and ".join(heat.joints)
    return f"Heat {heat.number}: {joints}, {attitude(heat.attitude)}, to {heat.working:g} °C."


def _cool(step: HearthStep, one: Fabrication, reader: Reader) -> str:
    fastened = ["the fixture"] * any(heat.on_fixture for heat in one.heats)
    fastened += ["every screw that comes out"] * bool(one.screws)
    undo = f"; undo {' and '.join(fastened)}" if fastened else ""
    return f"Let it cool by itself{undo}."


_NIPPED = "the locating screw tight, the others just nipped, free to slide as it grows."


def _screw_between(step: HearthStep, one: Fabrication, reader: Reader) -> str:
    beside = " and ".join(step.of)
    return f"Put {step.names['block']} against {beside}, all down on it, and screw them to it: " + (
        "in each of its faces " + _NIPPED
    )


_DOWN = "Screw the work to {block}, its {under} on the block: "

STEPS: Mapping[HearthStepKind, Words] = {
    HearthStepKind.BRIGHTEN: "Clean every joint to bright metal and degrease; do not touch the "
    "faces again.",
    HearthStepKind.TRY_GAPS: _try_gaps,
    HearthStepKind.PAINT: "Paint an anti-flow mark where filler must not go, let it dry; then flux "
    "the joints.",
    HearthStepKind.PUT_PINS: "Put {count:.0f} pins of {size} steel rod, {long} long, into {block}, "
    "{tall} out of its top and free to turn.",
    HearthStepKind.SCREW_DOWN: f"{_DOWN}{_NIPPED}",
    HearthStepKind.SCREW_BETWEEN: _screw_between,
    HearthStepKind.SCREW_AGAINST_PINS: f"{_DOWN}push it against the pins, {_NIPPED}",
    HearthStepKind.KEEP_AT_PINS: _keep_at_pins,
    HearthStepKind.STAND_IN_HOLE: "Stand {inner} in {outer}/{into}, true by a square; three light "
    "centre-punch dots round it, as high as the gap, keep it in the middle.",
    HearthStepKind.BLOCK_SLOPES: _block_slopes,
    HearthStepKind.CHECK: "Check the work with a square and over its length.",
    HearthStepKind.SCREW_AND_CHECK: "Put in the screws from piece to piece and check the work with "
    "a square and over its length.",
    HearthStepKind.BLOCK_FROM_ACID: "Keep {block} and every steel screw out of the acid: brush the "
    "flux off them with hot water, dry them warm.",
    HearthStepKind.PICKLE_AGAIN: _pickle_again,
    HearthStepKind.SOAK_AGAIN: _soak_again,
    HearthStepKind.FLUX_AGAIN: _flux_again,
    HearthStepKind.HEAT: _heat,
    HearthStepKind.COOL: _cool,
    HearthStepKind.CLEAN: "Clean it: see the list of cleaning.",
    HearthStepKind.SAW_SCREWS: "Saw the remains of the screws off flush.",
    HearthStepKind.LOOK: "Look all round every joint for a bright unbroken fillet; do it again "
    "where it is not.",
}


def hearth_step(step: HearthStep, one: Fabrication, reader: Reader) -> str:
    """The words for one step of a fabrication's joining."""
    words = STEPS[step.kind]
    return filled(words, step, reader) if isinstance(words, str) else words(step, one, reader)
