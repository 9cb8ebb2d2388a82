"""Finds why no fewer heats would do, or why none will: joints that can never share one, and the
rest.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, product

from barstock.fabricating.firing import Firing, Work, unfit, wrongs
from barstock.fabricating.joining_findings import Finding, Mistake
from barstock.fabricating.joints import Attitude, Holding, Joint
from barstock.route import HeatReason, HeatReasonKind

Places = Sequence[tuple[Holding, Attitude]]


def why_so_many(work: Work, places: Places, most: int, heats: int) -> tuple[HeatReason, ...]:
    """The reasons why a fabrication needs so many heats."""
    if heats <= 1:
        return (HeatReason(kind=HeatReasonKind.ONE),) if heats else ()
    if most == 1:
        return (HeatReason(kind=HeatReasonKind.AS_ASKED),)
    pairs = {
        frozenset((a.name, b.name)): why
        for a, b in combinations(work.joints, 2)
        if (why := _why_apart(work, places, a, b))
    }
    names = [joint.name for joint in work.joints]
    for group in combinations(names, heats):
        between = [frozenset(pair) for pair in combinations(group, 2)]
        if all(pair in pairs for pair in between):
            head = HeatReason(kind=HeatReasonKind.NONE_SHARE, joints=group)
            return (head, *(pairs[pair] for pair in between))
    head = HeatReason(kind=HeatReasonKind.ALL_TRIED, numbers={"heats": heats - 1})
    return (head, *pairs.values())


def why_none(work: Work, places: Places) -> tuple[Finding, ...]:
    """The findings that stand in the way of any plan: of each joint no heat can make, the least
    trouble.
    """
    found: list[Finding] = []
    for joint in work.joints:
        troubles: list[list[Finding]] = [
            list(wrongs(work, {}, firing)) for firing in _firings((joint,), places)
        ]
        if troubles and all(troubles):
            found += sorted(troubles, key=len)[0]
        elif not troubles:
            found.append(Finding(Mistake.NO_HEAT, joint.name, "there is no way to hold the work",
                                 "add a holding and its attitudes"))  # fmt: skip
    if found:
        return tuple(dict.fromkeys(found))
    what = "each joint can be made alone, but in every order one would melt again unheld"
    mend = "hold by screws or the fixture, or choose alloys of falling melting ranges"
    return (Finding(Mistake.REMELT, "heats", what, mend),)


def _why_apart(work: Work, places: Places, a: Joint, b: Joint) -> HeatReason | None:
    """Why two joints can never share a heat, None where they may."""
    joints = (a.name, b.name)
    good = [place for place in places if all(place[1].downhill(joint) for joint in (a, b))]
    if not good:
        return HeatReason(kind=HeatReasonKind.NO_ATTITUDE, joints=joints)
    # what stands in the way of the pair only because earlier joints are left out is no reason
    troubles = [next(unfit(work, {}, firing), None) for firing in _firings((a, b), good)]
    first = troubles[0]
    if first is None or None in troubles:
        return None
    return HeatReason(
        kind=first.kind,
        joints=joints,
        numbers={"limit": first.limit, "working": first.working},
        names={"about": first.about, "metal": first.metal},
    )


def _firings(joints: tuple[Joint, ...], places: Places) -> Iterator[Firing]:
    for holding, attitude in places:
        for alloys in product(*(joint.alloys for joint in joints)):
            names = [joint.name for joint in joints]
            yield Firing(dict(zip(names, alloys, strict=True)), holding, attitude)
