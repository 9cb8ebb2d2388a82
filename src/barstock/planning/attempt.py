"""Plans one part as far as it goes: what is refused is tried another way, and then left.

A refusal comes from the planner, which finds no way, or from whoever tries the plan. Each bars the
way it is about, of doing a task or of making a feature; when no other is found, the feature is
left with all that hangs on it, and the part is planned without them; in the end the whole part is.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from barstock.drawing.build import Part, Pin, within
from barstock.errors import UnplannableError
from barstock.methods.kind import Kind
from barstock.planning.holding.barred import Barred
from barstock.planning.holding.way import way_of
from barstock.planning.order.precedence import Placed
from barstock.planning.order.user_pins import PinError
from barstock.planning.part_plan import PartPlan
from barstock.planning.parts.dependents import hanging_on
from barstock.planning.parts.hand_work import allows_hand_work
from barstock.planning.plan import Planner
from barstock.planning.preparing import Refused
from barstock.planning.resuming import DoneError
from barstock.route import Left, LeftHow, Setup, Tried
from barstock.stocking.bar_choice import bars_for
from barstock.workshop.shop import Workshop

OFTEN = 2  # poses refused of one way of holding, or in one vise, before it is barred for the rest
MOST_BARS = 3  # that a part is tried from
MOST_OF_ONE = 8  # refusals of one feature's operations before it is left
MOST_OF_ALL = 24  # refusals of one part's operations before what is refused is left at once

Words = Callable[[Exception], str]


@dataclass(frozen=True)
class Objection:
    """What was found wrong with a plan. words: in those of who found it. operations: that it is
    about. features: where it is about no operation. cutter: is it what they are done with?
    """

    words: str
    operations: tuple[str, ...] = ()
    features: tuple[str, ...] = ()
    cutter: bool = False


@dataclass
class Attempt:
    """How far the planning of a part has come. part: as it is to be planned; rest: without what is
    left, `left` by feature; whole: is all of it left? tried: by feature, "" for the part. first:
    what is refused with the best bar, while others are tried; same: for what others were tried.
    """

    part: Part
    kinds: Mapping[str, Kind]
    left: dict[str, LeftHow] = field(default_factory=dict)
    whole: bool = False
    refused: Refused = field(default_factory=Refused)
    tried: dict[str, list[Tried]] = field(default_factory=dict)
    counted: Counter[str] = field(default_factory=Counter)
    first: Refused | None = None
    same: set[str] = field(default_factory=set)

    @property
    def rest(self) -> Part:
        """The part without the features that are left."""
        kept = tuple(f for f in self.part.features if f.name not in self.left)
        return replace(self.part, features=kept)

    @property
    def names(self) -> list[str]:
        """The features that are not left."""
        return [f.name for f in self.part.features if f.name not in self.left]

    def pins(self, pins: Sequence[Pin]) -> list[Pin]:
        """The pins but for those on what is left."""
        gone = [f"{self.part.name}/{name}" for name in self.left]
        return [p for p in pins if not any(within(one, n) for one in gone for n in p.names)]

    def told(self) -> tuple[Left, ...]:
        """All that is left of the part, features that are alike in how and why together."""
        if self.whole:
            tried = [one for each in self.tried.values() for one in each]
            return (Left(part=self.part.name, tried=tuple(dict.fromkeys(tried))),)
        found: dict[tuple[LeftHow, tuple[Tried, ...]], list[str]] = {}
        for name, how in self.left.items():
            found.setdefault((how, tuple(self.tried.get(name, ()))), []).append(name)
        return tuple(
            Left(part=self.part.name, features=tuple(names), how=how, tried=tried)
            for (how, tried), names in found.items()
        )

    # -- giving way --------------------------------------------------------------------------------

    def leave(self, names: Collection[str]) -> None:
        """Leave features, and what hangs on them; the whole part where it has none of that name."""
        mine = [name for name in names if name in self.names]
        if not mine:
            self.whole = True
            return
        hanging = hanging_on(mine, self.rest, self.kinds)
        features = {f.name: f for f in self.part.features}
        for name in mine:
            by_hand = allows_hand_work(features[name], self.part, self.kinds)
            self.left[name] = LeftHow.BY_HAND if by_hand else LeftHow.LEFT
        self.hang(hanging)

    def hang(self, hanging: Mapping[str, str]) -> None:
        """Leave what cannot be made before what is made by hand, each with what it hangs on."""
        for name, first in hanging.items():
            how = "left" if self.left.get(first) is LeftHow.LEFT else "made by hand"
            self.left[name] = LeftHow.LEFT
            self.note([name], "", f"it starts on the floor of {first}, which is {how}")

    def note(self, names: Collection[str], way: str, refusal: str) -> None:
        """Remember what was tried for features, or ("") for the part, and how it was refused."""
        for name in names or ("",):
            one = Tried(way=way, refusal=refusal)
            if one not in self.tried.setdefault(name, []):
                self.tried[name].append(one)

    def forget_the_bar(self) -> None:
        """Bar no more ways of cutting the bar's own faces and ends: they may do once a feature that
        spoils them is left."""
        own = tuple(f"{self.part.name}/{name}/" for name in self.names)
        barred = tuple(one for one in self.refused.barred if one.task.startswith(own))
        self.refused = replace(self.refused, barred=barred)

    def another_way(self, name: str) -> bool:
        """Bar the way of making a feature that is taken now; False where there is no other."""
        feature = next((f for f in self.part.features if f.name == name), None)
        if feature is None:
            return False
        ways = [way.name for way in self.kinds[feature.kind].ways(feature.spec, self.part)]
        shut = self.refused.by_feature.get(name, ())
        left = [way for way in ways if way not in shut]
        if len(left) < 2:
            return False
        self.refused = replace(self.refused, ways=(*self.refused.ways, (name, left[0])))
        return True

    def another_bar(self, names: Collection[str], step: str, refusal: str, shop: Workshop) -> bool:
        """Take the next bar that the part could be cut from; after the last, the first again. False
        where the planner's refusal of names is to be taken as it is."""
        if self.part.joined or (self.first is None and self.same.issuperset(names)):
            return False
        bars = bars_for(self.part, shop)[:MOST_BARS]
        left = [bar for bar in bars if bar.section not in self.refused.bars]
        if self.first is None and len(left) < 2:
            return False
        self.counted.clear()
        if len(left) < 2 and self.first is not None:
            self.refused, self.first = self.first, None
            return True
        if self.first is None:
            self.first = self.refused
            self.same.update(names)
        told = [name for name in names if name in self.names]
        self.note(told, f"{step}, from bar {left[0].bar.name}".removeprefix(", "), refusal)
        self.refused = Refused(bars=(*self.refused.bars, left[0].section))
        return True

    def unplanned(self, features: Collection[str], step: str, refusal: str) -> bool:
        """Give way where the planner finds no plan for features; False where it names none."""
        mine = [name for name in features if name in self.names]
        if not mine:
            return False
        self.note(mine, step, refusal)
        for name in mine:
            if not self.another_way(name):
                self.leave([name])
        return True

    def objected(self, plan: PartPlan, objections: Sequence[Objection], shop: Workshop) -> bool:
        """Give way where a plan is refused; False where nothing of it is named. plan: the one
        refused.
        """
        refused = list(_refused(plan, objections))
        for feature in dict.fromkeys(p.task.feature for p, _, _ in refused):
            self.counted[feature] += 1
            self.counted[""] += 1
        barred: set[str] = set()
        for p, setup, one in refused:
            feature = p.task.feature
            told = f"{setup.holding.device}, {p.pose.up} up"
            told += f", {p.tool.name}" if one.cutter else ""
            self.note([feature] if feature in self.names else [], told, one.words)
            if self.counted[feature] > MOST_OF_ONE or self.counted[""] > MOST_OF_ALL:
                if feature not in self.names:
                    return False
                self.leave([feature])
            elif p.task.id not in barred:
                barred.add(p.task.id)
                bar = self._bar(p, setup, one, shop)
                self.refused = replace(self.refused, barred=(*self.refused.barred, bar))
        if refused:
            return True
        named = [name for one in objections for name in one.features if name in self.names]
        for one in objections:
            self.note([name for name in one.features if name in named], "", one.words)
        if named:
            self.leave(named)
        return bool(named)

    def _bar(self, p: Placed, setup: Setup, one: Objection, shop: Workshop) -> Barred:
        """The least that keeps a task from being done so again: in that vise, or by that cutter,
        where there are others; else in that pose; once some such are barred, in that way."""
        task, pose, way = p.task.id, p.pose, way_of(p.pose)
        before = [b for b in self.refused.barred if b.task == task]
        words = one.words
        if one.cutter:
            tools = {b.tool for b in before if b.tool} | {p.tool.name}
            if any(tool.name not in tools for tool in p.task.tools):
                return Barred(task, pose, tool=p.tool.name, refusal=words)
        mine = [b for b in before if b.pose and way_of(b.pose).name == way.name and not b.tool]
        device = setup.holding.device
        here = way.in_device(device)
        if here is not None and here != way and any(v.name != device for v in shop.vises):
            often = sum(b.device == device for b in mine) >= OFTEN
            return Barred(task, None if often else pose, way.name, device, refusal=words)
        if sum(not b.device for b in mine) >= OFTEN:
            return Barred(task, way=way.name, refusal=words)
        return Barred(task, pose, refusal=words)


def planned_as_far(
    attempt: Attempt, planner: Planner, pins: Sequence[Pin], words: Words = str
) -> PartPlan | None:
    """The plan of a part without what must be left of it; None where all of it is.

    words: of a refusal. A part that the planner breaks on is refused as well. Raises PinError for
    pins that cannot hold, DoneError for what is said to be done and cannot be.
    """
    while not attempt.whole:
        planner.refused[attempt.part.name] = attempt.refused
        try:
            return planner.part(attempt.rest, attempt.pins(pins))[0]
        except DoneError:
            raise
        except Exception as reason:  # of whatever kind: no part's trouble stops the others
            if isinstance(reason, PinError) and reason.choices:
                raise
            why = (
                reason if isinstance(reason, UnplannableError) else UnplannableError(words(reason))
            )
            sound = why is reason and not planner.resumed
            if sound and attempt.another_bar(why.features, why.step, why.why, planner.workshop):
                continue
            if not attempt.unplanned(why.features, why.step, why.why):
                search(
                    attempt,
                    why.why,
                    lambda some: plan_on_trial(some, planner, pins) is not None,
                    why.step,
                )
    return None


def _refused(
    plan: PartPlan, objections: Sequence[Objection]
) -> Iterator[tuple[Placed, Setup, Objection]]:
    """What objections are about, as it is placed and held in a plan.

    What else is done to the same feature in the same setup is refused too, but for the cutter: a
    hole is spotted where it is drilled.
    """
    placed = {p.task.id: p for p in plan.order.placed}
    held = {o.id: setup for setup in plan.setups for o in setup.operations}
    for one in objections:
        about = [p.task.id for p in placed.values() if p.task.feature in one.features]
        names = [n for n in one.operations or about if n in placed and n in held]
        besides = [
            o.id
            for name in names
            for o in held[name].operations
            if o.id in placed and placed[o.id].task.feature == placed[name].task.feature
        ]
        for name in dict.fromkeys(names if one.cutter else [*names, *besides]):
            yield placed[name], held[name], one


def search(attempt: Attempt, refusal: str, good: Callable[[Attempt], bool], step: str = "") -> None:
    """Leave the feature without which all is good, or else all that is not good with the rest; the
    whole part where it is not good without any.

    refusal: that names no feature, of a step or of none. good: whether a part goes with some of its
    features left.
    """
    attempt.forget_the_bar()
    bare = _with_left(attempt, attempt.names)
    if not attempt.names or not good(bare):
        attempt.note([], step, refusal)
        attempt.whole = True
        return
    for name in reversed(attempt.names):
        if good(_with_left(attempt, [name])):
            attempt.note([name], step, refusal)
            attempt.leave([name])
            return
    kept: list[str] = []
    for name in attempt.names:
        if good(_with_left(attempt, [n for n in attempt.names if n not in (*kept, name)])):
            kept.append(name)
    bad = [name for name in attempt.names if name not in kept]
    attempt.note(bad, step, refusal)
    attempt.leave(bad)


def _with_left(attempt: Attempt, names: Collection[str]) -> Attempt:
    """The attempt with more features left, on trial."""
    trial = replace(
        attempt,
        left=dict(attempt.left),
        tried={name: list(tried) for name, tried in attempt.tried.items()},
        counted=Counter(attempt.counted),
    )
    if names:
        trial.leave(names)
    return trial


def plan_on_trial(attempt: Attempt, planner: Planner, pins: Sequence[Pin]) -> PartPlan | None:
    """The plan of a part as it is tried, without giving way further; None where there is none."""
    planner.refused[attempt.part.name] = attempt.refused
    try:
        return planner.part(attempt.rest, attempt.pins(pins))[0]
    except Exception:
        return None
