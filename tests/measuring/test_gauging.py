"""Pins, balls, rollers and wires against published sums, and round again."""

from collections.abc import Callable
from dataclasses import replace
from math import cos, hypot, radians, sin, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barstock.handbook.threads import thread
from barstock.measuring.cones import BallInCone, PinInCone
from barstock.measuring.gauging import Gauging, GaugingError
from barstock.measuring.pins import (
    DovetailSlide,
    DovetailSlot,
    HoleCentres,
    HoleFromEdge,
    LeaningSlots,
)
from barstock.measuring.tapers import BoreByBalls, SmallEnd, TaperByBalls, TaperByRollers
from barstock.measuring.wires import ThreeWires, best_wire, wire_range

INCH = 25.4

# Every way, with a range of dimensions it can measure.
WAYS: list[tuple[Gauging, float, float]] = [
    (DovetailSlot(6, 60), 20, 60),
    (DovetailSlot(6, 55, depth=8), 20, 60),
    (DovetailSlide(6, 60), 10, 60),
    (DovetailSlide(5, 45, height=6), 20, 60),
    (LeaningSlots(6, 1.5, stack=10), 15, 40),
    (HoleCentres(3.4, 4.2), 10, 80),
    (HoleCentres(3.4, 4.2, outside=False), 10, 80),
    (HoleFromEdge(10), 6, 80),
    (HoleFromEdge(10, outside=False), 6, 80),
    (PinInCone(2, 90), 2.1, 12),
    (PinInCone(3, 60), 3.1, 12),
    (BallInCone(6, 90), 4.4, 12),
    (BallInCone(6, 60), 5.3, 12),
    (TaperByRollers(50), 0.1, 60),
    (SmallEnd(10, 5.7), 8, 60),
    (TaperByBalls(20, 14), 1, 60),
    (BoreByBalls(20, 18), 20.5, 37.5),
    (ThreeWires(thread("M6"), 0.62), 4.5, 6),
    (ThreeWires(thread("1/4 BSW"), 0.72), 4.5, 6),
    (ThreeWires(thread("2 BA"), 0.45), 3.5, 5),
]


@given(way=st.sampled_from(WAYS), part=st.floats(0, 1))
def test_reading_and_dimension_go_round(way: tuple[Gauging, float, float], part: float) -> None:
    gauging, low, high = way
    size = low + part * (high - low)
    assert gauging.dimension(gauging.reading(size)) == pytest.approx(size, abs=1e-9)


@given(way=st.sampled_from(WAYS), part=st.floats(0.01, 0.98))
def test_sensitivity_is_what_a_wrong_reading_does(
    way: tuple[Gauging, float, float], part: float
) -> None:
    gauging, low, high = way
    size = low + part * (high - low)
    error = 1e-4
    moved = gauging.dimension(gauging.reading(size) + error) - size
    assert moved == pytest.approx(error * gauging.sensitivity(size), rel=0.01)


@given(way=st.sampled_from(WAYS), part=st.floats(0.05, 0.9))
def test_limits_hold_what_lies_between(way: tuple[Gauging, float, float], part: float) -> None:
    gauging, low, high = way
    size = low + part * (high - low)
    step = (high - low) / 50
    least, most = gauging.limits(size - step, size + step)
    assert least < gauging.reading(size) < most


# -- dovetails and slots --------------------------------------------------------------------------


def test_dovetail_of_the_handbook_formula() -> None:
    # 1 inch root, 60 degrees, quarter inch pins: 1 + 0.25 (1 + cot 30) = 1.6830 in; the slot of the
    # same wide flat 1 - 0.6830 (the formula of Machinery's Handbook, Measuring Dovetail Slides).
    pin, wide = 0.25 * INCH, INCH
    assert DovetailSlide(pin, 60).reading(wide) / INCH == pytest.approx(1.6830, abs=5e-5)
    assert DovetailSlot(pin, 60).reading(wide) / INCH == pytest.approx(0.3170, abs=5e-5)


def test_a_pin_too_large_for_its_flank_is_refused_and_the_largest_is_named() -> None:
    """In a 60° corner a pin touches the flank D (1 + cos 60°) / 2 = 0.75 D above the floor."""
    with pytest.raises(GaugingError, match=r"one of 5\.33 mm at most"):  # 4 / 0.75
        DovetailSlot(pin=10, angle=60, depth=4)
    with pytest.raises(GaugingError, match=r"one of 5\.33 mm at most"):
        DovetailSlide(pin=10, angle=60, height=4)
    assert DovetailSlot(pin=5.33, angle=60, depth=4).reading(20) > 0


def test_two_pins_that_do_not_go_in_side_by_side_are_refused() -> None:
    """Two pins take D (1 + cot 30°) = 2.732 D of the floor."""
    with pytest.raises(GaugingError, match=r"under 7\.32 mm"):  # 20 / 2.732
        DovetailSlot(pin=10, angle=60).reading(20)
    assert DovetailSlot(pin=7.3, angle=60).reading(20) > 0


def test_dovetail_width_from_its_depth() -> None:
    # A home machinist's sum: 20 mm root, 4 mm high, 60 degrees: 20 + 2 x 2.3094 = 24.6188 across.
    root = DovetailSlide(5, 60).reading(20)
    assert DovetailSlide(5, 60, height=4).dimension(root) == pytest.approx(24.6188, abs=5e-5)
    assert DovetailSlot(5, 60, depth=4).dimension(
        DovetailSlot(5, 60).reading(24.6188)
    ) == pytest.approx(20.0, abs=5e-5)


@given(width=st.floats(15, 40), lean=st.floats(-5, 5), stack=st.floats(0, 30))
def test_pins_lie_square_on_leaning_floors(width: float, lean: float, stack: float) -> None:
    # The pin's centre is half its diameter square off the floor's line: a point-to-line distance.
    pin = 6.0
    reading = LeaningSlots(pin, lean, stack).reading(width)
    along, up = stack + pin / 2, (reading - pin) / 2
    direction = (cos(radians(lean)), -sin(radians(lean)))  # from (0, width / 2)
    off = direction[0] * (up - width / 2) - direction[1] * along
    assert off == pytest.approx(pin / 2, abs=1e-9)


def test_level_slots_measure_plainly() -> None:
    assert LeaningSlots(6, 0, stack=10).reading(23) == 23 + 2 * 6


# -- countersinks ---------------------------------------------------------------------------------


def test_plug_in_a_groove_of_an_army_text() -> None:
    # U.S. Army ordnance course, shop mathematics: a 1 inch plug in a 65 degree V cut 1.1 deep in a
    # block 1.5 high stands 0.9305788 + 0.4 + 0.5 = 1.8306 from the base.
    top = 2 * 1.1 * tan(radians(32.5))
    above = BallInCone(INCH, 65).reading(top * INCH) / INCH
    assert above + 1.5 == pytest.approx(1.8306, abs=5e-5)


@pytest.mark.parametrize("angle", [60, 82, 90, 100, 120])
@given(half=st.floats(1, 5), part=st.floats(0.2, 0.95))
def test_ball_touches_the_cone(angle: float, half: float, part: float) -> None:
    # The ball's centre lies its radius away from the cone's side: a point-to-line distance.
    slope = radians(angle / 2)
    ball = 2 * half * part / cos(slope)
    depth = ball / 2 - BallInCone(ball, angle).reading(2 * half)
    apex = half / tan(slope)
    assert (apex - depth) * sin(slope) == pytest.approx(ball / 2, abs=1e-9)


def test_ninety_degree_cone_is_as_deep_as_half_its_growth() -> None:
    # tan 45 = 1: from a 3.2 hole to 6.0 across is 1.4 deep.
    assert PinInCone(3.2, 90).reading(6.0) == pytest.approx(1.4)
    # 82 degrees: depth is 0.5752 of the diameter difference (cot 41 / 2), as countersink charts.
    assert PinInCone(0.001, 82).reading(1.001) == pytest.approx(0.5752, abs=5e-5)


# -- tapers and bores -----------------------------------------------------------------------------


def test_two_balls_of_a_metrology_exercise() -> None:
    # Balls 40 and 32 mm, the large one proud by 8, the small one's top 76 below: examination
    # question; the centres are 84 - 20 + 16 = 80 apart, sin = 4 / 80, included 5.732 degrees.
    assert TaperByBalls(40, 32).dimension(8 + 76) == pytest.approx(5.732, abs=5e-4)


def test_two_balls_of_another_exercise() -> None:
    # Balls 12 and 8 mm, heights 25 and 15 mm: sin = 2 / (10 - 2), 14.47, included 28.95 degrees.
    assert TaperByBalls(12, 8).dimension(25 - 15) == pytest.approx(28.955, abs=5e-3)


def test_morse_taper_by_rollers() -> None:
    # Morse taper No 2 is 0.04995 of diameter to one of length, half angle 1 degree 25 minutes 50
    # seconds (ISO 296, from memory).
    angle = TaperByRollers(50).dimension(0.04995 * 50)
    assert angle == pytest.approx(2 * (1 + 25 / 60 + 50 / 3600), abs=2 / 3600)


@given(small=st.floats(5, 40), angle=st.floats(0, 40), roller=st.floats(3, 15))
def test_roller_beside_a_taper_touches_plate_and_plug(
    small: float, angle: float, roller: float
) -> None:
    lean = radians(angle / 2)
    x = (SmallEnd(roller, angle).reading(small) - roller) / 2 - small / 2
    # Centre (x, roller / 2) from the plug's foot; its side runs along (sin lean, cos lean).
    assert x * cos(lean) - roller / 2 * sin(lean) == pytest.approx(roller / 2, abs=1e-9)


@given(lower=st.floats(10, 20), upper=st.floats(10, 20), part=st.floats(0.02, 0.98))
def test_balls_in_a_bore_touch_each_other(lower: float, upper: float, part: float) -> None:
    least = max(lower, upper)
    bore = least + part * (lower + upper - least)
    height = BoreByBalls(lower, upper).reading(bore)
    rise = height - (lower + upper) / 2
    across = bore - (lower + upper) / 2
    assert hypot(rise, across) == pytest.approx((lower + upper) / 2, abs=1e-9)


def test_two_balls_in_a_bore_by_pythagoras() -> None:
    # 3, 4, 5: balls of 5 in a bore of 9 have centres 4 across and so 3 up: 8 high.
    assert BoreByBalls(5, 5).reading(9) == pytest.approx(8)


# -- threads --------------------------------------------------------------------------------------


def test_three_wires_of_a_turning_treatise() -> None:
    # Jones, Turning and Boring (1914): 1-1/2 inch, 6 threads, wires 0.140 in: 1.6674 in. Its U.S.
    # standard thread has today's 60 degrees and effective diameter.
    form = replace(thread("1/2-13 UNC"), name="1-1/2-6", major=1.5 * INCH, pitch=INCH / 6)
    reading = ThreeWires(form, 0.140 * INCH).reading(form.effective)
    assert reading / INCH == pytest.approx(1.6674, abs=5e-5)


def test_three_wires_of_a_model_engineering_society() -> None:
    # Its sheet's example: 7/16-14, wires 0.045 in: 0.464 in.
    form = thread("7/16-14 UNC")
    assert ThreeWires(form, 0.045 * INCH).reading(form.effective) / INCH == pytest.approx(
        0.464, abs=5e-4
    )


# A sheet of thread measuring wire formulas (its numbers are those of U.S. Handbook H28): best wire
# in pitches, and E = M - (a wires - b pitches).
@pytest.mark.parametrize(
    ("name", "best", "a", "b"),
    [
        ("M6", 0.57735, 3, 0.86603),
        ("1/4-20 UNC", 0.57735, 3, 0.86603),
        ("1/4 BSW", 0.56369, 3.16568, 0.96049),
        ("2 BA", 0.54626, 3.4829, 1.13634),
    ],
)
def test_published_wire_formulas(name: str, best: float, a: float, b: float) -> None:
    form = thread(name)
    wire = 0.6 * form.pitch
    assert best_wire(form) / form.pitch == pytest.approx(best, abs=6e-6)
    effective = 5 - (a * wire - b * form.pitch)
    assert ThreeWires(form, wire).dimension(5) == pytest.approx(effective, abs=5e-5)


def test_published_range_of_wires() -> None:
    # Least 0.505182, greatest 1.010363 of the pitch for 60 degree threads (as printed in guides to
    # the three-wire method).
    low, high = wire_range(thread("M6"))
    assert (low, high) == (pytest.approx(0.505182, abs=1e-6), pytest.approx(1.010363, abs=1e-6))


@given(name=st.sampled_from(["M3", "M10", "1/4-20 UNC", "3/8 BSW", "1/4 x 40", "0 BA", "8 BA"]))
def test_the_best_wire_always_seats(name: str) -> None:
    form = thread(name)
    low, high = wire_range(form)
    assert low < best_wire(form) < high
    assert ThreeWires(form, best_wire(form)).reading(form.effective) > form.major


# -- what cannot be -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fails", "words"),
    [
        (lambda: DovetailSlot(0, 60), "pin must be above zero"),
        (lambda: DovetailSlot(6, 95), "between 0 and 90"),
        (lambda: PinInCone(3, 90).reading(2), "does not go into"),
        (lambda: PinInCone(3, 90).dimension(-1), "not negative"),
        (lambda: BallInCone(4, 90, hole=3), "drops into the 3 mm hole; take one above 4.24"),
        (lambda: BallInCone(12, 90).reading(8), "sits on the edge.*under 11.3"),
        (lambda: BallInCone(12, 90).dimension(11), "sits on the edge"),
        (lambda: TaperByBalls(10, 12), "larger than the small"),
        (lambda: TaperByBalls(12, 10).dimension(1), "more than 2 mm below"),
        (lambda: BoreByBalls(10, 10).reading(25), "do not lean on each other"),
        (lambda: BoreByBalls(10, 10).dimension(25), "10 to 20 mm high"),
        (lambda: ThreeWires(thread("M6"), 0.3), "does not seat on M6"),
    ],
)
def test_faults_are_told(fails: Callable[[], object], words: str) -> None:
    with pytest.raises(GaugingError, match=words):
        fails()
