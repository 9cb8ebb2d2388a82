"""Round work in a V-block: lying in it, the block gripped by the vise and the work clamped down; or
standing in it, pressed by the moving jaw against the fixed one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations, product
from math import sqrt

from barstock.drawing.build import Vec
from barstock.errors import UnplannableError
from barstock.handbook.holding_limits import HOLDER_RADIUS, LEAST_LENGTH, least_length
from barstock.planning.tasks.pose import Box, Lie, Pose, lay
from barstock.planning.tasks.task import Level, Sink, Task
from barstock.planning.values import Cutting, Zeros, plan_view
from barstock.route import Body, BodyKind, Plunge, Traverse
from barstock.route.statements import CautionKind
from barstock.workshop.shop import Tool, VBlock, Vise

ROOT2 = sqrt(2.0)
ON_FLANK = 1.0  # of a V's side past where the round touches it [mm]; common practice
AIR = 0.5  # under a cutter that passes over the block [mm]; common practice
CLEAR = 2.0  # from cutter to block and clamp, the stop is set by eye [mm]; common practice
GRIP = 8.0  # least height of the block between the jaws [mm]; common practice
STANDS = 0.75  # of its diameter that standing work is held over at least; common practice
SEES = 3.0  # of the work above all that holds it, for the edge finder [mm]; common practice
FINDER = 10.0  # tip of a usual edge finder [mm]; common practice
OUT = 2.0  # times its diameter that it is cut beyond the block at most; common practice
CLAMPED = (0.5, 0.0, 1.0)  # along the block: in its middle or at an end
EACH = 8  # points along each line that are looked at


LYING = (CautionKind.V_BLOCK_CLAMP, CautionKind.V_BLOCK_SEAT)
"""What to beware of with lying work."""


def vee_for(block: VBlock, across: float) -> float:
    """The narrower V of the block that takes a round so thick [mm]. Raises UnplannableError."""
    good = [v for v in (block.small_v, block.large_v) if across <= ROOT2 * (v - 2 * ON_FLANK)]
    if not good:
        most = ROOT2 * (max(block.small_v, block.large_v) - 2 * ON_FLANK)
        raise UnplannableError(
            f"the V-block takes rounds of up to {most:.1f} mm, and this is {across:g} mm across; "
            "add a larger one to workshop.yaml"
        )
    return min(good)


def stands(pose: Pose) -> bool:
    """Does round work stand upright in a pose?"""
    return pose.up.axis == 0


def block_at(pose: Pose, lie: Lie) -> Body:
    """Where the V-block stands round work that lies so."""
    assert pose.vee is not None
    low, high = lie.extent
    block, mouth, half = pose.vee.block, pose.vee.vee, (high[1] - low[1]) / 2
    middle = (low[1] + high[1]) / 2
    if stands(pose):
        face = middle - ROOT2 * half + mouth / 2
        x = (low[0] + high[0]) / 2
        return Body(
            kind=BodyKind.V_BLOCK,
            low=_rounded((x - block.wide / 2, face - block.high, 0.0)),
            high=_rounded((x + block.wide / 2, face, block.long)),
            bears="back",
            mouth=mouth,
        )
    top = low[2] + half - ROOT2 * half + mouth / 2
    start = pose.vee.start
    return Body(
        kind=BodyKind.V_BLOCK,
        low=_rounded((start, middle - block.wide / 2, top - block.high)),
        high=_rounded((start + block.long, middle + block.wide / 2, top)),
        bears="up",
        mouth=mouth,
    )


def clamp_at(pose: Pose, lie: Lie) -> Body:
    """Where the block's clamp stands over work that lies so."""
    assert pose.vee is not None
    there, block, top = block_at(pose, lie), pose.vee.block, lie.extent[1][2]
    middle = pose.vee.start + block.clamp / 2 + pose.vee.clamp * (block.long - block.clamp)
    return Body(
        kind=BodyKind.CLAMP,
        low=(round(middle - block.clamp / 2, 4), there.low[1], there.middle[2]),
        high=(round(middle + block.clamp / 2, 4), there.high[1], round(top + block.tall, 4)),
        bears="down",
        at=round(top, 4),
    )


def bodies(pose: Pose, lie: Lie) -> tuple[Body, ...]:
    """The block, and over lying work its clamp."""
    there = block_at(pose, lie)
    return (there,) if stands(pose) else (there, clamp_at(pose, lie))


def _rounded(point: Vec) -> Vec:
    return (round(point[0], 4), round(point[1], 4), round(point[2], 4))


def packed(
    pose: Pose, box: Box, tasks: Sequence[Task], vise: Vise, owned: Sequence[float]
) -> tuple[tuple[float, ...], float]:
    """The parallels under the block (lying) or the work (standing), and the height of the work's
    lowest point [mm]. Raises UnplannableError."""
    assert pose.vee is not None
    block, flat = pose.vee.block, lay(pose, box, 0.0)
    there, upright = block_at(pose, flat), stands(pose)
    need = -there.low[1] if upright else there.size[1]
    if vise.opening < need:
        raise UnplannableError(
            f"no vise opens {need:.1f} mm for the V-block ({pose.name}); the widest opens "
            f"{vise.opening:g} mm"
        )
    choices = [(), *((p,) for p in owned), *combinations(owned, 2)]
    if upright:
        if there.high[1] > -ON_FLANK:
            raise UnplannableError(
                f"the V of the block, {pose.vee.vee:g} mm, is too wide: standing in it the work "
                "would not reach the fixed jaw; add a block with a smaller V to workshop.yaml"
            )
        tall, top = flat.extent[1][2], max(vise.jaw_depth, block.long)
        exposed = max((_depth(t, flat) for t in tasks), default=0.0)
        below = max((_below(t) for t in tasks), default=0.0)
        least = max(top + max(SEES, exposed + AIR) - tall, below)
        most = min(vise.jaw_depth, block.long) - max(GRIP, STANDS * flat.extent[1][0])
        what = "the work, standing in the V-block,"
    else:
        least = vise.jaw_depth - (block.high - pose.vee.vee / 2 - ON_FLANK)
        most, what = vise.jaw_depth - GRIP, "the V-block"
    good = [c for c in choices if max(least, 0.0) - 1e-6 <= sum(c) <= most + 1e-6]
    if most < max(least, 0.0):
        raise UnplannableError(
            f"{what} cannot be held: it must stand {max(least, 0.0):.1f} mm or more above the bed "
            f"for the cutter and the edge finder, and {most:.1f} mm or less to be gripped; a "
            "shorter block, or a deeper vise, would do"
        )
    if not good:
        raise UnplannableError(
            f"no parallels owned bring {what} to between {max(least, 0.0):.1f} and {most:.1f} mm "
            "above the bed of the vise; add such a pair to workshop.yaml"
        )
    chosen = min(good, key=lambda c: (len(c), sum(c)))
    return chosen, sum(chosen) - (0.0 if upright else there.low[2])


def _depth(task: Task, lie: Lie) -> float:
    """How far below the top of standing work a level cut goes [mm]."""
    if not isinstance(task.job, Level):
        return 0.0
    plan = plan_view(task.job.cut, task.part.size, lie)
    return plan.top - plan.floor


def _below(task: Task) -> float:
    """How far a drill comes out under standing work [mm]."""
    through = isinstance(task.job, Sink) and task.job.through
    return task.tools[0].diameter / 2 + 1.0 if through else 0.0


# -- where the block may be ----------------------------------------------------------------------


def starts(
    pose: Pose, box: Box, cuttings: Sequence[tuple[Tool, Cutting]], zeros: Zeros
) -> list[tuple[float, float]]:
    """All places of block (from the work's left end [mm]) and clamp (0 to 1 along the block) that
    leave a cut free on lying work.

    cuttings: the ways of making it.
    """
    assert pose.vee is not None
    block, length = pose.vee.block, lay(pose, box, 0.0).extent[1][0]
    most = int(length - LEAST_LENGTH / 2)
    found = []
    for start, clamp in product(range(-int(block.long), most + 1), CLAMPED):
        there = replace(pose, vee=replace(pose.vee, start=float(start), clamp=clamp))
        lie = lay(there, box, 0.0)
        if _seated(there, lie) and any(
            not in_the_way(values, tool, lie, zeros) for tool, values in cuttings
        ):
            found.append((float(start), clamp))
    return found


def support(pose: Pose, length: float) -> float:
    """How much of lying work is on the block [mm]."""
    assert pose.vee is not None
    start = pose.vee.start
    return min(length, start + pose.vee.block.long) - max(0.0, start)


def _seated(pose: Pose, lie: Lie) -> bool:
    """Is lying work long enough on the block, under its clamp, its left end free to be touched?"""
    vee, clamp, high = block_at(pose, lie), clamp_at(pose, lie), lie.extent[1]
    length = high[0]

    return (
        support(pose, length) >= least_length(length)
        and clamp.low[0] >= CLEAR
        and clamp.high[0] <= length - CLEAR
        and (high[2] >= vee.high[2] + SEES or vee.low[0] >= 0.0)
    )


def in_sight(lie: Lie, finder: float) -> bool:
    """Can an edge finder touch both sides of lying work, over the block or beyond its ends?"""
    vee, (low, high) = block_at(lie.pose, lie), lie.extent
    past = max(vee.low[0] - low[0], high[0] - vee.high[0])
    return (low[2] + high[2]) / 2 >= vee.high[2] + ON_FLANK or past >= finder + CLEAR


def in_the_way(values: Cutting, tool: Tool, lie: Lie, zeros: Zeros) -> str:
    """What these moves would run into on lying work, "" where nothing is."""
    vee, clamp, (low, high) = block_at(lie.pose, lie), clamp_at(lie.pose, lie), lie.extent
    root, middle = vee.high[2] - vee.mouth / 2, (low[1] + high[1]) / 2
    far = OUT * (high[1] - low[1])
    for a, b, y, wide, z in _spans(values, zeros, high[2]):
        radius = max(tool.diameter, wide) / 2
        holder = HOLDER_RADIUS[tool.holder] if z + tool.reach < clamp.high[2] else 0.0
        for wide_, met in (
            (radius, "the cutter would run into the clamp of the V-block"),
            (holder, f"{tool.name} is too short to reach past the clamp of the V-block"),
        ):
            if a - wide_ < clamp.high[0] + CLEAR and b + wide_ > clamp.low[0] - CLEAR and wide_:
                return met
        if max(a, 0.0) < vee.low[0] - far or min(b, high[0]) > vee.high[0] + far:
            return "the work would stand too far out of the V-block there"
        over = a - radius < vee.high[0] + CLEAR and b + radius > vee.low[0] - CLEAR
        nose = radius if tool.point < 179.9 else 0.0
        in_v = a == b and z - root >= abs(y - middle) + radius - nose / 2 + AIR
        if over and z < vee.high[2] + AIR and not in_v:
            return "the cutter would run into the V-block"
    return ""


def _spans(
    values: Cutting, zeros: Zeros, top: float
) -> Iterator[tuple[float, float, float, float, float]]:
    """Of each move its span along x, its y, how wide it bores, the height of the cutter's tip."""
    for move in values.moves:
        if isinstance(move, Plunge):
            x, z = zeros.x + move.x, (top if move.touch else zeros.z) + move.z
            yield x, x, zeros.y + move.y, move.wide, z
        elif isinstance(move, Traverse):
            along = [zeros.x + x for x, _ in move.points]
            yield min(along), max(along), zeros.y + move.points[0][1], 0.0, zeros.z + move.z


def seat_points(pose: Pose, box: Box) -> tuple[tuple[Vec, ...], tuple[Vec, ...], tuple[Vec, ...]]:
    """Points of the work that must be there: where V, clamp and jaw press it; the four sides of
    standing work that the edge finder touches; the two of lying work, where any place will do."""
    lie = lay(pose, box, 0.0)
    vee, (low, high) = block_at(pose, lie), lie.extent
    half, any_of = (high[1] - low[1]) / 2 - 0.02, []
    seen: list[Vec] = []
    slant, (x, y, z) = half / ROOT2, ((a + b) / 2 for a, b in zip(low, high, strict=True))
    if stands(pose):
        heights = _between((low[2], low[2] + GRIP), EACH)
        pressed = [(x + way * slant, y - slant, h) for h in heights for way in (-1, 1)]
        pressed += [(x, y + half, h) for h in heights]
        sides = [(x - half, y), (x + half, y), (x, y - half), (x, y + half)]
        seen = [(*side, h) for h in _between((high[2] - SEES, high[2]), EACH) for side in sides]
    else:
        on = (max(low[0], vee.low[0]), min(high[0], vee.high[0]))
        pressed = [(x, y + way * slant, z - slant) for x in _between(on, EACH) for way in (-1, 1)]
        clamp = clamp_at(pose, lie)
        pressed += [(x, y, z + half) for x in _between((clamp.low[0], clamp.high[0]), EACH)]
        out = (high[0], vee.high[0]) if high[0] - vee.high[0] > vee.low[0] else (low[0], vee.low[0])
        bare = (low[0], high[0]) if z >= vee.high[2] + ON_FLANK else out
        any_of = [(x, y + way * half, z) for x in _between(bare, EACH) for way in (-1, 1)]
        any_of *= in_sight(lie, FINDER)
    pressed_, seen_, any_ = (tuple(map(lie.of_part, found)) for found in (pressed, seen, any_of))
    return pressed_, seen_, any_


def _between(span: tuple[float, float], count: int) -> list[float]:
    return [span[0] + (span[1] - span[0]) * (n + 0.5) / count for n in range(count)]
