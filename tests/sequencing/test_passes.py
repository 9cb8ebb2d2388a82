"""Passes against every way of cutting every order into passes, and by hand."""

from __future__ import annotations

import random
from itertools import groupby, permutations

import pytest

from barstock.sequencing import SequencingError, passes


def minutes_of(groups, alternate, tools, copies, load, change, start):
    """Walks through every copy of every pass, change by change."""
    total, tool = 0.0, start
    for group, back in zip(groups, alternate, strict=True):
        blocks = [list(block) for _, block in groupby(group, key=tools.get)]
        for copy in range(copies):
            total += load
            for block in reversed(blocks) if back and copy % 2 else blocks:
                if tools[block[0]] != tool:
                    total += change(tool, tools[block[0]])
                    tool = tools[block[0]]
    return total


def may_alternate(group, tools, after):
    blocks = [set(block) for _, block in groupby(group, key=tools.get)]
    return all(
        other not in group or any({name, other} <= block for block in blocks)
        for name in group
        for other in after.get(name, ())
    )


def cuts(order):
    for mask in range(1 << (len(order) - 1)):
        groups = [[order[0]]]
        for i, name in enumerate(order[1:]):
            if mask >> i & 1:
                groups.append([])
            groups[-1].append(name)
        yield groups


def least(tools, after, copies, load, change, start):
    best = float("inf")
    for order in permutations(tools):
        place = {name: i for i, name in enumerate(order)}
        if any(place[o] > place[n] for n, others in after.items() for o in others):
            continue
        for groups in cuts(list(order)):
            free = [may_alternate(group, tools, after) for group in groups]
            for mask in range(1 << len(groups)):
                back = [bool(mask >> i & 1) for i in range(len(groups))]
                if all(ok or not turn for ok, turn in zip(free, back, strict=True)):
                    cost = minutes_of(groups, back, tools, copies, load, change, start)
                    best = min(best, cost)
    return best


@pytest.mark.parametrize("seed", range(250))
def test_quickest_of_all_passes(seed):
    rng = random.Random(seed)
    names = [f"o{i}" for i in range(rng.choice([2, 3, 4, 4, 5]))]
    tools = {name: rng.choice("abc") for name in names}
    after = {n: [o for o in names[:i] if rng.random() < 0.35] for i, n in enumerate(names)}
    place = {tool: (rng.randint(0, 6), rng.randint(0, 6)) for tool in "abc"}
    head = {tool: rng.random() < 0.3 for tool in "abc"}

    def change(a, b):
        if a is None:
            return 2
        apart = abs(place[a][0] - place[b][0]) + abs(place[a][1] - place[b][1])
        return 1 + apart + 5 * (head[a] != head[b])

    copies, load = rng.randint(1, 4), rng.choice([0, 1, 3, 8])
    start = rng.choice([None, "a"])
    found = passes(tools, after, copies=copies, load=load, change=change, start=start)
    groups = [one.operations for one in found.passes]
    back = [one.alternate for one in found.passes]
    assert sorted(found.order) == names
    place_in = {name: i for i, name in enumerate(found.order)}
    assert all(place_in[o] < place_in[n] for n, others in after.items() for o in others)
    for group, turned in zip(groups, back, strict=True):
        assert not turned or may_alternate(group, tools, after)
    walked = minutes_of(groups, back, tools, copies, load, change, start)
    assert found.minutes == pytest.approx(walked)
    assert found.minutes == pytest.approx(least(tools, after, copies, load, change, start))


HOLE = {"spot": "centre drill", "drill": "4.2 drill", "tap": "M5 tap"}
HOLE_AFTER = {"drill": ["spot"], "tap": ["drill"]}


def test_tool_by_tool_where_loading_is_quick():
    found = passes(HOLE, HOLE_AFTER, copies=8, load=0.5, change=lambda a, b: 2.0)
    assert [one.operations for one in found.passes] == [("spot",), ("drill",), ("tap",)]
    assert found.minutes == 3 * 8 * 0.5 + 3 * 2.0


def test_copy_by_copy_where_loading_is_slow():
    found = passes(HOLE, HOLE_AFTER, copies=2, load=10.0, change=lambda a, b: 0.5)
    assert [one.operations for one in found.passes] == [("spot", "drill", "tap")]
    # two loadings; fit, two changes, back to the centre drill, two changes
    assert found.minutes == 2 * 10.0 + 6 * 0.5


def test_the_head_is_moved_once_for_tapping_at_the_end():
    def change(a, b):
        return 1.0 + (6.0 if (a == "M5 tap") != (b == "M5 tap") and a else 0.0)

    tools = {"spot": "centre drill", "drill": "4.2 drill", "tap": "M5 tap", "face": "cutter"}
    found = passes(tools, HOLE_AFTER, copies=4, load=1.2, change=change)
    assert found.order[-1] == "tap"
    assert found.passes[-1].operations == ("tap",)


def test_forward_and_back_saves_the_change_between_copies():
    tools = {"slot": "cutter", "hole": "drill"}
    found = passes(tools, {}, copies=4, load=5.0, change=lambda a, b: 1.0)
    assert len(found.passes) == 1
    assert found.passes[0].alternate
    # four loadings; the first fitting and one change a copy
    assert found.minutes == 4 * 5.0 + 1.0 + 4 * 1.0


def test_waiting_for_each_other_is_an_error():
    with pytest.raises(SequencingError, match="wait for each other: a, b"):
        passes(
            {"a": "t", "b": "t"}, {"a": ["b"], "b": ["a"]}, copies=1, load=1, change=lambda a, b: 1
        )


def test_waiting_for_what_is_not_there_is_an_error():
    with pytest.raises(SequencingError, match="'a' comes after 'c', not in this setup"):
        passes({"a": "t"}, {"a": ["c"]}, copies=1, load=1, change=lambda a, b: 1)
