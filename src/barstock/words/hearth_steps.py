"""The steps at the hearth that join a fabrication, in words."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from barstock.route import Fabrication, HearthStep, HearthStepKind
from barstock.words.each_heat import attitude
from barstock.words.filling_in import filled, joined
from barstock.words.reader import Reader
from barstock.words.size_figures import limits

Words = str | Callable[[HearthStep, Fabrication, Reader], str]
"""A template with the names of the step's figures, and what it is done to, `of`; or a function
where that does not do."""


def _try_gaps(step: HearthStep, one: Fabrication, reader: Reader) -> str:
    ends = sorted({(joint.gap_least, joint.gap_most) for joint in one.joints})
    gaps = ", ".join(limits(*both, reader.unit) for both in ends)
    return f"Fit the pieces up dry and try the gaps with a feeler: {gaps}."


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
    HearthStepKind.SCREW_BETWEEN: "Put {block} against {of}, all down on it, and screw them to "
    f"it: in each of its faces {_NIPPED}",
    HearthStepKind.SCREW_AGAINST_PINS: f"{_DOWN}push it against the pins, {_NIPPED}",
    HearthStepKind.KEEP_AT_PINS: "Keep {of} against the pins with binding wire or a weight.",
    HearthStepKind.STAND_IN_HOLE: "Stand {inner} in {outer}/{into}, true by a square; three light "
    "centre-punch dots round it, as high as the gap, keep it in the middle.",
    HearthStepKind.BLOCK_SLOPES: "Lay {of} along a straight edge and block both ends: the slopes "
    "of {joint} slide on each other, the gap closes and the whole comes out short.",
    HearthStepKind.CHECK: "Check the work with a square and over its length.",
    HearthStepKind.SCREW_AND_CHECK: "Put in the screws from piece to piece and check the work with "
    "a square and over its length.",
    HearthStepKind.BLOCK_FROM_ACID: "Keep {block} and every steel screw out of the acid: brush the "
    "flux off them with hot water, dry them warm.",
    HearthStepKind.PICKLE_AGAIN: "Pickle {of}, with no iron in the bath, tongs and screws "
    "included, until flux and scale are gone; rinse, brush, dry: the list of cleaning says how.",
    HearthStepKind.SOAK_AGAIN: "Soak {of} in hot water and brush the flux off: steel keeps out of "
    "acid.",
    HearthStepKind.FLUX_AGAIN: "Brighten {of} again where scale has grown, paint the anti-flow "
    "mark anew where it has gone, let it dry; flux anew.",
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
    if not isinstance(words, str):
        return words(step, one, reader)
    names = {**step.names, "of": joined(step.of)}
    return filled(words, step.model_copy(update={"names": names}), reader)
