"""Short thin rounds lie between the vise's flat jaws for what a V-block's clamp leaves no room."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.errors import UnplannableError
from barstock.planning.plan import plan_build
from barstock.route import Plunge, Route
from barstock.words.holding import held_words
from barstock.words.reader import Reader
from round_bars.conftest import built
from round_bars.test_planned import cutting
from round_bars.test_short import owning, planned, told

STUD = """
build: Studs
unit: mm
parts:
  stud:
    material: mild steel
    length: {length}
    diameter: {across}
    features:
      across: {{kind: hole, face: top, at: {{right: 2, width: centre}}, diameter: 1,
        depth: through}}
"""
SHAFT = """
build: Shafts
unit: mm
parts:
  shaft:
    material: mild steel
    length: 40
    diameter: 12
    features:
      flat: {kind: step, face: top, edge: right, width: 37, depth: 2}
"""


@pytest.fixture(scope="module")
def stud(tmp_path_factory: pytest.TempPathFactory) -> tuple[Build, Route]:
    text = STUD.format(length=13, across=9)
    return planned(text, owning(9), tmp_path_factory.mktemp("stud"))


def test_a_cross_hole_that_no_clamp_leaves_room_for(stud: tuple[Build, Route]) -> None:
    _, route = stud
    drilled = cutting(route, "across/drill")
    held = drilled.holding
    assert held.way == "vise, round work"
    assert cutting(route, "across/spot") is drilled, "it is spotted where it is drilled"
    # the jaws reach past the middle of the round and stay below its crest
    assert held.packing + 4.5 < held.jaw_top < held.packing + 9.0
    assert held.parallels_out, "the hole comes out over the parallel"
    # the axis lies half the diameter before the fixed jaw
    (move,) = next(o for o in drilled.operations if o.id.endswith("drill")).moves
    assert isinstance(move, Plunge)
    assert (drilled.zero_y.find, move.y) == ("fixed jaw", pytest.approx(-4.5))


def test_the_proof_refuses_what_would_let_the_round_rise(stud: tuple[Build, Route]) -> None:
    build, route = stud
    drilled = cutting(route, "across/drill")
    high = drilled.holding.jaw_top
    raised: dict[str, object] = {"packing": high - 4, "parallels": (high - 4,), "grip": 4.0}
    assert "does not reach past the middle" in told(build, route, drilled, **raised)
    assert "the parallel" in told(build, route, drilled, parallels_out=False)
    beside: dict[str, object] = {"jaws_from": 11.0, "jaws_to": 91.0}
    assert "the jaws hold only 2.00 mm" in told(build, route, drilled, **beside)


def test_a_flat_that_leaves_a_clamp_nothing_to_stand_on(tmp_path: Path) -> None:
    _, route = planned(SHAFT, owning(12), tmp_path)
    held = cutting(route, "flat").holding
    assert held.way == "vise, round work"
    assert held.jaw_top < held.packing + 10.0, "the jaws stay below the flat"


def test_the_sheet_says_that_one_parallel_carries_the_round(stud: tuple[Build, Route]) -> None:
    said = dict(held_words(cutting(stud[1], "across/drill"), Reader()))
    assert said["Rests on"].startswith("one of the parallels ")
    assert said["Rests on"].endswith(
        "under the middle of the round, drawn out lengthwise once tight"
    )


def test_what_neither_block_nor_jaws_leave_free_is_refused_for_both_reasons(tmp_path: Path) -> None:
    """Of a round 12 thick the jaws must reach 7 mm up at least, and a cut 5 deep leaves 7 free."""
    text = SHAFT.replace("depth: 2}", "depth: 5}")
    with pytest.raises(UnplannableError) as refused:
        plan_build(built(text, tmp_path), owning(12), steps=150_000)
    assert "the clamp of the V-block" in refused.value.why
    assert "nor between flat jaws: round work between the jaws cannot be held" in refused.value.why
