"""Closing in on a size: after every measurement it says the next cut.

The way of it is common practice: rough to a little short of size, measure, take half of what is
left to see what the tool really takes, cut again without feed where it sprang, then take the rest
to the middle of the limits. The last reading is what the other copies are made to.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from math import floor

from barstock.measuring.feed_effect import Making
from barstock.measuring.handwheel import approach, dial, distance, least_step
from barstock.quantities import Dimension, show
from barstock.workshop.shop import Axis

FINISH = 0.25
"""What is left for the finishing cuts, as feed [mm]; common practice."""

TINY = 1e-9


class ClosingError(ValueError):
    """Raised for cuts or limits that lead nowhere; says what to enter."""


class Act(StrEnum):
    """The things that may be done next."""

    ROUGH = "rough"
    FINISH = "finish"
    SPRING = "spring cut"
    TOO_COARSE = "too coarse"
    DONE = "done"
    OVER = "over"


@dataclass(frozen=True)
class Cut:
    """A cut already taken. reading: of the axis [mm]; measured: the dimension then [mm].

    spring: the same cut again, without feed. The first may be the work before any cut.
    """

    reading: float
    measured: float
    spring: bool = False


@dataclass(frozen=True)
class Advice:
    """What to do next. feed: from the last reading, on each wall or end where both are cut [mm].

    reading: to set [mm]. expect: the dimension it should give [mm]. left: feed still to go to the
    middle of the limits [mm], below zero where it is past. repeat: once done, the reading for the
    other copies [mm]. words: for the bench.
    """

    act: Act
    feed: float
    reading: float
    expect: float
    left: float
    words: str
    repeat: float | None = None


def close_in(
    want: Dimension,
    making: Making,
    axis: Axis,
    cuts: Sequence[Cut],
    *,
    toward: int = 1,
    rough: float = 1.0,
    finish: float = FINISH,
) -> Advice:
    """What to do after the last of these cuts so that the dimension comes within its limits.

    want: the dimension with limits [mm]; making: how it answers to feed; axis: how it is read;
    toward: 1 where feed makes the reading greater, -1 smaller; rough: deepest roughing cut [mm];
    finish: feed kept for finishing [mm]. Raises ClosingError.

    >>> from barstock.measuring.feed_effect import WIDTH_TWO_WALLS
    >>> want = Dimension(8.0, 0.0, 0.05)
    >>> advice = close_in(want, WIDTH_TWO_WALLS, Axis(200, 0.005), [Cut(0.0, 7.8)], finish=0.5)
    >>> advice.act.value, advice.feed, round(advice.expect, 3)  # half of what is left
    ('finish', 0.055, 7.91)
    >>> cuts = [Cut(0.0, 7.8), Cut(0.055, 7.905)]
    >>> close_in(want, WIDTH_TWO_WALLS, Axis(200, 0.005), cuts, finish=0.5).words
    'each wall: feed 0.060 mm, to +0.115; expect 8.025 mm'
    """
    if not cuts:
        raise ClosingError("nothing is measured yet; measure the work and enter its reading")
    if want.high <= want.low:
        size = want.text or f"{want.nominal:g}"
        raise ClosingError(f"'{size}' has no limits to close in on; write them, {size} ±0.05")
    if toward not in (1, -1) or rough <= 0 or finish < 0:
        raise ClosingError("toward is 1 or -1, rough above zero and finish not below zero")
    return _Closing(want, making, axis, tuple(cuts), toward, rough, finish).advice()


@dataclass(frozen=True)
class _Closing:
    want: Dimension
    making: Making
    axis: Axis
    cuts: tuple[Cut, ...]
    toward: int
    rough: float
    finish: float

    @property
    def last(self) -> Cut:
        return self.cuts[-1]

    def feed_to(self, size: float, cut: Cut) -> float:
        """Feed from a cut to a size, below zero where it is past it."""
        return (size - cut.measured) / self.making.rate

    def span(self) -> tuple[float, float]:
        """Least and greatest feed that end within the limits."""
        ends = (self.feed_to(self.want.low, self.last), self.feed_to(self.want.high, self.last))
        return min(ends), max(ends)

    def advice(self) -> Advice:
        least, most = self.span()
        left = self.feed_to(self.want.middle, self.last)
        if most < -TINY:
            past = show(-most * self.making.gain, self.want.unit)
            return self._say(Act.OVER, 0.0, f"past the limit by {past}: set this copy aside")
        if least <= TINY:
            return self._done(left)
        owed = self._owed()
        room = left - owed - self.finish
        if room >= self.step:
            return self._feed(Act.ROUGH, max(self.step, self._whole(min(self.rough, room))))
        if owed > max(self.step, (most - least) / 4) + TINY:
            return self._spring()
        half = self._whole(left / 2)
        if not self._tried() and half >= self.step - TINY:
            return self._feed(Act.FINISH, half)
        full = min(round(left / self.step) * self.step, self._whole(most - owed))
        if full >= self.step - TINY:
            return self._feed(Act.FINISH, full)
        return self._spring() if owed > TINY else self._too_coarse()

    @property
    def step(self) -> float:
        return least_step(self.axis)

    def _whole(self, feed: float) -> float:
        """As much of a feed as the axis can be set to."""
        return max(0.0, floor(feed / self.step + 1e-6) * self.step)

    def _tried(self) -> bool:
        """Has a finishing cut already shown what the tool takes?"""
        before = self.cuts[:-1]
        return any(self.feed_to(self.want.middle, c) <= self.finish + self.step for c in before)

    def _owed(self) -> float:
        """Feed that the tool has not taken: it sprang, and may take it with the next cut.

        Counted from the last spring cut that took nothing more, else from the first measurement.
        """
        settled = self.cuts[0]
        for before, cut in pairwise(self.cuts):
            if cut.spring and abs(self.feed_to(cut.measured, before)) < self.step / 2:
                settled = cut
        fed = (self.last.reading - settled.reading) * self.toward
        return max(0.0, fed - self.feed_to(self.last.measured, settled))

    def _done(self, left: float) -> Advice:
        more = round(left / self.step) * self.step
        repeat = round(self.last.reading + self.toward * more, 9)
        springs = 0
        for cut in reversed(self.cuts):
            if not cut.spring:
                break
            springs += 1
        again = f", cut {springs + 1} times without further feed" if springs else ""
        words = f"within limits; make the other copies to {dial(repeat, self.axis)}{again}"
        return self._say(Act.DONE, 0.0, words, repeat)

    def _spring(self) -> Advice:
        words = f"cut again at {dial(self.last.reading, self.axis)} without feed, then measure"
        return self._say(Act.SPRING, 0.0, words)

    def _too_coarse(self) -> Advice:
        moves = show(self.step * self.making.gain, self.want.unit)
        band = show(self.want.high - self.want.low, self.want.unit)
        words = (
            f"one step of the axis moves the size by {moves}, the limits are {band} apart: cut "
            "again without feed, and set what is left by an indicator"
        )
        return self._say(Act.TOO_COARSE, 0.0, words)

    def _feed(self, act: Act, feed: float) -> Advice:
        target = self.last.reading + self.toward * feed
        go = approach(self.last.reading, target, self.axis, self.toward)
        expect = show(self.last.measured + self.making.rate * feed, self.want.unit)
        amount = distance(feed, self.axis)
        where = f"{self.making.where}: " if self.making.where else ""
        words = f"{where}feed {amount}, {go}; expect {expect}"
        return self._say(act, feed, words)

    def _say(self, act: Act, feed: float, words: str, repeat: float | None = None) -> Advice:
        return Advice(
            act=act,
            feed=round(feed, 9),
            reading=round(self.last.reading + self.toward * feed, 9),
            expect=round(self.last.measured + self.making.rate * feed, 9),
            left=round(self.feed_to(self.want.middle, self.last), 9),
            words=words,
            repeat=repeat,
        )
