"""Drills: names, order, the nearest owned."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barstock.handbook.drills import NUMBERS, UnknownDrillError, drill, named, nearest_drill


def test_number_drills_fall_and_letters_take_over_where_they_end() -> None:
    assert all(a > b for a, b in pairwise(NUMBERS.values()))
    assert drill("A") > drill("1")


@pytest.mark.parametrize("name", ["81", "0", "No 99", "1/0", "AA", "", "-2.5", "1e3"])
def test_drills_that_do_not_exist_are_refused(name: str) -> None:
    with pytest.raises(UnknownDrillError):
        drill(name)


@pytest.mark.parametrize(
    ("name", "size"), [("3/8", 9.525), ("1-3/8", 34.925), ("2 mm", 2.0), ("2.05", 2.05)]
)
def test_fractions_and_millimetres(name: str, size: float) -> None:
    assert drill(name) == pytest.approx(size)  # 25.4 mm to the inch


@given(st.floats(0.3, 13), st.lists(st.floats(0.3, 13), min_size=1))
def test_no_owned_drill_is_nearer_than_the_nearest(size: float, owned: list[float]) -> None:
    best = nearest_drill(size, owned)
    assert best is not None
    assert all(abs(best - size) <= abs(mm - size) + 1e-9 for mm in owned)


def test_nothing_owned_is_nothing_near() -> None:
    assert nearest_drill(5, []) is None
    assert named(60.0) == []
