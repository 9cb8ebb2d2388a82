"""What each dimension must measure, how that is checked, and which operation makes it."""

from __future__ import annotations

from barstock.route.record import Record


class Expect(Record):
    """A check: the drawing's dimension an operation makes, how it is measured, what it must read.

    name: "feature/dimension". low, nominal, high [mm] (or degrees where unit says so). with_: the
    instrument. stack_low, stack_high: gauge blocks where a stack is used [mm]. first_off: measured
    on the first copy and written in the box; else a spot check on the rest. hold_low, hold_high:
    closer limits to hold here so that every copy and all made later holds, both 0 where the
    drawing's do [mm]; besides: what else that takes.
    """

    name: str
    how: str
    with_: str = ""
    low: float
    nominal: float
    high: float
    text: str = ""
    angle: bool = False
    stack_low: tuple[float, ...] = ()
    stack_high: tuple[float, ...] = ()
    note: str = ""
    hold_low: float = 0.0
    hold_high: float = 0.0
    besides: str = ""


class Made(Record):
    """Which operation makes a dimension of the drawing, and how it is checked (the index)."""

    part: str
    dimension: str
    text: str
    operation: str
    setup: str
    how: str
