"""Why an operation stands where it does, and what it would cost to have it otherwise."""

from __future__ import annotations

import pytest

from barstock.planning.explaining import UnknownOperationError
from barstock.planning.explaining import why as explain
from barstock.planning.plan import Planner
from barstock.words.explained import Told, explained, printed
from barstock.words.reader import Reader

from .conftest import only, sample


@pytest.fixture(scope="module")
def planner() -> Planner:
    """Two parts of the wagon."""
    build, shop = sample("wagon")
    return Planner(only(build, "horn guide", "axlebox"), shop)


def why(planner: Planner, operation: str) -> Told:
    """An operation's place as it is told."""
    found = explain(planner, (), operation)
    return explained(found, Reader(found.unit))


@pytest.fixture(scope="module")
def reamed(planner: Planner) -> Told:
    """Of the axle bore's reaming."""
    return why(planner, "axlebox/axle bore/ream")


def test_the_constraint_is_named_with_its_reason(reamed: Told) -> None:
    assert any("drill for reaming axle bore" in rule for rule in reamed.rules)
    assert any("datum end" in rule for rule in reamed.rules)


def test_moving_it_before_what_it_needs_cannot_be_and_says_so(planner: Planner) -> None:
    found = why(planner, "axlebox/oil hole/countersink")
    before = next(w for w in found.what_if if w.words == "before 'drill oil hole'")
    assert before.minutes is None
    assert "axlebox/oil hole/countersink comes after axlebox/oil hole/drill" in before.because[0]


def test_who_waits_for_it(planner: Planner) -> None:
    found = why(planner, "horn guide/left end/square")
    assert any("right end" in line for line in found.followers)


def test_what_the_bar_saves_and_what_it_would_cost_on_the_piece(planner: Planner) -> None:
    found = why(planner, "front rebate")
    assert any("one bar" in line for line in found.savings)
    on_piece = next(w for w in found.what_if if w.words.startswith("on the sawn piece"))
    assert on_piece.minutes is not None
    assert on_piece.minutes > 0


def test_nothing_done_otherwise_is_quicker(planner: Planner, reamed: Told) -> None:
    for found in (reamed, why(planner, "keep screw drill")):
        assert found.what_if
        assert all(w.minutes is None or w.minutes >= 0 for w in found.what_if)
        assert all(w.because for w in found.what_if if w.minutes is None)


def test_a_piece_of_the_name_will_do_where_only_one_has_it(planner: Planner) -> None:
    assert why(planner, "bore ream").operation == "axlebox/axle bore/ream"
    with pytest.raises(UnknownOperationError, match="axlebox/axle bore/spot"):
        why(planner, "axle bore")
    with pytest.raises(UnknownOperationError, match="did you mean 'axlebox/axle bore/ream'"):
        why(planner, "axlebox/axle bore/raem")


def test_sawing_is_explained_too(planner: Planner) -> None:
    found = why(planner, "axlebox/saw/off")
    assert any("along the whole bar" in line for line in found.rules)


def test_printed_in_words(reamed: Told) -> None:
    text = printed(reamed)
    assert text.startswith("axlebox/axle bore/ream: ream axle bore")
    assert "It must come:" in text
    assert "Otherwise:" in text
