"""Every kind of statement a route can hold has its words, in millimetres and in inches."""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum
from typing import Any

import pytest

from barstock.route import HowRead, ReadingWay
from barstock.route.explanation import ChangeKind
from barstock.route.record import Statement
from barstock.route.statements import (
    Caution,
    CautionKind,
    Choice,
    Given,
    GivenKind,
    Item,
    ItemKind,
    Mark,
    MarkKind,
    Note,
    NoteKind,
    Reason,
    ReasonKind,
    Remedy,
    RemedyKind,
)
from barstock.words.cautions import caution
from barstock.words.checks import read
from barstock.words.explained import CHANGES
from barstock.words.marks import marks
from barstock.words.notes import note
from barstock.words.reader import Reader
from barstock.words.reasons import reason, whys
from barstock.words.remedies import all_of, given
from barstock.words.shopping import item

from .both_units import IN_INCHES, IN_MM, Told, in_both_units, one_of_each

TITLES = {"lug/bore/ream": "ream bore"}
SIZE = {"text": "12 ±0.01", "dimension": "bore/diameter", "part": "lug"}
AFRESH = Remedy(kind=RemedyKind.EDGE_AFRESH, names={"setup": "2"})
READING = {"low": 9.9, "reading": 10.0, "high": 10.1, "added": 2.5}

FIGURES: dict[StrEnum, dict[str, Any]] = {
    CautionKind.INTO_BLOCK: {"lengths": {"deep": 0.5}},
    CautionKind.PAST_JAWS: {"lengths": {"past": 4.0}},
    CautionKind.PAST_PARALLELS: {"lengths": {"past": 4.0}},
    CautionKind.TO_ONE_SIDE: {"lengths": {"opening": 28.0}},
    CautionKind.LITTLE_GRIP: {"lengths": {"grip": 3.5}},
    CautionKind.TALL: {"lengths": {"stick_up": 61.25}},
    CautionKind.SLOW_SPINDLE: {"numbers": {"share": 0.5}},
    ReasonKind.STEP_BEFORE: {"after": "lug/bore/ream"},
    ReasonKind.JAWS_HOLD_IT: {"after": "lug/bore/ream"},
    ReasonKind.PINNED: {"choice": Choice(rule="first", names=("lug",))},
    ReasonKind.LEANS: {"numbers": {"lean": 1.5}},
    ReasonKind.TILTED: {"numbers": {"tilt": 1.5}},
    ReasonKind.PATTERN: {
        "names": {"feature": "bolts", "setup": "2", "work": "cover", "other": "studs"}
    },
    MarkKind.SQUARED_END: {"names": {"end": "left"}},
    MarkKind.TO_THE_STOP: {"names": {"end": "left", "up": "top", "right": "right"}},
    RemedyKind.FIRST_OFF: {"names": {"instrument": "micrometer"}},
    RemedyKind.OTHER_FACE: {"names": {"face": "left", "against": "stop", "setup": "2"}},
    RemedyKind.EDGE_AFRESH: {"names": {"setup": "2"}},
    RemedyKind.TOP_AFRESH: {"names": {"setup": "2"}},
    RemedyKind.CLOSE_IN: {"names": {"instrument": "micrometer"}},
    RemedyKind.MEASURE_BAR: {"names": {"size": "width"}, "lengths": {"lacks": 0.1}},
    RemedyKind.CLOSER_STOP: {"lengths": {"repeats": 0.01}},
    RemedyKind.CLOSER_VISE: {"lengths": {"repeats": 0.01}},
    RemedyKind.WORK_TO: {
        "names": {"axis": "X"},
        "lengths": {"aim": 12.02, "nominal": 12.0, "by": 0.02},
    },
    GivenKind.TAPPING_DRILL: {
        "lengths": {"drill": 3.3},
        "numbers": {"most": 75.2, "least": 61.0},
    },
    GivenKind.CUTTER: {"names": {"cutter": "counterbore"}},
    GivenKind.BORED: {"names": {"instrument": "bore gauge"}, "lengths": {"error": 0.005}},
    GivenKind.TILT: {"names": {"by": "sine bar"}, "numbers": {"error": 0.01, "seat": 0.02}},
    NoteKind.HELD_ALIKE: {"numbers": {"minutes": 24.0}},
    NoteKind.IN_THE_BAR: {"names": {"part": "lug"}, "numbers": {"pieces": 4, "minutes": 12.0}},
    NoteKind.HEARTH: {
        "names": {"part": "frame"},
        "numbers": {"heats": 1, "minutes": 40.0, "careful_heats": 3, "careful_minutes": 90.0},
    },
    NoteKind.NOT_GUARANTEED: {
        "names": SIZE,
        "lengths": {"missing": 0.02, "nominal": 12.0},
        "remedies": (AFRESH,),
    },
    NoteKind.NOT_GIVEN: {
        "names": SIZE,
        "lengths": {"nominal": 12.0},
        "given": Given(kind=GivenKind.DRILL),
        "remedies": (Remedy(kind=RemedyKind.BORE),),
    },
    NoteKind.FIT_LACKS: {
        "names": {"fit": "pin in lug"},
        "lengths": {"lacks": 0.012},
        "numbers": {"eaten": 1},
    },
    NoteKind.FIT_LOOSE: {"names": {"fit": "pin in lug"}, "lengths": {"over": 0.012}},
    ReadingWay.FROM_WALL: {"names": {"face": "left"}, "lengths": READING},
    ReadingWay.OVER_PIN: {
        "names": {"axis": "width"},
        "lengths": READING | {"whole": 20.0, "pin": 2.5},
    },
    ReadingWay.OVER_DRILL: {"names": {"face": "front"}, "lengths": READING},
    ReadingWay.BETWEEN_WALLS: {"lengths": READING},
    ReadingWay.STANDING_DRILL: {"lengths": {"rod": 4.0}},
    ReadingWay.STACKS: {
        "lengths": {"made_low": 8.02, "made_high": 8.05},
        "numbers": {"in turn": 1},
    },
    ReadingWay.PINS: {"lengths": {"go": 4.3, "not_go": 4.7}},
    ReadingWay.PINS_LACKING: {"lengths": {"go": 4.3, "not_go": 4.31}},
    ReadingWay.SINE_BAR: {"lengths": {"bar": 100.0}},
    ReadingWay.ROUND_BAR: {"lengths": {"across": 10.0}},
    ReadingWay.COARSE: {"lengths": {"tells": 0.02}},
    ReadingWay.COARSE_TO_HOLD: {"names": {"instrument": "caliper"}, "lengths": {"tells": 0.02}},
    ReadingWay.COARSE_DIAL: {"lengths": {"step": 0.02}},
    ReadingWay.STOP_REPEATS: {"lengths": {"repeats": 0.03}},
    ItemKind.TOOL: {"names": {"tool": "reamer 10"}, "setups": ("1",)},
    ItemKind.FLUTED: {"names": {"tool": "end mill 10"}, "lengths": {"flute": 21.2}},
    ItemKind.BAR: {
        "names": {"material": "brass", "bar": "20 x 10"},
        "lengths": {"total": 512.0},
        "pieces": (300.0, 210.0),
    },
    ItemKind.TAP: {"names": {"thread": "M5"}},
    ItemKind.TOUCH_GAUGE: {"lengths": {"size": 10.0}},
    ItemKind.PINS: {"lengths": {"go": 3.0, "not_go": 3.02}},
    ItemKind.INSTRUMENT: {"names": {"instrument": "dial indicator"}},
    ItemKind.SCREWS: {
        "names": {"thread": "M3", "material": "steel"},
        "numbers": {"count": 4, "stock": 12.0},
    },
    ItemKind.BOARD: {"lengths": {"long": 84.0, "wide": 52.0, "thick": 6.0}, "setups": ("1", "2")},
}
"""The figures of every kind that has any."""

TOLD: list[Told] = [
    (Caution, CautionKind, caution),
    (Reason, ReasonKind, lambda told, reader: reason(told, reader, TITLES)),
    (Mark, MarkKind, lambda told, reader: marks((told,), reader)),
    (Remedy, RemedyKind, lambda told, reader: all_of((told,), reader)),
    (Given, GivenKind, given),
    (Note, NoteKind, note),
    (Item, ItemKind, item),
    (HowRead, ReadingWay, read),
]


STATEMENTS, IDS = one_of_each(TOLD, FIGURES)


@pytest.mark.parametrize(("told", "words"), STATEMENTS, ids=IDS)
def test_every_kind_has_words_in_the_readers_unit(
    told: Statement, words: Callable[[Any, Reader], str]
) -> None:
    in_mm, in_inches = in_both_units(told, words)
    if told.lengths and "text" not in told.names:
        assert IN_MM.search(in_mm)
        assert IN_INCHES.search(in_inches)


@pytest.mark.parametrize(("told", "words"), STATEMENTS, ids=IDS)
def test_every_statement_goes_through_json_unchanged(
    told: Statement, words: Callable[[Any, Reader], str]
) -> None:
    assert type(told).model_validate_json(told.model_dump_json()) == told


def test_a_reason_tells_what_it_comes_after_and_an_operation_by_its_title() -> None:
    told = Reason(kind=ReasonKind.STEP_BEFORE, after="lug/bore/ream")
    assert whys((told,), Reader(), TITLES) == ("after bore/ream: ream bore comes first",)
    assert reason(told, Reader(), {}) == "bore/ream comes first"


def test_every_change_tried_has_its_words() -> None:
    assert set(CHANGES) == set(ChangeKind)


def test_two_remedies_are_told_as_one() -> None:
    work = Remedy(
        kind=RemedyKind.WORK_TO,
        names={"axis": "X"},
        lengths={"aim": 11.98, "nominal": 12.0, "by": 0.02},
    )
    assert all_of((AFRESH, work), Reader()) == (
        "find the edge afresh on each copy in setup 2, and work to 11.98 mm instead of 12 mm: move "
        "the printed X by 0.02 mm, so that it comes out smaller"
    )
