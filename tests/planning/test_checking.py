"""What a check is printed with: instrument, limits, gauge stacks."""

from collections import Counter

import pytest

from barstock.drawing.model import Part
from barstock.handbook.gauge_blocks import gauge_set
from barstock.methods.cuts import Check
from barstock.planning.checking import expect
from barstock.quantities import Dimension, Unit, parse_dimension
from barstock.reading.faults import Place
from barstock.workshop.model import Instrument, Workshop


def _shop(sizes: tuple[float, ...]) -> Workshop:
    blocks = Instrument("gauge blocks", "gauge blocks", 0.0, 0.0, 0.0, sizes)
    return Workshop("shop", (), (), (), (), (blocks,), ())


def _part(unit: Unit) -> Part:
    d = Dimension(20.0)
    return Part("part", "brass", 1, d, d, d, (), Place("build.yaml", 1, 1), unit)


@pytest.mark.parametrize(
    ("text", "unit", "set_"),
    [
        ("8.0 +0.05/0", Unit.MM, "112 piece"),
        ("1/4 +.002/0", Unit.INCH, "81 inch"),
        (".3127 +.0005/0", Unit.INCH, "81 inch"),
    ],
)
def test_both_stacks_are_the_limits_and_share_no_block(text: str, unit: Unit, set_: str) -> None:
    size = parse_dimension(text, unit)
    sizes = gauge_set(set_).mm
    made = expect(_part(unit), "slot", Check("width", size, "inside"), _shop(sizes), 0.005)
    assert sum(made.stack_low) == pytest.approx(size.low, abs=1e-5)
    assert sum(made.stack_high) == pytest.approx(size.high, abs=1e-5)
    both = Counter(round(b, 4) for b in (*made.stack_low, *made.stack_high))
    owned = Counter(round(b, 4) for b in sizes)
    assert all(n <= owned[block] for block, n in both.items())


def test_a_set_that_makes_no_limit_gauges_inside_them_and_says_so() -> None:
    size = parse_dimension("8.0 +0.06/+0.01")
    check = Check("width", size, "inside")
    made = expect(_part(Unit.MM), "slot", check, _shop((1.0, 2.0, 5.0, 7.02, 8.05)), 0.005)
    # 7.02 + 1 is the least the set makes from 8.01, 8.05 the most up to 8.06
    assert (sum(made.stack_low), sum(made.stack_high)) == (pytest.approx(8.02), 8.05)
    assert "8.02 mm and 8.05 mm" in made.note


def test_a_set_that_makes_nothing_between_the_limits() -> None:
    check = Check("width", parse_dimension("8.0 +0.06/+0.01"), "inside")
    made = expect(_part(Unit.MM), "slot", check, _shop((1.0, 2.0, 5.0)), 0.005)
    assert made.stack_low == made.stack_high == ()
    assert "no stack between" in made.note
