"""Closing in on size: whatever the tool does, it ends within limits and never past them."""

from itertools import pairwise
from math import cos, radians, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barstock.measuring.closing_in import Act, Advice, ClosingError, Cut, close_in
from barstock.measuring.feed_effect import (
    BORED,
    BOTH_ENDS,
    DEPTH,
    HEIGHT,
    TURNED,
    WIDTH_ONE_WALL,
    WIDTH_TWO_WALLS,
    Making,
    countersunk,
    halved,
    on_slope,
    usual,
)
from barstock.measuring.handwheel import least_step
from barstock.quantities import Dimension
from barstock.workshop.shop import Axis

READOUT = Axis(200, readout=0.005)
WHEEL = Axis(200, per_turn=2, divisions=100, backlash=0.1)
EVERY = [
    DEPTH,
    HEIGHT,
    WIDTH_ONE_WALL,
    WIDTH_TWO_WALLS,
    BOTH_ENDS,
    TURNED,
    BORED,
    halved(WIDTH_TWO_WALLS),
    on_slope(BOTH_ENDS, 1.5),
    on_slope(DEPTH, -8),
    countersunk(90),
    countersunk(60),
]


def at_the_bench(
    want: Dimension,
    making: Making,
    axis: Axis,
    start: float,
    toward: int = 1,
    take: float = 1.0,
) -> tuple[list[Cut], Advice]:
    """Follow the advice with a tool that takes only a share of each feed, until it ends.

    A springing tool leaves the rest for the next cut; a spring cut takes the same share of it.
    """
    cuts = [Cut(0.0, start)]
    owed = 0.0
    for _ in range(200):
        advice = close_in(want, making, axis, cuts, toward=toward)
        if advice.act in (Act.DONE, Act.OVER, Act.TOO_COARSE):
            return cuts, advice
        owed += advice.feed
        taken = take * owed
        owed -= taken
        size = cuts[-1].measured + making.rate * taken
        cuts.append(Cut(advice.reading, size, spring=advice.act is Act.SPRING))
    raise AssertionError("never came to size")


@pytest.mark.parametrize("axis", [READOUT, WHEEL])
@given(
    making=st.sampled_from(EVERY),
    size=st.floats(5, 40),
    band=st.floats(0.04, 0.4),
    away=st.floats(0.05, 6),
    toward=st.sampled_from([1, -1]),
    take=st.floats(0.6, 1.0),
)
@settings(max_examples=200, deadline=None)
def test_every_dimension_ends_within_limits(
    axis: Axis, making: Making, size: float, band: float, away: float, toward: int, take: float
) -> None:
    want = Dimension(size, -band / 2, band / 2, stated=True)
    start = want.middle - making.rate * (away + band / 2 / making.gain)
    cuts, last = at_the_bench(want, making, axis, start, toward, take)
    assert last.act is Act.DONE
    assert want.low - 1e-9 <= cuts[-1].measured <= want.high + 1e-9
    for before, cut in pairwise(cuts):
        assert (cut.reading - before.reading) * toward >= -1e-9
        assert cut.spring == (abs(cut.reading - before.reading) < 1e-9)
    assert last.repeat is not None
    assert abs(last.repeat - cuts[-1].reading) <= band / 2 / making.gain + least_step(axis)


def test_a_slot_widened_at_both_walls() -> None:
    # 8.0 +0.05/0, measured 7.8: to the middle, 8.025, is 0.225, half of it on each wall: 0.1125.
    # Half of that first, on a readout of 0.005: 0.055, which makes the slot 7.8 + 2 x 0.055 = 7.91.
    want = Dimension(8.0, 0.0, 0.05)
    first = close_in(want, WIDTH_TWO_WALLS, READOUT, [Cut(4.0, 7.8)])
    assert (first.act, first.left, first.feed) == (Act.FINISH, 0.1125, 0.055)
    assert (first.reading, first.expect) == (4.055, pytest.approx(7.91))
    assert first.words.startswith("each wall: feed 0.055 mm")
    # It measures 7.905: 0.12 more to the middle, 0.06 each.
    second = close_in(want, WIDTH_TWO_WALLS, READOUT, [Cut(4.0, 7.8), Cut(4.055, 7.905)])
    assert (second.feed, second.expect) == (0.06, pytest.approx(8.025))


def test_roughing_stops_short() -> None:
    # A depth of 7.0 ±0.1 from nothing, 3 mm a cut, 0.25 kept: 3, 3, then 0.75 and finish.
    want = Dimension(7.0, -0.1, 0.1)
    cuts = [Cut(0.0, 0.0)]
    feeds = []
    for _ in range(3):
        advice = close_in(want, DEPTH, READOUT, cuts, toward=-1, rough=3.0)
        assert advice.act is Act.ROUGH
        feeds.append(advice.feed)
        cuts.append(Cut(advice.reading, advice.expect))
    assert feeds == [3.0, 3.0, 0.75]
    assert cuts[-1].reading == -6.75
    assert close_in(want, DEPTH, READOUT, cuts, toward=-1, rough=3.0).act is Act.FINISH


def test_a_tool_that_sprang_cuts_again_without_feed() -> None:
    # Fed 0.12, took 0.07: 0.05 short of limits 0.04 wide.
    want = Dimension(10.0, -0.02, 0.02)
    advice = close_in(want, HEIGHT, READOUT, [Cut(0.0, 10.24), Cut(0.12, 10.17)])
    assert (advice.act, advice.feed, advice.reading) == (Act.SPRING, 0.0, 0.12)
    # After it nothing more came off: feed the rest.
    more = [Cut(0.0, 10.24), Cut(0.12, 10.17), Cut(0.12, 10.17, spring=True)]
    advice = close_in(want, HEIGHT, READOUT, more)
    assert (advice.act, advice.feed, advice.expect) == (Act.FINISH, 0.17, 10.0)


def test_the_other_copies_go_to_the_middle() -> None:
    # 9.985 lies within 10 ±0.02, but 0.015 under: back off that much, 3 steps of the readout.
    want = Dimension(10.0, -0.02, 0.02)
    advice = close_in(want, HEIGHT, READOUT, [Cut(0.0, 10.4), Cut(0.4, 9.985)])
    assert (advice.act, advice.repeat) == (Act.DONE, 0.385)
    sprung = [Cut(0.0, 10.4), Cut(0.4, 10.03), Cut(0.4, 10.0, spring=True)]
    advice = close_in(want, HEIGHT, READOUT, sprung)
    assert (advice.act, advice.repeat) == (Act.DONE, 0.4)
    assert "cut 2 times" in advice.words


def test_over_is_said_plainly() -> None:
    want = Dimension(8.0, 0.0, 0.05)
    advice = close_in(want, WIDTH_ONE_WALL, READOUT, [Cut(1.0, 8.07)])
    assert advice.act is Act.OVER
    assert "0.02 mm" in advice.words
    assert advice.repeat is None


def test_limits_finer_than_the_wheel() -> None:
    # Half a division moves a diameter by 0.02; the limits are 0.004 apart, 0.013 away.
    want = Dimension(10.0, -0.002, 0.002)
    advice = close_in(want, TURNED, WHEEL, [Cut(0.0, 10.013)])
    assert advice.act is Act.TOO_COARSE
    assert "0.02 mm" in advice.words


def test_divisions_of_the_wheel() -> None:
    # 12 mm high, 0.4 over, 2 mm a turn of 100: the finish of 0.25 is kept, 0.15 is 7½ divisions.
    want = Dimension(12.0, -0.05, 0.05)
    advice = close_in(want, HEIGHT, WHEEL, [Cut(1.0, 12.4)])
    assert (advice.act, advice.feed) == (Act.ROUGH, 0.15)
    assert advice.words.startswith("down: feed 7½ div, on to +57½ div")


# -- how dimensions answer to feed ----------------------------------------------------------------


@given(tilt=st.floats(-40, 40), half=st.floats(5, 20), feed=st.floats(0.01, 1))
def test_a_leaning_floor_moved_square(tilt: float, half: float, feed: float) -> None:
    # The floor y = half + x tan tilt moved by `feed` square to itself: where it now crosses x = 0.
    lean = radians(tilt)
    x, y = feed * tan(lean) * cos(lean), half - feed * cos(lean)  # a point of the moved floor
    crosses = y - x * tan(lean)
    assert half - crosses == pytest.approx(on_slope(DEPTH, tilt).gain * feed, rel=1e-9)


def test_a_countersink_grows_twice_its_depth_at_ninety_degrees() -> None:
    assert countersunk(90).rate == pytest.approx(2.0)
    assert countersunk(60).rate == pytest.approx(2 / 3**0.5)


def test_faults_are_told() -> None:
    want = Dimension(8.0, 0.0, 0.05)
    with pytest.raises(ClosingError, match="nothing is measured"):
        close_in(want, DEPTH, READOUT, [])
    with pytest.raises(ClosingError, match="no limits"):
        close_in(Dimension(8.0), DEPTH, READOUT, [Cut(0, 7)])
    with pytest.raises(ClosingError, match="toward is 1 or -1"):
        close_in(want, DEPTH, READOUT, [Cut(0, 7)], toward=0)
    with pytest.raises(ValueError, match="tilt of 90"):
        on_slope(DEPTH, 90)
    with pytest.raises(ValueError, match="between 0 and 180"):
        countersunk(180)


def test_what_the_kinds_check_can_be_closed_in_on() -> None:
    # The words of methods/cuts.py Check.of; a thread is left to its tap, an angle to the setting.
    known = ["outside", "inside", "depth", "position", "diameter", "countersink"]
    assert all(usual(of) is not None for of in known)
    assert usual("thread") is None
    assert usual("angle") is None
    top = usual("countersink", angle=60)
    assert top is not None
    assert top.gain == pytest.approx(2 / 3**0.5)
