"""Chains, working limits and fits against worked examples and plane probability."""

from itertools import product
from math import erf, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barstock.drawing.size_distribution import Law
from barstock.handbook.iso_fits import fit
from barstock.quantities import Dimension
from barstock.tolerancing.by_chance import root_sum_square, throw
from barstock.tolerancing.chains import Chain, ChainError, Link, together
from barstock.tolerancing.clearance import Coat, Fit
from barstock.tolerancing.working_limits import fill

# A worked stack-up from a tolerancing article: bore depth 40 ±0.10 less spacer 25 ±0.05, ring
# 2 ±0.03 and shoulder 10 ±0.05 leaves 3.00; all four lie end to end.
DEPTH = Link("depth", 40, -0.10, 0.10)
SPACER = Link("spacer", 25, -0.05, 0.05)
RING = Link("ring", 2, -0.03, 0.03)
SHOULDER = Link("shoulder", 10, -0.05, 0.05)
GAP = Chain(((DEPTH, 1), (SPACER, -1), (RING, -1), (SHOULDER, -1)))


def test_a_published_stack_up() -> None:
    assert GAP.nominal == pytest.approx(3.0)
    # Worst case: 0.10 + 0.05 + 0.03 + 0.05 = 0.23 either way.
    assert (GAP.low, GAP.high) == (pytest.approx(2.77), pytest.approx(3.23))
    # By chance: sqrt(0.10² + 0.05² + 0.03² + 0.05²) = 0.126.
    assert root_sum_square(GAP) == pytest.approx(0.1261, abs=5e-5)


def test_ten_plates_of_a_tenth() -> None:
    # From a page on statistical stack-up: ten of ±0.1 are ±1.0 at the worst, ±0.316 by chance.
    plates = [Link(f"plate {n}", 5, -0.1, 0.1) for n in range(10)]
    pile = Chain(tuple((plate, 1) for plate in plates))
    assert pile.high - pile.nominal == pytest.approx(1.0)
    assert root_sum_square(pile) == pytest.approx(0.316, abs=5e-4)


@st.composite
def sums(draw: st.DrawFn) -> Chain:
    """Some links laid end to end, each gone along, against, or in part."""
    errors, times = st.integers(0, 30), st.sampled_from([1.0, -1.0, 0.5])
    links = [
        Link(f"k{n}", draw(st.integers(0, 50)), -draw(errors) / 100,
             draw(errors) / 100)
        for n in range(draw(st.integers(1, 7)))
    ]  # fmt: skip
    return Chain(tuple((link, draw(times)) for link in links))


@given(found=sums())
@settings(max_examples=100, deadline=None)
def test_the_worst_case_is_reached_and_never_passed(found: Chain) -> None:
    corners = [
        sum(
            times * (link.nominal + off)
            for (link, times), off in zip(found.links, offs, strict=True)
        )
        for offs in product(*[(link.minus, link.plus) for link, _ in found.links])
    ]
    assert found.low == pytest.approx(min(corners), abs=1e-9)
    assert found.high == pytest.approx(max(corners), abs=1e-9)


# -- the datum changes ------------------------------------------------------------------------

# A slot dimensioned from the bottom. In the first setup the bottom is cut from zero 1; the work is
# turned over and rests on the bottom's opposite, so that zero 2 is found on the top face.
BOTTOM = Link("bottom cut", 0, -0.01, 0.01)
TOP = Link("top cut", 22, -0.01, 0.01)
FOUND = Link("zero found", 0, -0.02, 0.02)
CUT = Link("slot cut", -14, -0.01, 0.01)
THICK = Chain(((BOTTOM, -1), (TOP, 1)))
SLOT = Chain((*THICK.links, (FOUND, 1), (CUT, 1)))
FLOORS = {link.name: link.plus for link, _ in SLOT.links}


def test_turning_over_costs_the_zero() -> None:
    # From the bottom to the slot: bottom, top, zero and slot, ±0.01 + 0.01 + 0.02 + 0.01 = ±0.05.
    assert (SLOT.low, SLOT.nominal, SLOT.high) == pytest.approx((7.95, 8, 8.05))
    assert (THICK.low, THICK.high) == pytest.approx((21.98, 22.02))


def test_working_limits_use_all_the_room() -> None:
    # The thickness fills first: 0.03 shared by two alike is 0.015 each, 1.5 times what is held.
    # The slot has 0.10 - 0.03 = 0.07 left for the zero and its cut, as 2 to 1.
    assert fill(FLOORS, [(SLOT, 0.10), (THICK, 0.03)]) == {
        "bottom cut": pytest.approx(0.015),
        "top cut": pytest.approx(0.015),
        "zero found": pytest.approx(0.07 * 2 / 3),
        "slot cut": pytest.approx(0.07 / 3),
    }


PLACED = [Link(f"k{n}", 1, -0.01 * (n + 1), 0.01 * (n + 1)) for n in range(6)]


@given(
    asked=st.lists(
        st.tuples(st.sets(st.sampled_from(PLACED), min_size=1), st.integers(0, 200)),
        min_size=1,
        max_size=4,
    )
)
@settings(max_examples=150, deadline=None)
def test_working_limits_guarantee_the_drawing(asked: list[tuple[set[Link], int]]) -> None:
    """Every room is kept, no link is held closer than the shop holds it, and one room is full."""
    chains = []
    for links, spare in asked:
        least = sum(link.plus for link in links)
        some = tuple((link, 1.0) for link in sorted(links, key=lambda link: link.name))
        chains.append((Chain(some), least + spare / 100))
    got = fill({link.name: link.plus for link in PLACED}, chains)
    assert all(got[link.name] >= link.plus - 1e-8 for link in PLACED)
    left = [room - sum(got[link.name] for link, _ in found.links) for found, room in chains]
    assert min(left) == pytest.approx(0, abs=1e-6)


# -- chance -----------------------------------------------------------------------------------


def one(low: float, high: float, name: str = "x") -> Link:
    return Link(name, 0, low, high)


def test_normal_links_add_their_squares() -> None:
    got = throw(GAP, (2.9, 3.1), samples=400_000)
    deviation = root_sum_square(GAP) / 3
    assert got.mean == pytest.approx(3.0, abs=5e-4)
    assert got.deviation == pytest.approx(deviation, rel=0.01)
    # The normal law's share beyond 0.1: 1 - erf(0.1 / (sqrt 2 deviation)).
    assert got.outside == pytest.approx(1 - erf(0.1 / sqrt(2) / deviation), abs=1e-3)
    assert (got.low, got.high) == (
        pytest.approx(3 - 3 * deviation, abs=2e-3),
        pytest.approx(3 + 3 * deviation, abs=2e-3),
    )


def test_two_even_links_make_a_triangle() -> None:
    # Each ±1: their sum is a triangle over ±2; beyond 1 lies (2 - 1)² / 4 = a quarter, both sides.
    pair = Chain(((one(-1, 1, "x"), 1), (one(-1, 1, "y"), -1)))
    assert throw(pair, (-1, 1), law=Law.EVEN).outside == pytest.approx(0.25, abs=2e-3)


def test_the_same_seed_gives_the_same() -> None:
    assert throw(GAP, (2.9, 3.1), samples=1000) == throw(GAP, (2.9, 3.1), samples=1000)
    assert throw(GAP, (2.9, 3.1), samples=1000, seed=2) != throw(GAP, (2.9, 3.1), samples=1000)


# -- fits -------------------------------------------------------------------------------------


# ISO 286-1 and -2: H7/g6 at 10 is 0 to 15 with -14 to -5 micrometres, so 5 to 29 clearance; H7/p6
# at 25 is 0 to 21 with +22 to +35, so 1 to 35 interference.
@pytest.mark.parametrize(
    ("size", "hole", "shaft", "least", "most"),
    [(10, (0, 15), (-14, -5), 5, 29), (25, (0, 21), (22, 35), -35, -1)],
)
def test_published_fits(
    size: float, hole: tuple[int, int], shaft: tuple[int, int], least: int, most: int
) -> None:
    made = Fit(
        "pin",
        Dimension(size, hole[0] / 1000, hole[1] / 1000),
        Dimension(size, shaft[0] / 1000, shaft[1] / 1000),
    )
    assert [c * 1000 for c in made.clearance()] == pytest.approx([least, most])


def test_the_handbook_fit_agrees() -> None:
    book = fit(10, "H7/g6")
    made = Fit("pin", Dimension(10, *book.hole), Dimension(10, *book.shaft))
    assert made.clearance() == (pytest.approx(book.least), pytest.approx(book.most))


def test_paint_eats_a_clearance_on_both_walls() -> None:
    # A box 20 -0.05/-0.10 in a guide 20 +0.05/0: 0.05 to 0.15. Paint of 0.02 to 0.03 on the box's
    # two walls, plating of 0.005 on one of the guide's: 0.05 - 0.06 - 0.005 = -0.015 at the worst.
    box = Fit(
        "box",
        Dimension(20, 0, 0.05),
        Dimension(20, -0.10, -0.05),
        (Coat("paint", 0.02, 0.03), Coat("plating", 0.005, 0.005, walls=1)),
    )
    assert box.clearance() == (pytest.approx(-0.015), pytest.approx(0.15 - 0.04 - 0.005))
    chance = box.by_chance()
    assert chance.mean == pytest.approx(0.1 - 0.05 - 0.005, abs=1e-4)
    assert 0 < chance.outside < 0.01


@pytest.mark.parametrize("size", [8.0, 10.0, 12.0, 20.0])
def test_what_is_wanted_at_the_worst_no_pair_misses_by_chance(size: float) -> None:
    hole, pin = Dimension(size, 0, 0.02), Dimension(size, -0.03, -0.01)
    made = Fit("f", hole, pin, (Coat("c", 0, 0.005),))
    least, most = made.clearance()
    assert made.by_chance(least, most).outside < 1e-3


def test_faults_are_told() -> None:
    with pytest.raises(ChainError, match="lower deviation above"):
        one(0.1, -0.1)
    with pytest.raises(ValueError, match="coat 'paint'"):
        Coat("paint", 0.03, 0.02)


# -- links in parts ---------------------------------------------------------------------------


ERRORS = st.lists(
    st.tuples(st.floats(0.001, 1), st.floats(0, 1), st.sampled_from([1.0, -1.0, 0.5, 0.0524])),
    min_size=1,
    max_size=6,
)


def sum_of(errors: list[tuple[float, float, float]], wider: float = 1.0) -> Chain:
    links = [(Link(f"k{i}", 1, -lo * wider, hi * wider), n) for i, (lo, hi, n) in enumerate(errors)]
    return Chain(tuple(links))


@given(errors=ERRORS, wider=st.floats(1, 5))
@settings(max_examples=100, deadline=None)
def test_wider_links_never_narrow_a_chain(
    errors: list[tuple[float, float, float]], wider: float
) -> None:
    now, then = sum_of(errors), sum_of(errors, wider)
    assert then.low <= now.low + 1e-12
    assert then.high >= now.high - 1e-12
    assert root_sum_square(then) >= root_sum_square(now) - 1e-12


@given(errors=ERRORS, seed=st.integers(0, 1000))
@settings(max_examples=50, deadline=None)
def test_the_worst_case_holds_every_throw(
    errors: list[tuple[float, float, float]], seed: int
) -> None:
    found = sum_of(errors)
    spread = throw(found, (found.low, found.high), law=Law.EVEN, samples=2_000, seed=seed)
    assert spread.outside == 0
    assert root_sum_square(found) <= (found.high - found.low) / 2 + 1e-12


def test_what_two_chains_share_counts_once() -> None:
    # A hole 8 ±0.01 from an end that lies ±0.03 off the stop, given from the middle of a length
    # 40 whose other end lies ±0.02 off the same stop: 0.01 + 0.03 - ½ (0.03 and 0.02).
    stop = Link("stop", 0, -0.03, 0.03)
    end = Chain(((stop, 1),))
    far = Chain(((Link("length", 40, -0.02, 0.02), 1),))
    hole = Chain(((stop, 1), (Link("x", 8, -0.01, 0.01), 1)))
    given = together((hole, 1), (end, -0.5), (far, -0.5))
    assert given.nominal == pytest.approx(8 - 20)
    assert given.high - given.nominal == pytest.approx(0.01 + 0.03 / 2 + 0.02 / 2)


def test_room_is_shared_by_what_a_link_counts_for() -> None:
    # ±0.1 of room; half of a (held to 0.02) and all of b (held to 0.01) grow alike, fivefold.
    a, b = Link("a", 0, -0.02, 0.02), Link("b", 0, -0.01, 0.01)
    got = fill({"a": 0.02, "b": 0.01}, [(Chain(((a, 0.5), (b, 1.0))), 0.1)])
    assert got == {"a": pytest.approx(0.1), "b": pytest.approx(0.05)}
    assert got["a"] / 2 + got["b"] == pytest.approx(0.1)
