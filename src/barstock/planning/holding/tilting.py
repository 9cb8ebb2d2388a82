"""Chooses how work is set to a tilt before it is gripped: sine bar, dial indicator or table."""

from __future__ import annotations

from math import radians, tan

from barstock.measuring.angles import rise, sine_height, sine_setting
from barstock.measuring.stacks import StackError
from barstock.quantities import INCH, Unit
from barstock.route import TiltBy, TiltSetting
from barstock.workshop.shop import Workshop

SINE_BAR_WIDE = 25.0  # a sine bar is hardly ever narrower [mm]; common practice
SWEPT = 0.8  # of the work's length that a dial indicator is run along; common practice
MOST_RISE = 8.0  # that a dial indicator shows at once [mm]; common practice
LEAST_TRAVEL = 5.0  # over which a dial indicator is run along the work [mm]; common practice


def tilting(
    angle: float, opening: float, length: float, workshop: Workshop, unit: Unit
) -> TiltSetting:
    """How to set work to `angle` [degrees] where the jaws stand `opening` apart.

    length: of the work along the jaws [mm]; unit: of its drawing, whose round figures are taken.
    """
    if workshop.sine_bar and opening > SINE_BAR_WIDE:
        found = _sine_bar(angle, workshop)
        if found is not None:
            return found
    if abs(angle) <= workshop.tilting_table:
        return TiltSetting(by=TiltBy.TILTING_TABLE)
    if any(i.kind == TiltBy.DIAL_INDICATOR for i in workshop.instruments):
        most = min(SWEPT * length, MOST_RISE / tan(radians(abs(angle))))
        if most >= LEAST_TRAVEL:
            return _indicator(angle, most, unit)
    return TiltSetting(by=TiltBy.PROTRACTOR)


def _sine_bar(angle: float, workshop: Workshop) -> TiltSetting | None:
    """The work laid on it between the jaws; None where the gauge blocks do not make the height."""
    gauge = next((i for i in workshop.instruments if i.kind == "gauge blocks"), None)
    if gauge is None:
        return TiltSetting(by=TiltBy.SINE_BAR, height=sine_height(angle, workshop.sine_bar))
    try:
        setting = sine_setting(angle, workshop.sine_bar, gauge.sizes)
    except StackError:
        return None
    blocks = tuple(setting.stack.blocks)
    return TiltSetting(by=TiltBy.SINE_BAR, height=sum(blocks), blocks=blocks)


def _indicator(angle: float, most: float, unit: Unit) -> TiltSetting:
    """The work's own top as the sine bar, where a bar is too wide to go between the jaws. most:
    that it may be run over [mm]."""
    travel = max(LEAST_TRAVEL, 5.0 * int(most / 5.0))
    if unit is Unit.INCH:
        travel = INCH * max(0.2, int(most / 2.54) / 10)
    return TiltSetting(by=TiltBy.DIAL_INDICATOR, over=travel, rise=rise(angle, travel))
