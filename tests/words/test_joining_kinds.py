"""Everything a route tells of joining has its words, in millimetres and in inches."""

from __future__ import annotations

import re
from collections.abc import Callable
from enum import StrEnum
from typing import Any

import pytest

from barstock.drawing.build import Face
from barstock.drawing.part import Form
from barstock.quantities import Unit
from barstock.route import (
    Cleaning,
    Fabrication,
    FixtureBlock,
    GapKind,
    GapSetBy,
    GapSize,
    HandCleaning,
    HearthStep,
    HearthStepKind,
    Heat,
    HeatHolding,
    HeatReason,
    HeatReasonKind,
    JointToMake,
    LocatedPiece,
    Melt,
    MeltKind,
    NoFiller,
    NoFillerKind,
    PitchHeld,
    TorchCan,
)
from barstock.route.record import Statement
from barstock.words.cleaning import cleaned
from barstock.words.each_heat import HOLDINGS, TORCH, melt, no_filler
from barstock.words.fewer_heats import reason
from barstock.words.fixture_lines import block_lines
from barstock.words.hearth_steps import hearth_step
from barstock.words.joint_gaps import gap_set_by
from barstock.words.reader import Reader

from .both_units import IN_MM, Told, in_both_units, one_of_each

IN_INCHES = re.compile(r"\d in\b")
HEAT = Heat(
    number=1,
    joints=("root",),
    holding=HeatHolding.ON_FIXTURE,
    on_fixture=True,
    attitude=(Face.TOP, Face.FRONT),
    up=(0.0, -0.5, 0.5),
    working=680.0,
    held=("foot",),
    fluxed=("root",),
    flame=("foot",),
    feeds={"root": (Face.TOP,)},
    melts=(),
    minutes=(1.0, 2.0),
    power=7700.0,
    can=TorchCan.YES,
)
STAND = Fabrication(
    part="stand",
    copies=1,
    pieces=(),
    joints=(
        JointToMake(
            name="root",
            pieces=("foot", "post"),
            form=Form.TEE,
            at=(0.0, 0.0, 0.0),
            low=(0.0, 0.0, 0.0),
            high=(1.0, 1.0, 0.0),
            side=Face.TOP,
            alloy="Ag 155",
            gap_least=0.05,
            gap_most=0.1,
            rod=1.5,
            rod_length=20.0,
        ),
    ),
    heats=(HEAT,),
)
GROOVE = GapSize(
    name="foot groove width",
    text="8.2 +0.04/0",
    unit=Unit.MM,
    low=8.2,
    nominal=8.2,
    high=8.24,
    opens=True,
    half=True,
)
LEFT = {"least": 0.1, "most": 0.15}
BOTH = {"joints": ("root", "cap")}
TOO_HOT = BOTH | {
    "names": {"about": "root", "metal": "Ag 155"},
    "numbers": {"limit": 660.0, "working": 800.0},
}

FIGURES: dict[StrEnum, dict[str, Any]] = {
    HearthStepKind.PUT_PINS: {
        "numbers": {"count": 2},
        "lengths": {"size": 3.0, "long": 18.0, "tall": 6.0},
        "names": {"block": "block"},
    },
    HearthStepKind.SCREW_DOWN: {"names": {"block": "block", "under": "bottom"}},
    HearthStepKind.SCREW_AGAINST_PINS: {"names": {"block": "block", "under": "bottom"}},
    HearthStepKind.SCREW_BETWEEN: {"of": ("rib", "root"), "names": {"block": "block"}},
    HearthStepKind.KEEP_AT_PINS: {"of": ("rib",)},
    HearthStepKind.BLOCK_FROM_ACID: {"names": {"block": "block"}},
    HearthStepKind.PICKLE_AGAIN: {"of": ("rib",)},
    HearthStepKind.SOAK_AGAIN: {"of": ("rib",)},
    HearthStepKind.FLUX_AGAIN: {"of": ("root",)},
    HearthStepKind.STAND_IN_HOLE: {"names": {"inner": "post", "outer": "foot", "into": "socket"}},
    HearthStepKind.BLOCK_SLOPES: {"of": ("left", "right"), "names": {"joint": "splice"}},
    HearthStepKind.HEAT: {"heat": 1},
    NoFillerKind.ROUND_JOINTS: BOTH | {"lengths": {"beside": 2.5}},
    NoFillerKind.FIXTURE_FACE: {"names": {"under": "bottom"}},
    NoFillerKind.FIXTURE_FACE_AND_PINS: {"names": {"under": "bottom"}},
    HeatReasonKind.NONE_SHARE: BOTH,
    HeatReasonKind.ALL_TRIED: {"numbers": {"heats": 1}},
    HeatReasonKind.NO_ATTITUDE: BOTH,
    HeatReasonKind.ZINC_BOILS: TOO_HOT,
    HeatReasonKind.FLUX_SPENT: TOO_HOT,
    HeatReasonKind.FLUX_LATE: TOO_HOT,
    HeatReasonKind.FIXTURE_MELTS: TOO_HOT,
    HeatReasonKind.PIECE_MELTS: TOO_HOT,
    GapKind.SLOPE: {"lengths": LEFT, "numbers": {"slope": 26.57}, "names": {"along": "length"}},
    GapKind.ONE_IN_THE_OTHER: {"lengths": LEFT, "sizes": (GROOVE,)},
    GapKind.FIXTURE: {"lengths": LEFT, "sizes": (GROOVE.model_copy(update={"name": ""}),)},
    GapKind.SHIMS: {"lengths": {"shim": 0.05}},
}
"""The figures of every kind that has any."""

TOLD: list[Told] = [
    (HearthStep, HearthStepKind, lambda told, reader: hearth_step(told, STAND, reader)),
    (NoFiller, NoFillerKind, no_filler),
    (HeatReason, HeatReasonKind, reason),
    (GapSetBy, GapKind, gap_set_by),
]
STATEMENTS, IDS = one_of_each(TOLD, FIGURES)


@pytest.mark.parametrize(("told", "words"), STATEMENTS, ids=IDS)
def test_every_kind_has_words_in_the_readers_unit(
    told: Statement, words: Callable[[Any, Reader], str]
) -> None:
    in_mm, in_inches = in_both_units(told, words)
    if told.lengths:
        assert IN_MM.search(in_mm)
        assert IN_INCHES.search(in_inches)
    assert type(told).model_validate_json(told.model_dump_json()) == told


def test_the_steps_take_their_figures_from_heats_and_joints() -> None:
    def told(kind: HearthStepKind, unit: Unit = Unit.MM) -> str:
        return hearth_step(HearthStep(kind=kind, heat=1), STAND, Reader(unit))

    assert told(HearthStepKind.HEAT) == (
        "Heat 1: root, top and front up, propped at 45°, to 680 °C."
    )
    assert told(HearthStepKind.TRY_GAPS).endswith("with a feeler: 0.05 to 0.10 mm.")
    assert told(HearthStepKind.TRY_GAPS, Unit.INCH).endswith("0.0020 to 0.0039 in.")
    assert told(HearthStepKind.COOL) == "Let it cool by itself; undo the fixture."


def test_a_size_is_told_as_the_drawing_has_it_or_by_its_limits_in_the_readers_unit() -> None:
    told = GapSetBy(kind=GapKind.ONE_IN_THE_OTHER, lengths=LEFT, sizes=(GROOVE,))
    assert gap_set_by(told, Reader()) == (
        "one piece lies in the other; the sizes leave 0.10 to 0.15 mm on each side: + foot groove "
        "width 8.2 +0.04/0"
    )
    # 8.2 / 25.4 and 8.24 / 25.4, rounded inward
    assert gap_set_by(told, Reader(Unit.INCH)).endswith("+ foot groove width 0.3229 to 0.3244 in")


def test_every_way_of_holding_melting_and_cleaning_has_words() -> None:
    assert set(HOLDINGS) == set(HeatHolding)
    assert set(TORCH) == set(TorchCan)
    melts = [melt(Melt(at=1.0, kind=kind, of="root", metal="Ag 155")) for kind in MeltKind]
    assert len(set(melts)) == len(melts)
    assert all("Ag 155" in words for words in melts)
    by_hand = tuple(("lamp", how) for how in HandCleaning)
    done = Cleaning(
        bath="citric acid", heated=True, temperature=55.0, minutes=(15.0, 40.0), by_hand=by_hand
    )
    assert len(set(cleaned(done))) == len(by_hand)


def test_what_a_block_locates_and_what_becomes_of_its_pitch() -> None:
    block = FixtureBlock(
        part="block",
        under=Face.BOTTOM,
        rows=(),
        shift=(0.0, 0.0, 0.0),
        material="mild steel",
        holes=(),
        locates=(
            LocatedPiece(piece="foot", screws=2),
            LocatedPiece(piece="rib", pins=(Face.LEFT, Face.BACK), shimmed_to=("rail",)),
            LocatedPiece(piece="cap", lies_in="foot"),
            LocatedPiece(piece="tie", screwed_to=("foot", "rib")),
            LocatedPiece(piece="strip", screws=1, free=True),
        ),
        pitch=PitchHeld(change=-0.14, set_cold=32.14),
    )
    assert list(block_lines(block, Reader())) == [
        "block, mild steel: the bottom of the work lies on it.",
        "Foot: by its screws in the block.",
        "Rib: pushed against the pins at its left and back, against rail with shims as thick as "
        "the gap.",
        "Cap: it lies in foot.",
        "Tie: by its screws to foot and rib.",
        "Strip: by its screw in the block, free to turn or slide: set it with a square.",
        "The pitch the block holds closes up by 0.14 mm; set 32.14 mm cold.",
    ]
    # 0.14 / 25.4 and 32.14 / 25.4
    assert list(block_lines(block, Reader(Unit.INCH)))[-1] == (
        "The pitch the block holds closes up by 0.0055 in; set 1.2654 in cold."
    )

    def last(change: float) -> str:
        pitch = PitchHeld(change=change, set_cold=32.0)
        return list(block_lines(block.model_copy(update={"pitch": pitch}), Reader()))[-1]

    assert last(0.004) == "The pitch the block holds comes out as set."
    assert last(0.2) == "The pitch the block holds spreads by 0.20 mm; set 32.00 mm cold."
