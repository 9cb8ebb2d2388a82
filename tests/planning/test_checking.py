"""What a check is printed with: instrument, limits, gauge stacks."""

from collections import Counter

import pytest

from barstock.drawing.build import Face, Part
from barstock.drawing.dimension_runs import CheckSort, End, EndKind, Runs, between, from_face
from barstock.handbook.gauge_blocks import gauge_set
from barstock.methods.cuts import Check
from barstock.planning.plan import plan_build
from barstock.planning.values.dimension_checks import expect
from barstock.quantities import Dimension, Unit, parse_dimension
from barstock.reading.faults import Place
from barstock.route import Expect
from barstock.words.checks import checked_with, read
from barstock.words.reader import Reader
from barstock.workshop.shop import Instrument, Workshop

from .conftest import only, sample

DOWN = between(EndKind.MOUTH, EndKind.FULL_DIAMETER)
IN_ROW = End(EndKind.HOLE, axis=0), End(EndKind.NEXT_HOLE, axis=0)
FROM_CENTRE = End(EndKind.CENTRE_LINE, axis=1), End(EndKind.HOLE)


def _note(check: Expect) -> str:
    """All that is told of how a check is read."""
    return "; ".join(read(one, Reader(Unit.MM)) for one in check.read)


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
    made = expect(_part(unit), "slot", Check("width", size, CheckSort.INSIDE), _shop(sizes), 0.005)
    assert sum(made.stack_low) == pytest.approx(size.low, abs=1e-5)
    assert sum(made.stack_high) == pytest.approx(size.high, abs=1e-5)
    both = Counter(round(b, 4) for b in (*made.stack_low, *made.stack_high))
    owned = Counter(round(b, 4) for b in sizes)
    assert all(n <= owned[block] for block, n in both.items())


def test_a_set_that_makes_no_limit_gauges_inside_them_and_says_so() -> None:
    size = parse_dimension("8.0 +0.06/+0.01")
    check = Check("width", size, CheckSort.INSIDE)
    made = expect(_part(Unit.MM), "slot", check, _shop((1.0, 2.0, 5.0, 7.02, 8.05)), 0.005)
    # 7.02 + 1 is the least the set makes from 8.01, 8.05 the most up to 8.06
    assert (sum(made.stack_low), sum(made.stack_high)) == (pytest.approx(8.02), 8.05)
    assert "8.02 mm and 8.05 mm" in _note(made)


def test_a_set_that_makes_nothing_between_the_limits() -> None:
    check = Check("width", parse_dimension("8.0 +0.06/+0.01"), CheckSort.INSIDE)
    made = expect(_part(Unit.MM), "slot", check, _shop((1.0, 2.0, 5.0)), 0.005)
    assert made.stack_low == made.stack_high == ()
    assert "no stack between" in _note(made)


CALIPER = Instrument("caliper", "caliper", 0.01, 0.0, 150.0)
PINS = Instrument("pins", "pins", sizes=(2.4, 2.5))


def _owning(*instruments: Instrument) -> Workshop:
    return Workshop("shop", (), (), (), (), instruments, ())


@pytest.mark.parametrize(
    ("runs", "at", "hole", "said"),
    [
        # 30 - 4.5 / 2, and the limits with it
        (
            from_face(Face.LEFT, EndKind.HOLE),
            "30 ±0.1",
            4.5,
            "from the left to the hole's near wall 27.75 mm (27.65 mm to 27.85 mm)",
        ),
        # half of 20, less 4 from the middle, less half of 5
        (FROM_CENTRE, "4 ±0.1", 5.0, "3.5 mm (3.4 mm to 3.6 mm)"),
        # a caliper's jaws do not enter 2.5: over the pin owned, 12 + 2.5 / 2
        (from_face(Face.FRONT, EndKind.HOLE), "12 ±0.1", 2.5, "2.5 mm pin in it 13.25 mm"),
        (IN_ROW, "30 ±0.1", 5.0, "25 mm (24.9 mm to 25.1 mm)"),
    ],
)
def test_a_holes_place_is_read_from_its_wall_or_a_pin(
    runs: Runs, at: str, hole: float, said: str
) -> None:
    """Sums of plane geometry."""
    check = Check("place", parse_dimension(at), CheckSort.POSITION, runs, hole=hole)
    made = expect(_part(Unit.MM), "hole", check, _owning(CALIPER, PINS), 0.005)
    assert said in _note(made)


def test_a_round_hollows_place_is_read_as_a_holes() -> None:
    middle = from_face(Face.RIGHT, EndKind.MIDDLE)
    check = Check("from right", parse_dimension("20 ±0.1"), CheckSort.POSITION, middle, hole=8.0)
    made = expect(_part(Unit.MM), "well", check, _owning(CALIPER), 0.005)
    assert checked_with(made) == "from the right, caliper"
    # 20 less half of 8
    assert _note(made).startswith("from the right to the hole's near wall 16 mm")


def test_a_hole_is_measured_when_it_is_there() -> None:
    build, workshop = sample("wagon")
    route = plan_build(only(build, "rocker"), workshop)
    steps = [(o.id, c) for s in route.setups for o in s.operations for c in o.checks]
    places = [(id, c) for id, c in steps if checked_with(c).startswith("centre from")]
    assert places
    for operation, check in places:
        assert not operation.endswith("/spot")
        assert "near wall" in _note(check) or "pin" in _note(check)


def test_a_leg_by_caliper_and_a_radius_by_what_is_owned() -> None:
    leg = Check("bevel", parse_dimension("0.5 ±0.2"), CheckSort.BEVEL)
    round_ = Check("radius", parse_dimension("5 ±0.5"), CheckSort.RADIUS)
    micrometer = Instrument("micrometer", "micrometer", 0.01, 0.0, 25.0)
    shop = _owning(micrometer, CALIPER)
    assert expect(_part(Unit.MM), "edge", leg, shop, 0.0).with_ == "caliper"
    made = expect(_part(Unit.MM), "edge", round_, shop, 0.0)
    assert made.with_ == ""
    assert "10 mm across" in _note(made)
    gauge = Instrument("radius gauge", "radius gauge")
    assert expect(_part(Unit.MM), "edge", round_, _owning(gauge), 0.0).with_ == "radius gauge"


def test_nothing_is_coarse_for_limits_there_are_not() -> None:
    check = Check("depth", Dimension(6.0), CheckSort.POSITION)
    assert expect(_part(Unit.MM), "seat", check, _owning(CALIPER), 0.0).read == ()


def _by_pins(text: str, *others: Instrument) -> Expect:
    """A bore so wide, checked with pins by 0.1 mm and what else is owned."""
    tenths = Instrument("pins", "pins", sizes=tuple(n / 10 for n in range(10, 101)))
    check = Check("bore", parse_dimension(text), CheckSort.DIAMETER)
    return expect(_part(Unit.MM), "hole", check, _owning(tenths, *others), 0.005)


def test_the_go_and_the_not_go_pin_are_named() -> None:
    """Both between the limits: what passes is good, by Taylor's principle (ISO 1938-1)."""
    made = _by_pins("4.5 ±0.2")
    assert made.with_ == "pins"
    assert _note(made) == "the 4.3 mm pin enters, the 4.7 mm does not"


def test_pins_that_cannot_tell_are_told_of_and_what_can_is_taken_first() -> None:
    text = "4.7625 +0.0127/0"
    assert "buy a pin of 4.7625 mm" in _note(_by_pins(text))  # as the drawing has it
    assert "4.775 mm" in _note(_by_pins(text))
    fine = Instrument("inside micrometer", "inside micrometer", 0.002, 0.0, 25.0)
    assert _by_pins(text, fine).with_ == "inside micrometer"


DEPTH = Instrument("depth micrometer", "depth micrometer", 0.01, 0.0, 50.0, rod=4.0)
SLIM = Instrument("caliper", "caliper", 0.01, 0.0, 150.0, rod=2.0)


@pytest.mark.parametrize(
    ("hole", "tool", "said"),
    [
        (5.0, "depth micrometer", ""),
        (3.3, "caliper", ""),
        # nothing owned goes down 1.6 mm: by what stands in it (common practice)
        (1.6, "caliper", "stand the drill in the hole, shank down"),
    ],
)
def test_a_depth_is_measured_by_what_goes_down_the_hole(hole: float, tool: str, said: str) -> None:
    check = Check("depth", parse_dimension("6 ±0.1"), CheckSort.DEPTH, DOWN, hole=hole)
    made = expect(_part(Unit.MM), "hole", check, _owning(DEPTH, SLIM), 0.005)
    assert made.with_ == tool
    assert said in _note(made)
    assert bool(said) == bool(made.read)


def test_a_threads_depth_is_checked_after_the_tap_and_the_drills_before_it() -> None:
    build, shop = sample("wagon")
    route = plan_build(only(build, "axlebox"), shop)
    found = {
        (c.name, o.cutter.kind.value): c
        for s in route.setups
        for o in s.operations
        for c in o.checks
        if c.name in ("cover screws/depth", "cover screws/drill depth")
    }
    assert set(found) == {("cover screws/depth", "tap"), ("cover screws/drill depth", "drill")}
    thread = found["cover screws/depth", "tap"]
    assert (thread.nominal, thread.with_) == (5.0, "caliper")
    assert "screw of known length" in _note(thread)
    assert found["cover screws/drill depth", "drill"].nominal == 6.5
