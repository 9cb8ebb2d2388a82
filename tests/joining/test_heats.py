"""The fewest heats, against an exhaustive search written apart from the program's own."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping
from itertools import combinations, product

import pytest

from barstock.drawing.build import Face
from barstock.fabricating.fewest_heats import check_heats, fewest_heats, own_order
from barstock.fabricating.firing import Firing
from barstock.fabricating.joining_findings import Mistake
from barstock.fabricating.joints import FACE_UP, Holding, Joint, Piece, corner_up
from barstock.handbook.brazing import ALLOYS, CadmiumError
from barstock.route import HeatHolding, HeatReasonKind
from barstock.words.each_heat import melt
from barstock.words.fewer_heats import reason
from barstock.words.reader import Reader

from .conftest import joint

FLAT = FACE_UP[Face.TOP]
FLIPPED = FACE_UP[Face.BOTTOM]
BOTTOM = (0.0, 0.0, -1.0)


def frame(*alloys: str, **rest: object) -> tuple[Joint, Joint]:
    return (
        joint("left joint", "left leg", "cross-piece", *alloys, **rest),
        joint("right joint", "right leg", "cross-piece", *alloys, **rest),
    )


def test_one_heat_where_both_joints_lie_flat_on_the_fixture(
    pieces: tuple[Piece, ...], fixture_flat: Holding
) -> None:
    plan = fewest_heats(pieces, frame(), (fixture_flat,))
    assert len(plan.heats) == 1
    assert plan.strips == 0
    assert not plan.findings
    heat = plan.heats[0]
    assert heat.attitude == FLAT
    assert set(heat.alloys) == {"left joint", "right joint"}
    # Ag 155 flows at 660 (ISO 17672 table 5); the working temperature lies above it
    assert 660 < heat.working < 700
    assert heat.flame[-1] == "cross-piece", "the flame goes to the heavy legs first"
    assert heat.feeds == {"left joint": (Face.TOP,), "right joint": (Face.TOP,)}
    assert [m.at for m in heat.melts] == sorted(m.at for m in heat.melts)
    melts = [melt(m) for m in heat.melts]
    flows = next(n for n, what in enumerate(melts) if what.endswith("Ag 155 flows"))
    assert "works" in melts[0]
    assert "begins to melt (mild steel)" in melts[-1]
    assert flows > 1


def test_one_at_a_time_costs_a_heat_more(pieces: tuple[Piece, ...], fixture_flat: Holding) -> None:
    careful = fewest_heats(pieces, frame(), (fixture_flat,), most_per_heat=1)
    fewest = fewest_heats(pieces, frame(), (fixture_flat,))
    assert len(careful.heats) == 2
    assert careful.minutes > fewest.minutes
    # the first joint melts again in the second heat: no harm, for the fixture holds both pieces
    assert careful.heats[1].remelts == ("left joint",)
    assert careful.heats[0].flux == ("left joint", "right joint"), "flux what is heated along"
    assert [why.kind for why in careful.reasons] == [HeatReasonKind.AS_ASKED]


def test_joints_on_opposite_faces_need_two_heats_and_the_reason_says_so(
    pieces: tuple[Piece, ...],
) -> None:
    above, below = frame()
    below = joint("right joint", "right leg", "cross-piece", feeds=(BOTTOM,))
    every = frozenset(piece.name for piece in pieces)
    plan = fewest_heats(
        pieces, (above, below), (Holding(HeatHolding.ON_FIXTURE, every, (FLAT, FLIPPED)),)
    )
    assert len(plan.heats) == 2
    assert plan.strips == 0
    none, why = (reason(told, Reader()) for told in plan.reasons)
    assert "no two of left joint, right joint can share a heat, so 2 are the fewest" in none
    assert "no attitude in which filler runs down" in why


def test_alloys_too_far_apart_need_two_heats_and_the_reason_says_so(
    pieces: tuple[Piece, ...], fixture_flat: Holding
) -> None:
    """Ag 156 flows at 655 °C, Ag 225 at 790 (ISO 17672): 20 K above, the first's zinc boils."""
    far = (frame("Ag 156")[0], frame("Ag 225")[1])
    plan = fewest_heats(pieces, far, (fixture_flat,), flux="FH12")
    assert len(plan.heats) == 2
    kinds = [HeatReasonKind.NONE_SHARE, HeatReasonKind.ZINC_BOILS]
    assert [told.kind for told in plan.reasons] == kinds
    assert reason(plan.reasons[1], Reader()) == (
        "left joint and right joint: left joint: Ag 156 flows at 655 °C, this heat goes to 810 °C: "
        "its zinc boils off; heat them apart"
    )


def test_a_corner_fed_from_the_front_shares_the_propped_attitude(
    pieces: tuple[Piece, ...],
) -> None:
    one, _ = frame()
    other = joint("right joint", "right leg", "cross-piece", feeds=((0.0, -1.0, 0.0),))
    every = frozenset(piece.name for piece in pieces)
    ways = (FLAT, FACE_UP[Face.FRONT], corner_up(Face.TOP, Face.FRONT))
    plan = fewest_heats(pieces, (one, other), (Holding(HeatHolding.ON_FIXTURE, every, ways),))
    assert len(plan.heats) == 1
    assert plan.heats[0].attitude.faces == (Face.TOP, Face.FRONT)


def test_unheld_work_is_stepped_with_falling_melting_ranges(pieces: tuple[Piece, ...]) -> None:
    """Each joint clamped on its own side: only a first alloy that melts higher does."""
    one = joint("left joint", "left leg", "cross-piece", "Ag 155", "Ag 225")
    two = joint("right joint", "right leg", "cross-piece", "Ag 155", feeds=(BOTTOM,))
    holdings = (
        Holding(HeatHolding.FREE, frozenset({"left leg", "cross-piece"}), (FLAT,)),
        Holding(HeatHolding.FREE, frozenset({"right leg", "cross-piece"}), (FLIPPED,)),
    )
    plan = fewest_heats(pieces, (one, two), holdings, flux="FH12")
    assert [heat.alloys for heat in plan.heats] == [
        {"left joint": "Ag 225"},
        {"right joint": "Ag 155"},
    ]
    assert plan.strips == 1
    assert plan.heats[1].strip_before
    assert plan.heats[1].remelts == ()


def test_the_same_alloy_twice_with_nothing_to_hold_is_a_named_remelt(
    pieces: tuple[Piece, ...],
) -> None:
    one, _ = frame()
    two = joint("right joint", "right leg", "cross-piece", feeds=(BOTTOM,))
    holdings = (
        Holding(HeatHolding.FREE, frozenset({"left leg", "cross-piece"}), (FLAT,)),
        Holding(HeatHolding.FREE, frozenset({"right leg", "cross-piece"}), (FLIPPED,)),
    )
    plan = fewest_heats(pieces, (one, two), holdings)
    assert not plan.heats
    assert [f.mistake for f in plan.findings] == [Mistake.REMELT]
    own = [Firing({"left joint": "Ag 155"}, holdings[0], FLAT),
           Firing({"right joint": "Ag 155"}, holdings[1], FLIPPED)]  # fmt: skip
    (found,) = check_heats(pieces, (one, two), own)
    assert found.mistake is Mistake.REMELT
    assert found.about == "left joint"
    assert "melts again" in found.what
    assert "left leg" in found.what
    # the very same order with a fixing screw through that joint is sound
    held = joint("left joint", "left leg", "cross-piece", screwed=True)
    assert check_heats(pieces, (held, two), own) == ()
    assert len(fewest_heats(pieces, (held, two), holdings).heats) == 2


@pytest.mark.parametrize("name", ["Ag 345", "Ag 340", "Ag 350"])
def test_cadmium_is_refused(name: str, pieces: tuple[Piece, ...], fixture_flat: Holding) -> None:
    with pytest.raises(CadmiumError):
        fewest_heats(pieces, frame(name), (fixture_flat,))


def test_what_each_fault_is_called(pieces: tuple[Piece, ...], fixture_flat: Holding) -> None:
    def faults(joints: tuple[Joint, ...], *, flux: str = "FH10", over: tuple[Piece, ...] = pieces,
               holding: Holding = fixture_flat) -> list[str]:  # fmt: skip
        fired = {j.name: j.alloys[0] for j in joints}
        return [str(f) for f in check_heats(over, joints, [Firing(fired, holding, FLAT)], flux)]

    one, two = frame()
    assert "uphill" in faults((joint("a", "left leg", "cross-piece", feeds=(BOTTOM,)),))[0]
    brass = tuple(Piece(p.name, "brass", p.mass) for p in pieces)
    # CW614N begins to melt at 875; Ag 205 flows at 870
    told = " ".join(faults(frame("Ag 205"), over=brass, flux="FH20"))
    assert "brass begins to melt at 875 °C" in told
    assert "spent above 800 °C" in " ".join(faults(frame("Ag 212")))
    far = (frame("Ag 156")[0], frame("Ag 225")[1])  # 655 and 790: 135 K apart
    assert "zinc boils off" in " ".join(faults(far))
    loose = Holding(HeatHolding.FREE, frozenset({"left leg", "cross-piece"}), (FLAT,))
    assert "nothing holds right leg" in faults((one, two), holding=loose)[0]
    half = [Firing({one.name: "Ag 155"}, fixture_flat, FLAT)]
    assert "in no heat" in str(check_heats(pieces, (one, two), half)[0])


def test_your_own_order_is_held_in_the_best_way_or_told_what_is_wrong(
    pieces: tuple[Piece, ...], fixture_flat: Holding
) -> None:
    one, two = frame()
    both = own_order(pieces, (one, two), (fixture_flat,), [["left joint", "right joint"]])
    assert len(both.heats) == 1
    apart = own_order(pieces, (one, two), (fixture_flat,), [["right joint"], ["left joint"]])
    assert [list(heat.alloys) for heat in apart.heats] == [["right joint"], ["left joint"]]
    below = joint("right joint", "right leg", "cross-piece", feeds=(BOTTOM,))
    told = own_order(pieces, (one, below), (fixture_flat,), [["left joint", "right joint"]])
    assert not told.heats
    assert "uphill" in told.findings[0].what
    # the first alloy would not do, the second does
    choice = joint("left joint", "left leg", "cross-piece", "Ag 155", "Ag 225")
    holdings = (
        Holding(HeatHolding.FREE, frozenset({"left leg", "cross-piece"}), (FLAT,)),
        Holding(HeatHolding.FREE, frozenset({"right leg", "cross-piece"}), (FLAT,)),
    )
    order = [["left joint"], ["right joint"]]
    stepped = own_order(pieces, (choice, two), holdings, order, flux="FH12")
    assert stepped.heats[0].alloys == {"left joint": "Ag 225"}


# -- against an exhaustive search ------------------------------------------------------------------

# solidus, liquidus [C] of ISO 17672:2016 table 5
RANGES = {name: (ALLOYS[name].solidus, ALLOYS[name].liquidus) for name in
          ("Ag 155", "Ag 145", "Ag 134", "Ag 225")}  # fmt: skip
WAYS = (FACE_UP[Face.TOP], FACE_UP[Face.BOTTOM], FACE_UP[Face.FRONT])


def orders(items: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], ...]]:
    """Every order in which items can be made, some together."""
    if not items:
        yield ()
    for size in range(1, len(items) + 1):
        for first in combinations(items, size):
            for rest in orders(tuple(i for i in items if i not in first)):
                yield (first, *rest)


def stands(joints: dict[str, Joint], done: Mapping[str, str], fired: Mapping[str, str],
           holding: Holding, up: tuple[float, float, float]) -> bool:  # fmt: skip
    """The rules in their plainest form: downhill, hot enough for all, cool enough for
    each, all held, nothing loose that melts again. All pieces are steel; FH12 is spent at 850."""
    for name in fired:
        if not any(
            sum(f * u for f, u in zip(feed, up, strict=True)) >= 0.5 for feed in joints[name].feeds
        ):
            return False
    heat = max(RANGES[a][1] for a in fired.values()) + 20
    if heat > 850 or any(heat > RANGES[a][1] + 80 for a in fired.values()):
        return False
    soft = {name for name, alloy in done.items() if RANGES[alloy][0] < heat + 10}
    tied = [j.pieces for n, j in joints.items() if j.screwed or (n in done and n not in soft)]
    held = set(holding.holds)
    for _ in joints:
        for a, b in tied:
            if a in held or b in held:
                held |= {a, b}
    return all(set(joints[name].pieces) <= held for name in (*fired, *soft))


def by_hand(joints: tuple[Joint, ...], holdings: tuple[Holding, ...]) -> tuple[int, int] | None:
    """Least heats and strip-downs by trying every order, every alloy and every way of lying."""
    named = {j.name: j for j in joints}
    best: tuple[int, int] | None = None
    places = [(h, a.up) for h in holdings for a in h.attitudes]
    for order in orders(tuple(named)):
        for alloys in product(*(j.alloys for j in joints)):
            filler = dict(zip(named, alloys, strict=True))
            ends: dict[str | None, int] = {None: 0}  # last holding -> fewest strip-downs
            done: dict[str, str] = {}
            for together in order:
                fired = {name: filler[name] for name in together}
                after: dict[str | None, int] = {}
                for (holding, up), (last, strips) in product(places, ends.items()):
                    if stands(named, done, fired, holding, up):
                        now = strips + (last is not None and last != holding.way)
                        after[holding.way] = min(now, after.get(holding.way, 99))
                ends = after
                done |= fired
            if ends:
                found = (len(order), min(ends.values()))
                best = found if best is None else min(best, found)
    return best


def random_case(
    dice: random.Random,
) -> tuple[tuple[Piece, ...], tuple[Joint, ...], tuple[Holding, ...]]:
    """Two to four joints between four pieces, on two holdings."""
    pieces = tuple(Piece(f"p{n}", "mild steel", dice.choice([20.0, 50.0])) for n in range(4))
    names = [p.name for p in pieces]
    joints = []
    for n in range(dice.choice([2, 3, 3, 4])):
        a, b = dice.sample(names, 2)
        feeds = tuple(way.up for way in dice.sample(WAYS, dice.choice([1, 1, 2])))
        alloys = dice.sample(list(RANGES), dice.choice([1, 1, 2]))
        joints.append(joint(f"j{n}", a, b, *alloys, feeds=feeds, screwed=dice.random() < 0.3))
    holdings = tuple(
        Holding(
            way,
            frozenset(dice.sample(names, dice.choice([2, 3, 4]))),
            tuple(dice.sample(WAYS, dice.choice([1, 2, 3]))),
        )
        for way in (HeatHolding.ON_FIXTURE, HeatHolding.FREE)
    )
    return pieces, tuple(joints), holdings


def test_against_every_order() -> None:
    outcomes: list[int] = []
    for seed in range(120):
        pieces, joints, holdings = random_case(random.Random(seed))
        plan = fewest_heats(pieces, joints, holdings, flux="FH12")
        found = (len(plan.heats), plan.strips) if plan.heats else None
        assert found == by_hand(joints, holdings), f"seed {seed}"
        assert bool(plan.heats) != bool(plan.findings), f"seed {seed}"
        firings = [Firing(h.alloys, h.holding, h.attitude) for h in plan.heats]
        assert not firings or check_heats(pieces, joints, firings, "FH12") == (), f"seed {seed}"
        outcomes.append(len(plan.heats))
    assert {0, 1, 2, 3} <= set(outcomes), "the cases are too much alike to say anything"
