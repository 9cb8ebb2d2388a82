"""A fabrication beside the same thing cut from one bar."""

from __future__ import annotations

from pathlib import Path

import pytest

import barstock
from barstock import api
from barstock.errors import WrongUseError
from barstock.pack.built_or_solid import lines

SMALL = Path(__file__).parent / "small"
WAGON = Path(barstock.__file__).parent / "samples" / "wagon"


def test_both_ways_are_planned_and_proved() -> None:
    found = api.compare(SMALL, "stand")
    assert found.built.trouble == ""
    assert found.solid is not None
    assert found.solid.trouble == ""
    assert (found.built.heats, found.solid.heats) == (1, 0)
    # from the solid the gap goes to chips: 24 x 16 x 30 is 11.5 cm3, and the clean-up of both ends
    # 2 x 0.75 x 36 x 16, 0.86 cm3; the six holes are small beside it
    assert found.solid.chips == pytest.approx(11.52 + 0.86, abs=0.5)
    # brass of 8.47 g/cm3: 41.5 x 36 x 16 mm is 202 g
    assert found.solid.bought == pytest.approx(41.5 * 36 * 16 / 1000 * 8.47, rel=0.01)
    assert found.built.chips < found.solid.chips
    said = "\n".join(lines(found))
    assert said.count("proven: as drawn") == 2
    assert "1 for each" in said


def test_a_web_between_two_recesses_stands_on_its_four_corners() -> None:
    """The horn frame's recesses, 37.2 x 42 of 47.2 x 50, leave a third of either face to rest on,
    but metal at all four corners, where the parallels stand."""
    found = api.compare(WAGON, "horn frame")
    assert found.solid is not None
    assert (found.built.trouble, found.solid.trouble) == ("", "")
    # what goes to chips of each: both recesses, the gap between the guides, the rounded corners
    gone = 2 * 37.2 * 42 * 6.1 + 23.2 * 42 * 7.8 + 2 * 0.215 * 10**2 * 20
    assert found.solid.chips * 1000 > 4 * gone


def test_what_is_no_fabrication_is_refused() -> None:
    with pytest.raises(WrongUseError, match="did you mean 'stand'"):
        api.compare(SMALL, "stnd")
