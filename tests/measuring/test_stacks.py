"""Gauge stacks: exact, proven least, never a block twice."""

import random
from itertools import chain, combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barstock.handbook.gauge_blocks import gauge_set
from barstock.measuring.stacks import StackError, limit_pair, stack, stacks


def steps(first: float, last: float, step: float) -> list[float]:
    """Blocks from first to last [mm]."""
    return [round(first + n * step, 5) for n in range(round((last - first) / step) + 1)]


M112 = gauge_set("112 piece").mm
INCH81 = gauge_set("81 piece inch").mm

SMALL_SETS = st.lists(st.integers(1, 60), min_size=1, max_size=9).map(
    lambda sizes: [s / 10 for s in sizes]
)


def subsets(sizes: list[float]) -> list[tuple[int, ...]]:
    """Every choice of blocks from a set, in tenths."""
    tenths = [round(s * 10) for s in sizes]
    return list(chain.from_iterable(combinations(tenths, k) for k in range(1, len(tenths) + 1)))


def fewest_by_trying_all(tenths: int, sizes: list[float]) -> int | None:
    return min((len(c) for c in subsets(sizes) if sum(c) == tenths), default=None)


def test_a_course_exercise_with_protectors() -> None:
    # Exercise of a metrology course: 92.357 with two 2.5 mm protectors from M112 is
    # 87.357 = 1.007 + 1.35 + 75 + 10.
    made = stack(92.357, M112, protectors=(2.5, 2.5))
    assert made.error == 0
    assert made.made == pytest.approx(92.357)
    assert len(made.blocks) == 6
    assert (made.blocks[0], made.blocks[-1]) == (2.5, 2.5)


def test_an_inch_stack_from_the_last_digit_up() -> None:
    # By hand: 1.6824 in = 0.1004 + 0.132 + 0.45 + 1, and no three blocks can: the fourth decimal
    # and the third need a block each, the rest 1.45 two more.
    made = stack(1.6824 * 25.4, INCH81)
    assert made.error == 0
    assert len(made.blocks) == 4
    assert sum(b / 25.4 for b in made.blocks) == pytest.approx(1.6824)


def test_a_thousand_sizes_are_made_of_blocks_used_once() -> None:
    rng = random.Random(4)
    wanted = [round(rng.uniform(3, 150), 3) for _ in range(1000)]
    for size in wanted:
        one = stack(size, M112)
        assert one.error == 0
        assert round(sum(one.blocks), 5) == size
        assert len(set(one.blocks)) == len(one.blocks)


def test_large_set_stacks_are_least_by_another_road() -> None:
    # One and two block sums listed outright, three and four met in the middle.
    units = [round(b * 2000) for b in M112]
    singles = set(units)
    pairs: dict[int, list[tuple[int, int]]] = {}
    for a, b in combinations(units, 2):
        pairs.setdefault(a + b, []).append((a, b))

    def possible(target: int, count: int) -> bool:
        if count == 1:
            return target in singles
        if count == 2:
            return target in pairs
        if count == 3:
            return any(a not in p for a in units for p in pairs.get(target - a, ()))
        return any(
            not set(p) & set(q)
            for total, many in pairs.items()
            for p in many
            for q in pairs.get(target - total, ())
        )

    rng = random.Random(7)
    for _ in range(60):
        size = round(rng.uniform(2, 200) * 2000) / 2000
        count = len(stack(size, M112).blocks) if stack(size, M112).error == 0 else 5
        for fewer in range(1, min(count, 5)):
            assert not possible(round(size * 2000), fewer), (size, count, fewer)


@given(sizes=SMALL_SETS, tenths=st.integers(1, 250))
@settings(max_examples=150, deadline=None)
def test_small_sets_agree_with_trying_everything(sizes: list[float], tenths: int) -> None:
    made = stack(tenths / 10, sizes)
    least = fewest_by_trying_all(tenths, sizes)
    if least is not None:
        assert (made.error, len(made.blocks)) == (0, least)
        assert made.below is None
        assert made.above is None
        return
    heights = {sum(c) for c in subsets(sizes)}
    below = max((h for h in heights if h < tenths), default=None)
    above = min((h for h in heights if h > tenths), default=None)
    assert (made.below.made if made.below else None) == (below and pytest.approx(below / 10))
    assert (made.above.made if made.above else None) == (above and pytest.approx(above / 10))
    gaps = [abs(h - tenths) / 10 for h in (below, above) if h is not None]
    assert abs(made.error) == pytest.approx(min(gaps))
    assert made.made - tenths / 10 == pytest.approx(made.error)


@given(sizes=SMALL_SETS, first=st.integers(1, 120), second=st.integers(1, 120))
@settings(max_examples=100, deadline=None)
def test_two_stacks_share_nothing_and_are_least(
    sizes: list[float], first: int, second: int
) -> None:
    tenths = [round(s * 10) for s in sizes]
    places = range(len(tenths))
    choices = list(chain.from_iterable(combinations(places, k) for k in range(1, len(tenths) + 1)))
    makes = {
        wanted: [set(c) for c in choices if sum(tenths[n] for n in c) == wanted]
        for wanted in (first, second)
    }
    if not makes[first] or not makes[second]:
        return
    least = min((len(a) + len(b) for a in makes[first] for b in makes[second] if not a & b),
                default=None)  # fmt: skip
    if least is None:
        with pytest.raises(StackError, match="not all at once"):
            stacks([first / 10, second / 10], sizes)
        return
    a, b = stacks([first / 10, second / 10], sizes)
    assert (a.error, b.error) == (0, 0)
    assert len(a.blocks) + len(b.blocks) == least
    left = list(tenths)
    for block in (*a.blocks, *b.blocks):
        left.remove(round(block * 10))


def test_blocks_in_use_are_left_alone() -> None:
    first = stack(57.333, M112)
    second = stack(57.333, M112, used=first.blocks)
    assert second.error == 0
    assert not set(first.blocks) & set(second.blocks)


def test_only_one_block_has_the_half_micrometre() -> None:
    with pytest.raises(StackError, match="one after another"):
        stacks([41.1235, 57.3335], M112)


def test_limit_pair_stays_inside_the_limits() -> None:
    # 8.0 +0.05/0 from whole and half millimetres: only 8.0 lies within, for both.
    low, high = limit_pair(7.9, 8.6, steps(0.5, 9.5, 0.5))
    assert (low.made, high.made) == (8.0, 8.5)
    assert (low.error, high.error) == (pytest.approx(0.1), pytest.approx(-0.1))
    assert not set(low.blocks) & set(high.blocks)
    with pytest.raises(StackError, match="nothing between"):
        limit_pair(8.1, 8.2, steps(0.5, 9.5, 0.5))


@pytest.mark.parametrize(
    ("size", "sizes", "words"),
    [
        (0.0, [1.0], "no height"),
        (-3.0, [1.0], "no height"),
        (5.0, [], "no block is left"),
        (5.0, [0.0, 1.0], "above zero"),
    ],
)
def test_faults_are_told(size: float, sizes: list[float], words: str) -> None:
    with pytest.raises(StackError, match=words):
        stack(size, sizes)


def test_a_used_block_must_be_in_the_set() -> None:
    with pytest.raises(StackError, match="not in the set"):
        stack(5, [1, 2, 3], used=[4])


def test_protectors_may_be_too_thick() -> None:
    with pytest.raises(StackError, match="protectors alone"):
        stack(3.5, M112, protectors=(2, 2))


def test_three_stacks_that_crowd_a_small_inch_set() -> None:
    # The thousandths of all three must come from 0.101 to 0.109 and the hundredths from 0.11 to
    # 0.19, so that more blocks are wanted than for each alone.
    wanted = [1.791 * 25.4, 0.556 * 25.4, 1.703 * 25.4]
    blocks = gauge_set("36 piece inch").mm
    made = stacks(wanted, blocks)
    used = [b for one in made for b in one.blocks]
    assert len(set(used)) == len(used)
    assert [sum(one.blocks) for one in made] == pytest.approx(wanted)
    assert len(used) > sum(len(stack(size, blocks).blocks) for size in wanted)
