"""The poses of round work: in the V-block wherever block and clamp leave its cuts free."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from barstock.drawing.build import Face
from barstock.errors import UnplannableError
from barstock.planning.holding.hold import hold
from barstock.planning.holding.table_poses import box_of
from barstock.planning.holding.v_block import (
    CLAMPED,
    in_sight,
    in_the_way,
    stands,
    starts,
    support,
    vee_for,
)
from barstock.planning.tasks.pose import InVee, Lie, Pose, lay
from barstock.planning.tasks.task import End, Line, Sink, Task
from barstock.planning.values import Cutting, Zeros, cut
from barstock.planning.values.at_hand import Bench
from barstock.stocking.bar_choice import Lengths, Stock
from barstock.workshop.shop import Tool

Place = tuple[float, float]
"""Where the block stands along lying work [mm], and its clamp along the block (0 to 1)."""


def in_vees(tasks: Sequence[Task], bench: Bench, stock: Stock, lengths: Lengths) -> list[Task]:
    """The tasks of a round part with every pose in the V-block, on as few places of it as will do.

    Raises UnplannableError where there is none, or no place of it leaves a task free.
    """
    part, block = bench.part, bench.workshop.v_block
    if block is None:
        raise UnplannableError(
            f"part {part.name!r} is round, and workshop.yaml lists no V-block to hold it in: add "
            "'V-block: true', or its sizes, under 'holding'"
        )
    try:
        vee = InVee(block, vee_for(block, part.size[1]))
    except UnplannableError as reason:
        raise UnplannableError(f"part {part.name!r}: {reason}") from reason
    milled = [t for t in tasks if not isinstance(t.job, Line)]
    ways = {t.id: _ways(t, milled, vee, bench, stock, lengths) for t in milled}
    ways = {t.id: _with_its_steps(t, milled, ways) for t in milled}
    whole = ((0.0, 0.0, 0.0), part.size)
    chosen: dict[str, list[Pose]] = {name: [] for name in ways}
    for pose in dict.fromkeys(p for found in ways.values() for p in found):
        waiting = {name: found[pose] for name, found in ways.items() if found.get(pose)}
        while waiting:
            start = max(
                {s for found in waiting.values() for s in found},
                key=lambda s: (
                    sum(s in found for found in waiting.values()),
                    in_sight(lay(_at(pose, s), whole, 0.0), bench.finder),
                    support(_at(pose, s), part.size[0]),
                    -abs(s[0] + block.long / 2 - part.size[0] / 2),
                    -abs(s[1] - 0.5),
                ),
            )
            for name in [name for name, found in waiting.items() if start in found]:
                chosen[name].append(_at(pose, start))
                del waiting[name]
    return [replace(t, poses=tuple(chosen.get(t.id, t.poses))) for t in tasks]


def _with_its_steps(
    task: Task, milled: Sequence[Task], ways: Mapping[str, dict[Pose, list[Place]]]
) -> dict[Pose, list[Place]]:
    """What is left of a task's ways so that a hole is spotted and finished where it is drilled."""
    found = ways[task.id]
    for other in milled if isinstance(task.job, Sink) else ():
        if other.feature == task.feature and isinstance(other.job, Sink):
            both = ways[other.id]
            found = {p: [s for s in free if s in both.get(p, ())] for p, free in found.items()}
    return found if any(found.values()) else ways[task.id]


def _at(pose: Pose, place: Place) -> Pose:
    assert pose.vee is not None
    return replace(pose, vee=replace(pose.vee, start=place[0], clamp=place[1]))


def _ways(
    task: Task, all_: Sequence[Task], vee: InVee, bench: Bench, stock: Stock, lengths: Lengths
) -> dict[Pose, list[Place]]:
    """The poses in which a task can be done, each with the places of the block that leave it free.

    Raises UnplannableError where there is none.
    """
    sides = {p.up for t in all_ if not isinstance(t.job, End) for p in t.poses if p.up.axis} or {
        Face.TOP
    }
    found: dict[Pose, list[Place]] = {}
    trouble = "it would have to be tilted in the V-block"
    offered = [p for p in task.poses if p.stage == "piece" and not p.tilt and not p.block]
    for bare in offered:
        if isinstance(task.job, End) and bare.up.axis and bare.up not in sides:
            continue
        pose = replace(bare, vee=vee, end_only=False)
        box = box_of(pose, task, bench.part, stock, lengths)
        lie = lay(pose, box, 0.0)
        zeros = Zeros(0.0, 0.0, lie.extent[1][2])
        try:
            hold(pose, box, [task], bench.workshop)
        except UnplannableError as reason:
            trouble = str(reason)
            continue
        cuttings = [(tool, cut(task, tool, lie, zeros, bench.dial)) for tool in task.tools]
        if not stands(pose):
            found[pose] = starts(pose, box, cuttings, zeros)
            trouble = _why_not(pose, lie, cuttings, zeros)
        else:
            found[pose] = [(0.0, 0.5)]
    if not any(found.values()):
        raise UnplannableError(f"part {bench.part.name!r}, {task.named}: {trouble}")
    return {pose: free for pose, free in found.items() if free}


def _why_not(pose: Pose, lie: Lie, cuttings: Sequence[tuple[Tool, Cutting]], zeros: Zeros) -> str:
    """Why no place of the block will do for a task."""
    assert pose.vee is not None
    start = (lie.extent[1][0] - pose.vee.block.long) / 2
    lies = [lay(_at(pose, (start, clamp)), lie.box, 0.0) for clamp in CLAMPED]
    tried = [in_the_way(v, tool, one, zeros) for tool, v in cuttings for one in lies]
    met = [told for told in tried if told]
    short = next((told for told in met if "too short" in told), "")
    told = short or next(iter(met), "the work is too short for block and clamp")
    cure = "a cutter that sticks out further" if short else "a shorter block"
    return f"{told}, wherever the block stands along the work; {cure} might do"
