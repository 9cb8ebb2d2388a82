"""Drills: names, order, the nearest owned."""

from itertools import pairwise

import pytest

from barstock.handbook.drills import NUMBERS, UnknownDrillError, drill, named


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


def test_nothing_owned_is_nothing_near() -> None:
    assert named(60.0) == []
