"""A milled outline's tasks: sawn outside the line, milled round on a fixture block, filed where no
cutter can be fed along the line."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from barstock.drawing.build import Face, Feature, Part, Vec
from barstock.errors import UnplannableError
from barstock.methods.cuts import HoleCut, ProfileCut, Way
from barstock.planning.holding.way import Need, way_of
from barstock.planning.holding.ways import poses_for, usual
from barstock.planning.tasks.outline_path import CUSP, edges_left, go_round, sawn, tightest, traced
from barstock.planning.tasks.pose import Pose, lay
from barstock.planning.tasks.task import Bore, Contour, Level, Line, Task, task_id
from barstock.planning.tasks.tooling import WALL_CUT, ToolChest
from barstock.planning.values.cutting import BELOW
from barstock.route import Process
from barstock.route.statements import Reason, ReasonKind, because
from barstock.workshop.shop import Tool

TO_FILE = CUSP + 0.1  # most that the file takes off: the cusps, and what the readings are out [mm]
WIDE = 1e6  # a hole whose mouth on a face was cut away with the metal round it [mm]


def bores_along(face: Face, ways: Iterable[Way], tasks: Sequence[Task]) -> tuple[Bore, ...]:
    """The part's holes right through square to a face, with their mouths on it and opposite."""
    found = []
    for cut in (c for way in ways for c in way.cuts):
        if not isinstance(cut, HoleCut) or not cut.through or cut.face.axis != face.axis:
            continue
        size = (cut.tap_drill or 0.84 * cut.diameter) if cut.thread else cut.diameter
        here = max(size, *(wide[0] for wide in (cut.countersink, cut.counterbore) if wide), 0.0)
        for at in cut.at:
            mouths = [
                (side, WIDE if _gone(at, side, tasks) else wide)
                for side, wide in ((cut.face, here), (cut.face.opposite, size))
            ]
            found.append(Bore(at, size, tuple(mouths)))
    return tuple(found)


def _gone(at: Vec, side: Face, tasks: Sequence[Task]) -> bool:
    """Does a cut take away the metal round a hole on a face?"""
    for task in tasks:
        if isinstance(task.job, Level) and task.does is not Process.FACE:
            point = list(at)
            point[side.axis] = task.part.size[side.axis] - 0.05 if side.sign > 0 else 0.05
            if task.job.cut.clears((point[0], point[1], point[2])):
                return True
    return False


def contour_tasks(
    part: Part, feature: Feature, cut: ProfileCut, bores: tuple[Bore, ...], chest: ToolChest
) -> list[Task]:
    """The tasks of an outline: saw, mill, and file if need be. Raises UnplannableError where it
    cannot be held or found.
    """
    sides = edges_left(cut, part.size)
    u, v = (i for i in range(3) if i != cut.face.axis)
    if not all(any((axis, sign) in sides for sign in (-1, 1)) for axis in (u, v)):
        raise UnplannableError(
            "the outline keeps clear of the part's own sides, so that no squared side is left to "
            "find zero on; make the part's sizes those of the outline, or write 'finish: filed'",
            part.name,
            feature.name,
        )
    tall = part.size[cut.face.axis]
    poses = _poses(part, cut)
    head = way_of(poses[0]).above(max((bore.size for bore in bores), default=5.0))
    mill = chest.contour_mill(tall + BELOW, tall + BELOW + head + 1.0, cut.least_inside)
    lie = lay(poses[0], ((0.0, 0.0, 0.0), part.size), 0.0)
    low, high = lie.extent
    line, radius = traced(cut, lie), mill.diameter / 2
    ways = go_round(line, radius, WALL_CUT, ((low[0], low[1]), (high[0], high[1])))
    corners = tightest(line, radius)
    bench = replace(poses[0], way=usual(Need.BY_HAND, poses[0].up))

    def task(step: str, does: Process, job: Line | Contour, tool: Tool, after: dict[str, Reason],
             where: Sequence[Pose], why: ReasonKind, last: bool) -> Task:  # fmt: skip
        return Task(task_id(part, feature.name, step), part, feature.name, does, job, (tool,),
                    tuple(where), after, cut.checks if last else (), (because(why),))  # fmt: skip

    saw = task(
        "saw",
        Process.SAW,
        Line(cut, leave=sawn(cut)[0]),
        chest.hand_saw(),
        {},
        (bench,),
        ReasonKind.SAWN_OUTLINE,
        False,
    )
    milled = task(
        "mill",
        Process.MILL_ROUND,
        Contour(cut, bores),
        mill,
        {saw.id: because(ReasonKind.SAW_FIRST)},
        poses,
        ReasonKind.SCREWED_DOWN,
        not (ways.filed or corners),
    )
    if not (ways.filed or corners):
        return [saw, milled]
    most = 0.0 if ways.missed else TO_FILE + corners
    filed = task(
        "file",
        Process.FILE,
        Line(cut, most=most),
        chest.file(),
        {milled.id: because(ReasonKind.MILL_FIRST)},
        (bench,),
        ReasonKind.FILED_ARCS,
        True,
    )
    return [saw, milled, filed]


def _poses(part: Part, cut: ProfileCut) -> list[Pose]:
    """Its face or the one opposite up, the longer way along the jaws."""
    found = []
    for up in (cut.face, cut.face.opposite):
        for pose in poses_for(up.normal, None, "piece", Need.FREE_ROUND):
            along, across = part.size[pose.right.axis], part.size[pose.fixed_jaw.axis]
            if pose.fixed_jaw.sign > 0 and along >= across:
                found.append(pose)
    return found
