"""Working limits of a dimension where it is made: closer than drawn, by what others take."""

from __future__ import annotations

from dataclasses import replace

import pytest

from barstock.limits.chains import Chain
from barstock.limits.guarantee import Guarantee, Remedy, guarantees
from barstock.limits.shop import Cause
from barstock.limits.to_hold import with_working_limits
from barstock.planning.route import Expect, Route
from barstock.quantities import INCH, Dimension, Unit

from .conftest import Planned, Shop


@pytest.fixture(scope="module")
def new(planned: Planned) -> Shop:
    return planned("new")


def _checks(route: Route) -> list[Expect]:
    return [c for s in route.setups for o in s.operations for c in o.checks]


def _made(shop: Shop, size: Dimension, room: float, unit: Unit = Unit.MM) -> Guarantee:
    """Some dimension of the route, of that size, its own reading allowed `room` [mm]."""
    some = guarantees(shop.route, shop.build, shop.workshop)[0].asked
    reading = Cause("own reading", "as drawn", "x", 0, -0.005, 0.005, "reading", False)
    stop = Cause("stop", "as drawn", "stop", 0, -0.03, 0.03, "stop", True)
    reading, stop = (replace(c, setup=some.setup.id) for c in (reading, stop))
    chain = Chain("from", "to", ((reading, 1.0), (stop, 1.0)))
    asked = replace(some, dimension=size, chain=chain, unit=unit)
    low, high = size.nominal - 0.035, size.nominal + 0.035
    return Guarantee(asked, low, high, 0.0, (), {"own reading": room})


def _held(shop: Shop, g: Guarantee) -> Expect:
    name = g.asked.check.name
    return next(c for c in _checks(with_working_limits(shop.route, [g])) if c.name == name)


def test_the_stop_takes_its_share_of_the_drawing_s_limits(new: Shop) -> None:
    # 0.1 of room less 0.03 for the stop is 0.07 for what is read
    held = _held(new, _made(new, Dimension(20.0, -0.1, 0.1), room=0.07))
    assert (held.hold_low, held.hold_high) == (19.93, 20.07)
    assert held.besides == ""


def test_limits_are_given_inward_in_figures_that_can_be_read(new: Shop) -> None:
    held = _held(new, _made(new, Dimension(20.0, -0.1, 0.1), room=0.0678))
    assert (held.hold_low, held.hold_high) == (19.94, 20.06)
    held = _held(new, _made(new, Dimension(20.0, -0.1, 0.1), room=0.0178))
    assert (held.hold_low, held.hold_high) == (19.983, 20.017)
    held = _held(new, _made(new, Dimension(INCH, -0.1, 0.1), room=0.07, unit=Unit.INCH))
    # 0.07 mm is 2.756 thou: 2.5 thou of the half thousandths that can be read
    assert (held.hold_low / INCH, held.hold_high / INCH) == pytest.approx((0.9975, 1.0025))


def test_the_drawing_s_own_limits_are_not_repeated(new: Shop) -> None:
    held = _held(new, _made(new, Dimension(20.0, -0.05, 0.05), room=0.05))
    assert (held.hold_low, held.hold_high, held.besides) == (0.0, 0.0, "")


def test_they_lie_about_the_size_worked_to_and_within_the_drawing_s(new: Shop) -> None:
    size = Dimension(8.0, 0.0, 0.05)
    made = _made(new, size, room=0.022)
    cure = Remedy("work to 8.025 mm instead of 8 mm", 0.0, made.chain, 8.025)
    lacking = replace(made, missing=0.035, remedies=(cure,))
    held = _held(new, lacking)
    assert (held.hold_low, held.hold_high) == (8.01, 8.04)  # 8.003 and 8.047, inward
    assert held.besides == cure.words
    wide = _held(new, replace(lacking, allowed={"own reading": 0.04}))
    assert (wide.hold_low, wide.hold_high, wide.besides) == (0.0, 0.0, cure.words)


def test_what_no_cure_can_hold_is_left_as_drawn(new: Shop) -> None:
    lacking = replace(_made(new, Dimension(8.0, 0.0, 0.01), room=0.02), missing=0.05)
    assert _held(new, lacking).hold_high == 0.0


def test_a_whole_route_has_them_inside_the_drawing_s(new: Shop) -> None:
    judged = guarantees(new.route, new.build, new.workshop)
    closer = [c for c in _checks(with_working_limits(new.route, judged)) if c.hold_high]
    assert closer
    for check in closer:
        assert check.low - 1e-9 <= check.hold_low < check.hold_high <= check.high + 1e-9
        assert check.hold_high - check.hold_low < check.high - check.low
