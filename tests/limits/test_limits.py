"""Chains, working limits and fits against worked examples and plane probability."""

from itertools import product
from math import erf, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barstock.drawing.size_distribution import Law
from barstock.handbook.iso_fits import fit
from barstock.quantities import Dimension
from barstock.tolerancing.by_chance import all_of, root_sum_square, throw
from barstock.tolerancing.chains import Chain, ChainError, Link, chain, judge, together
from barstock.tolerancing.clearance import Coat, Fit
from barstock.tolerancing.working_limits import fill, share_out

# A worked stack-up from a tolerancing article: bore depth 40 ±0.10 less spacer 25 ±0.05, ring
# 2 ±0.03 and shoulder 10 ±0.05 leaves 3.00; all four lie end to end.
GAP = [
    Link("depth", "floor", "mouth", 40, -0.10, 0.10),
    Link("spacer", "floor", "spacer top", 25, -0.05, 0.05),
    Link("ring", "spacer top", "ring top", 2, -0.03, 0.03),
    Link("shoulder", "ring top", "shoulder top", 10, -0.05, 0.05),
]


def test_a_published_stack_up() -> None:
    gap = chain(GAP, "shoulder top", "mouth")
    assert gap.nominal == pytest.approx(3.0)
    # Worst case: 0.10 + 0.05 + 0.03 + 0.05 = 0.23 either way.
    assert (gap.low, gap.high) == (pytest.approx(2.77), pytest.approx(3.23))
    # By chance: sqrt(0.10² + 0.05² + 0.03² + 0.05²) = 0.126.
    assert root_sum_square(gap) == pytest.approx(0.1261, abs=5e-5)


def test_ten_plates_of_a_tenth() -> None:
    # From a page on statistical stack-up: ten of ±0.1 are ±1.0 at the worst, ±0.316 by chance.
    plates = [Link(f"plate {n}", str(n), str(n + 1), 5, -0.1, 0.1) for n in range(10)]
    pile = chain(plates, "0", "10")
    assert pile.high - pile.nominal == pytest.approx(1.0)
    assert root_sum_square(pile) == pytest.approx(0.316, abs=5e-4)


PLACES = ["a", "b", "c", "d", "e"]


@st.composite
def webs(draw: st.DrawFn) -> list[Link]:
    """Links over five places whose nominals agree, some places joined more than once."""
    at = {p: draw(st.integers(0, 50)) for p in PLACES}
    pairs = draw(
        st.lists(
            st.tuples(st.sampled_from(PLACES), st.sampled_from(PLACES)).filter(
                lambda p: p[0] != p[1]
            ),
            min_size=1,
            max_size=9,
        )
    )
    errors = st.integers(0, 30)
    return [
        Link(f"{a}{b}{n}", a, b, at[b] - at[a], -draw(errors) / 100, draw(errors) / 100)
        for n, (a, b) in enumerate(pairs)
    ]


def every_path(links: list[Link], start: str, end: str) -> list[float]:
    """Width of every way from one place to another that comes to no place twice."""
    found: list[float] = []

    def walk(place: str, been: set[str], width: float) -> None:
        if place == end:
            found.append(width)
            return
        for link in links:
            for here, there in ((link.start, link.end), (link.end, link.start)):
                if here == place and there not in been:
                    walk(there, been | {there}, width + link.width)

    walk(start, {start}, 0.0)
    return found


@given(links=webs(), start=st.sampled_from(PLACES), end=st.sampled_from(PLACES))
@settings(max_examples=200, deadline=None)
def test_the_chain_is_the_tightest_of_all(links: list[Link], start: str, end: str) -> None:
    widths = every_path(links, start, end)
    if not widths:
        with pytest.raises(ChainError, match="nothing ties"):
            chain(links, start, end)
        return
    found = chain(links, start, end)
    assert found.high - found.low == pytest.approx(min(widths), abs=1e-9)
    back = chain(links, end, start)
    assert back.high - back.low == pytest.approx(found.high - found.low, abs=1e-9)


@given(links=webs(), start=st.sampled_from(PLACES), end=st.sampled_from(PLACES))
@settings(max_examples=100, deadline=None)
def test_the_worst_case_is_reached_and_never_passed(
    links: list[Link], start: str, end: str
) -> None:
    try:
        found = chain(links, start, end)
    except ChainError:
        return
    corners = [
        sum(
            sign * (link.nominal + off) for (link, sign), off in zip(found.links, offs, strict=True)
        )
        for offs in product(*[(link.minus, link.plus) for link, _ in found.links])
    ]
    assert found.low == pytest.approx(min(corners), abs=1e-9)
    assert found.high == pytest.approx(max(corners), abs=1e-9)


# -- the datum changes ------------------------------------------------------------------------

# A slot dimensioned from the bottom. In the first setup the bottom is cut from zero 1; the work is
# turned over and rests on the bottom's opposite, so that zero 2 is found on the top face.
TURNED_OVER = [
    Link("bottom cut", "zero 1", "bottom", 0, -0.01, 0.01),
    Link("top cut", "zero 1", "top", 22, -0.01, 0.01),
    Link("zero found", "top", "zero 2", 0, -0.02, 0.02),
    Link("slot cut", "zero 2", "slot", -14, -0.01, 0.01),
]


def test_turning_over_costs_the_zero() -> None:
    # From the bottom to the slot: bottom, top, zero and slot, ±0.01 + 0.01 + 0.02 + 0.01 = ±0.05.
    wanted = Link("slot height", "bottom", "slot", 8, -0.03, 0.03)
    verdict = judge(TURNED_OVER, [wanted])[0]
    assert not verdict.holds
    assert (verdict.side, verdict.missing) == ("both", pytest.approx(0.02))
    assert str(verdict).startswith("slot height may miss both its limits by 0.020 mm")
    assert judge(TURNED_OVER, [Link("thick", "bottom", "top", 22, -0.03, 0.03)])[0].holds


def test_working_limits_use_all_the_room() -> None:
    wanted = [
        Link("slot height", "bottom", "slot", 8, -0.10, 0.10),
        Link("thick", "bottom", "top", 22, -0.03, 0.03),
    ]
    got = share_out(TURNED_OVER, wanted)
    assert got.shortfalls == ()
    # The thickness fills first: 0.03 shared by two alike is 0.015 each, 1.5 times what is held.
    # The slot has 0.10 - 0.03 = 0.07 left for the zero and its cut, as 2 to 1.
    assert got.allowed == {
        "bottom cut": pytest.approx(0.015),
        "top cut": pytest.approx(0.015),
        "zero found": pytest.approx(0.07 * 2 / 3),
        "slot cut": pytest.approx(0.07 / 3),
    }


ASKED = st.tuples(st.sampled_from(PLACES), st.sampled_from(PLACES), st.integers(1, 200))


@given(links=webs(), asked=st.lists(ASKED, min_size=1, max_size=4))
@settings(max_examples=150, deadline=None)
def test_working_limits_guarantee_the_drawing(
    links: list[Link], asked: list[tuple[str, str, int]]
) -> None:
    held = [Link(k.name, k.start, k.end, k.nominal, min(k.minus, -0.01), max(k.plus, 0.01))
            for k in links]  # fmt: skip
    wanted = []
    for n, (a, b, room) in enumerate(asked):
        try:
            nominal = chain(held, a, b).nominal
        except ChainError:
            continue
        if a != b:
            wanted.append(Link(f"asked {n}", a, b, nominal, -room / 100, room / 100))
    got = share_out(held, wanted)
    short = {s.wanted.name for s in got.shortfalls}
    for link in held:
        assert got.allowed[link.name] >= max(-link.minus, link.plus) - 1e-8
    full = False
    for one in wanted:
        found = chain(held, one.start, one.end)
        need = sum(got.allowed[k.name] for k, _ in found.links)
        least = sum(max(-k.minus, k.plus) for k, _ in found.links)
        if one.name in short:
            assert least > one.plus
        else:
            assert need <= one.plus + 1e-6
            full |= need >= one.plus - 1e-6
    assert full or len(short) == len(wanted)


# -- chance -----------------------------------------------------------------------------------


def one(low: float, high: float, name: str = "x") -> Link:
    return Link(name, f"{name} from", f"{name} to", 0, low, high)


def test_normal_links_add_their_squares() -> None:
    gap = chain(GAP, "shoulder top", "mouth")
    got = throw(gap, (2.9, 3.1), samples=400_000)
    deviation = root_sum_square(gap) / 3
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
    pair = Chain("a", "b", ((one(-1, 1, "x"), 1), (one(-1, 1, "y"), -1)))
    assert throw(pair, (-1, 1), law=Law.EVEN).outside == pytest.approx(0.25, abs=2e-3)


def test_shared_links_go_together() -> None:
    # Half of the even ±1 lies above 0, half below: never both, whatever is thrown.
    single = Chain("a", "b", ((one(-1, 1), 1),))
    assert all_of([(single, (0, 1)), (single, (-1, 0))], law=Law.EVEN, samples=10_000) < 1e-3
    assert all_of([(single, (0, 1))], law=Law.EVEN) == pytest.approx(0.5, abs=2e-3)


def test_the_same_seed_gives_the_same() -> None:
    gap = chain(GAP, "shoulder top", "mouth")
    assert throw(gap, (2.9, 3.1), samples=1000) == throw(gap, (2.9, 3.1), samples=1000)
    assert throw(gap, (2.9, 3.1), samples=1000, seed=2) != throw(gap, (2.9, 3.1), samples=1000)


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


def test_hardly_any_of_a_million_is_outside_what_all_sizes_leave() -> None:
    for size in (8.0, 10.0, 12.0, 20.0):
        made = Fit(
            "f", Dimension(size, 0, 0.02), Dimension(size, -0.03, -0.01), (Coat("c", 0, 0.005),)
        )
        least, most = made.clearance()
        assert made.by_chance(least, most).outside < 1e-3


def test_faults_are_told() -> None:
    with pytest.raises(ChainError, match="lower deviation above"):
        one(0.1, -0.1)
    with pytest.raises(ChainError, match="starts and ends"):
        Link("x", "a", "a", 0, 0, 0)
    with pytest.raises(ChainError, match="same name"):
        share_out([one(-1, 1), one(-1, 1)], [])
    with pytest.raises(ChainError, match="without any error"):
        share_out([one(0, 0)], [])
    with pytest.raises(ValueError, match="coat 'paint'"):
        Coat("paint", 0.03, 0.02)


# -- links in parts ---------------------------------------------------------------------------


ERRORS = st.lists(
    st.tuples(st.floats(0.001, 1), st.floats(0, 1), st.sampled_from([1.0, -1.0, 0.5, 0.0524])),
    min_size=1,
    max_size=6,
)


def sum_of(errors: list[tuple[float, float, float]], wider: float = 1.0) -> Chain:
    links = [
        (Link(f"k{i}", "a", f"b{i}", 1, -lo * wider, hi * wider), n)
        for i, (lo, hi, n) in enumerate(errors)
    ]
    return Chain("a", "b", tuple(links))


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
    stop = Link("stop", "stop", "end", 0, -0.03, 0.03)
    end = Chain("stop", "end", ((stop, 1),))
    far = Chain("stop", "far", ((Link("length", "stop", "far", 40, -0.02, 0.02), 1),))
    hole = Chain("stop", "hole", ((stop, 1), (Link("x", "end", "hole", 8, -0.01, 0.01), 1)))
    given = together("middle", "hole", (hole, 1), (end, -0.5), (far, -0.5))
    assert given.nominal == pytest.approx(8 - 20)
    assert given.high - given.nominal == pytest.approx(0.01 + 0.03 / 2 + 0.02 / 2)


def test_room_is_shared_by_what_a_link_counts_for() -> None:
    # ±0.1 of room; half of a (held to 0.02) and all of b (held to 0.01) grow alike, fivefold.
    a, b = Link("a", "x", "y", 0, -0.02, 0.02), Link("b", "y", "z", 0, -0.01, 0.01)
    got = fill({"a": 0.02, "b": 0.01}, [(Chain("x", "z", ((a, 0.5), (b, 1.0))), 0.1)])
    assert got == {"a": pytest.approx(0.1), "b": pytest.approx(0.05)}
    assert got["a"] / 2 + got["b"] == pytest.approx(0.1)
