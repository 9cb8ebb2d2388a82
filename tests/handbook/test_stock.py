"""Gauge sets, spring wire, brazing alloys and bars."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barstock.handbook.bar_sections import sections, sections_for
from barstock.handbook.brazing import ALLOYS, FLUXES, REFUSED, CadmiumError, brazing_alloy
from barstock.handbook.gauge_blocks import GAUGE_SETS
from barstock.handbook.spring_grades import wire_grade
from barstock.handbook.spring_wire import GRADES, MUSIC_WIRE, SWG, UnknownWireError
from barstock.quantities import Unit


def test_no_set_holds_a_block_twice() -> None:
    assert all(len(set(each.sizes)) == len(each.sizes) for each in GAUGE_SETS.values())


def test_worked_stacks_can_be_taken_from_their_sets() -> None:
    # National Physical Laboratory, length FAQ: 58.345 mm with an M112 set
    stack = {1.005, 1.04, 1.30, 5, 50}
    assert stack <= set(GAUGE_SETS["112 piece"].sizes)
    assert sum(stack) == pytest.approx(58.345)
    # a gauge block maker's worked example: 3.9762 in with an 81 piece set
    stack = {0.1002, 0.126, 0.75, 3.0}
    assert stack <= set(GAUGE_SETS["81 piece inch"].sizes)
    assert sum(stack) == pytest.approx(3.9762)


@given(st.sampled_from(sorted(GRADES)), st.floats(1, 6.5), st.floats(1, 6.5))
def test_thinner_wire_is_stronger(grade: str, a: float, b: float) -> None:
    assert wire_grade(grade).strength(min(a, b)) >= wire_grade(grade).strength(max(a, b))


def test_gauges_run_in_order_and_wrong_wire_is_refused() -> None:
    assert all(a > b for a, b in pairwise(SWG.values()))
    assert all(a < b for a, b in pairwise(MUSIC_WIRE.values()))
    with pytest.raises(UnknownWireError, match="SM"):
        wire_grade("XX")


def test_alloys_add_up_to_100_and_melt_upwards() -> None:
    for alloy in (*ALLOYS.values(), *REFUSED.values()):
        assert sum(alloy.parts.values()) == pytest.approx(100), alloy.name
        assert alloy.solidus <= alloy.liquidus
        assert ("Cd" in alloy.parts) == (alloy.name in REFUSED)


def test_cadmium_is_refused_by_name() -> None:
    with pytest.raises(CadmiumError, match="fume kills"):
        brazing_alloy("Ag 345")


def test_every_alloy_has_a_flux_that_is_awake_at_its_heat() -> None:
    for alloy in ALLOYS.values():
        ranges = [f for f in FLUXES.values() if f.name.startswith("FH")]
        assert any(f.low <= alloy.solidus and alloy.liquidus + 30 <= f.high for f in ranges)


@given(st.floats(3, 40), st.floats(3, 20), st.sampled_from(list(Unit)))
def test_bars_offered_hold_the_part(width: float, height: float, unit: Unit) -> None:
    wide, high = max(width, height), min(width, height)
    found = sections_for(width, height, unit)
    assert all(s.width >= wide - 1e-6 and s.height >= high - 1e-6 for s in found)
    assert sorted(found, key=lambda s: s.width * s.height) == found


def test_a_shape_no_one_sells() -> None:
    with pytest.raises(ValueError, match="hexagon"):
        sections("octagon")
