"""Working limits of a dimension where it is made: closer than drawn, by what others take."""

from __future__ import annotations

from dataclasses import replace

import pytest

from barstock.drawing.dimension_runs import CheckSort
from barstock.quantities import INCH, Dimension, Unit
from barstock.route import Expect, Route
from barstock.route.statements import Remedy, RemedyKind
from barstock.tolerancing.chains import Chain
from barstock.tolerancing.first_off_limits import with_working_limits
from barstock.tolerancing.guarantee import Cure, Guarantee, guarantees
from barstock.tolerancing.shop_errors import Cause, CauseKind
from barstock.words.checks import read
from barstock.words.reader import Reader
from barstock.workshop.shop import Instrument

from .conftest import Planned, Shop


@pytest.fixture(scope="module")
def new(planned: Planned) -> Shop:
    return planned("new")


def _checks(route: Route) -> list[Expect]:
    return [c for s in route.setups for o in s.operations for c in o.checks]


def _made(shop: Shop, size: Dimension, room: float, unit: Unit = Unit.MM) -> Guarantee:
    """Some dimension of the route, of that size, its own reading allowed `room` [mm]."""
    some = guarantees(shop.route, shop.build, shop.workshop)[0].asked
    reading = Cause("own reading", 0, -0.005, 0.005, CauseKind.READING, False)
    stop = Cause("stop", 0, -0.03, 0.03, CauseKind.STOP, True)
    reading, stop = (replace(c, setup=some.setup.id) for c in (reading, stop))
    chain = Chain(((reading, 1.0), (stop, 1.0)))
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
    assert held.besides == ()


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
    assert (held.hold_low, held.hold_high, held.besides) == (0.0, 0.0, ())


def test_they_lie_about_the_size_worked_to_and_within_the_drawing_s(new: Shop) -> None:
    size = Dimension(8.0, 0.0, 0.05)
    made = _made(new, size, room=0.022)
    work_to = Remedy(
        kind=RemedyKind.WORK_TO,
        names={"axis": "X"},
        lengths={"aim": 8.025, "nominal": 8.0, "by": 0.025},
    )
    cure = Cure((work_to,), 0.0, made.chain, 8.025)
    lacking = replace(made, missing=0.035, cures=(cure,))
    held = _held(new, lacking)
    assert (held.hold_low, held.hold_high) == (8.01, 8.04)  # 8.003 and 8.047, inward
    assert held.besides == cure.remedies
    wide = _held(new, replace(lacking, allowed={"own reading": 0.04}))
    assert (wide.hold_low, wide.hold_high, wide.besides) == (0.0, 0.0, cure.remedies)


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


@pytest.mark.parametrize(
    ("sample", "part"),
    [("wagon", "axlebox"), ("wagon", "keep plate"), ("wagon", "brake hanger bracket"),
     ("bracket", ""), ("new", "")],
)  # fmt: skip
def test_what_is_to_be_held_lies_about_what_is_dialled(
    planned: Planned, sample: str, part: str
) -> None:
    """Or beside it stands by how much to move the printed reading."""
    shop = planned(sample, parts=(part,) if part else ())
    route = with_working_limits(
        shop.route,
        guarantees(shop.route, shop.build, shop.workshop),
        shop.workshop.instruments,
    )
    step = 0.0005 * INCH  # the coarse figure that limits are given inward to
    held = [c for c in _checks(route) if c.hold_high]
    assert held
    for check in held:
        middle = (check.hold_low + check.hold_high) / 2
        moved = any(one.kind is RemedyKind.WORK_TO for one in check.besides)
        assert moved or abs(middle - check.nominal) <= step, check.name


CALIPER = Instrument("my caliper", "caliper", 0.01, 0.0, 150.0)
OUTSIDE = Instrument("my micrometer", "micrometer", 0.01, 0.0, 25.0)


@pytest.mark.parametrize(
    ("room", "owned", "tool", "said"),
    [
        (0.04, (CALIPER,), "my caliper", False),
        # a caliper tells ±0.02, a micrometer ±0.005 (common practice)
        (0.01, (CALIPER, OUTSIDE), "my micrometer", False),
        (0.01, (CALIPER,), "my caliper", True),
        (0.002, (CALIPER, OUTSIDE), "my caliper", True),
    ],
)
def test_what_is_to_be_held_is_measured_by_what_tells_it_or_it_is_said(
    new: Shop, room: float, owned: tuple[Instrument, ...], tool: str, said: bool
) -> None:
    made = _made(new, Dimension(20.0, -0.1, 0.1), room=room)
    check = made.asked.check.model_copy(
        update={"with_": "my caliper", "read": (), "sort": CheckSort.OUTSIDE}
    )
    operation = made.asked.operation
    checks = tuple(check if c.name == check.name else c for c in operation.checks)
    changed = operation.model_copy(update={"checks": checks})
    setups = [
        s.model_copy(
            update={"operations": tuple(changed if o == operation else o for o in s.operations)}
        )
        for s in new.route.setups
    ]
    route = new.route.model_copy(update={"setups": tuple(setups)})
    asked = replace(made.asked, operation=changed, check=check)
    found = with_working_limits(route, [replace(made, asked=asked)], owned)
    held = next(c for c in _checks(found) if c.name == check.name)
    assert held.with_ == tool
    told = " ".join(read(one, Reader(Unit.MM)) for one in held.read)
    assert ("closer than the my caliper tells, ±0.02 mm" in told) == said
