"""Breaks a part's drawing down to its tasks: every feature's cuts, the faces and ends the bar asks
for.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from itertools import product
from math import cos, radians

from barstock.drawing.bar_names import end_name, face_name
from barstock.drawing.build import Face, Feature, Part
from barstock.drawing.dimension_runs import CheckSort, EndKind, over
from barstock.errors import UnplannableError, concerning
from barstock.machines import able
from barstock.methods.cuts import Check, EdgeCut, FlushCut, HoleCut, LevelCut, ProfileCut, Way
from barstock.methods.joined_metal import metal_of
from barstock.methods.kind import Kind
from barstock.planning.holding.metal import removed_at
from barstock.planning.holding.way import Need, way_of
from barstock.planning.holding.ways import instead, poses_for, usual
from barstock.planning.parts.coaxial import led
from barstock.planning.parts.contours import bores_along, contour_tasks
from barstock.planning.parts.hole_tasks import HoleTasks
from barstock.planning.parts.hollows_below import through_a_piece, to_the_metal
from barstock.planning.parts.joined_work import after_joining, firm
from barstock.planning.tasks.pose import Pose, face_towards, plus
from barstock.planning.tasks.task import (
    JUST_IN,
    Bevel,
    Contour,
    End,
    Facing,
    FiledEnd,
    Level,
    Line,
    Sink,
    Slit,
    Task,
    numbered,
    task_id,
)
from barstock.planning.tasks.tooling import CONE_CLEAR, ToolChest
from barstock.quantities import Length
from barstock.route import Process
from barstock.route.statements import Reason, ReasonKind, because
from barstock.stocking.bar_choice import CLEAN_UP, Stock, sawn

LONG = (Face.FRONT, Face.BACK, Face.BOTTOM, Face.TOP)
# The planner's datum end: squared first, then every piece-stage position is read from it.
DATUM_END = Face.LEFT
NEARLY = 0.95  # of an edge's leg, where it ends on either face
EDGE_POINTS = 12  # of an edge looked at for whether any of it stays


def tasks_of(
    part: Part,
    stock: Stock,
    kinds: Mapping[str, Kind],
    chest: ToolChest,
    refused: Mapping[str, Collection[str]] | None = None,
) -> list[Task]:
    """All tasks of a part with their precedence. Raises UnplannableError naming the feature.

    refused: by feature, the names of those ways of making it that are not to be taken.
    """
    tasks = _facing(part, stock, chest)
    tasks += [] if part.joined else _ends(part, stock, chest)
    faced = {t.id: because(ReasonKind.FACE_FIRST) for t in tasks if t.does is Process.FACE}
    ways = {
        f.name: _best_way(ways_left(f, part, kinds, (refused or {}).get(f.name, ())), part, chest)
        for f in part.features
    }
    for feature in part.features:
        others = [way for name, way in ways.items() if name != feature.name]
        asked = [way.name for way in kinds[feature.kind].ways(feature.spec, part)]
        milled = "milled" in asked[: asked.index("filed")] if "filed" in asked else False
        with concerning(feature.name):
            if milled and ways[feature.name].name == "milled":
                _can_be_milled(part, feature, ways[feature.name], chest)
            made = _feature(part, feature, ways[feature.name], others, chest)
        filed = milled and ways[feature.name].name == "filed"
        tasks += map(_not_milled, made) if filed else made
    tasks = led(tasks)
    for feature in part.features:
        for cut in ways[feature.name].cuts:
            if isinstance(cut, ProfileCut) and cut.way == "milled":
                bores = bores_along(cut.face, ways.values(), tasks)
                with concerning(feature.name):
                    tasks += contour_tasks(part, feature, cut, bores, chest)
    ordered = [_with_order(t, tasks, faced) for t in tasks]
    return after_joining(part, ordered, chest) if part.joined else ordered


# -- what the bar asks for ---------------------------------------------------------------------


def _facing(part: Part, stock: Stock, chest: ToolChest) -> list[Task]:
    """Bringing an oversize section to the drawing, the larger face first."""
    tasks: list[Task] = []
    drawn = [feature.name for feature in part.features]
    for face in stock.to_face:
        other = 3 - face.axis
        corner = [0.0, 0.0, 0.0]
        corner[face.axis] = part.size[face.axis] if face.sign > 0 else 0.0
        spread = stock.y if other == 1 else stock.z
        corner[other] = spread[0]
        across = [0.0, 0.0, 0.0]
        across[other] = 1.0
        last = not any(f.opposite is face for f in stock.to_face if f is not face) or any(
            t.face is face.opposite for t in tasks
        )
        name = ("length", "width", "height")[face.axis]
        cut = LevelCut(
            face=face,
            origin=(corner[0], corner[1], corner[2]),
            run=(1.0, 0.0, 0.0),
            across=(across[0], across[1], across[2]),
            normal=face.normal,
            run_length=part.size[0],
            across_length=spread[1] - spread[0],
            walls=frozenset(),
            checks=(
                (Check(name, part.dimension(face.axis), CheckSort.OUTSIDE, over(face.axis)),)
                if last
                else ()
            ),
            note="" if last else "cleans up only",
        )
        raw = stock.y if face.axis == 1 else stock.z
        depth = abs((raw[1] if face.sign > 0 else raw[0]) - corner[face.axis])
        opposite = task_id(part, face_name(face.opposite, drawn), "mill")
        tasks.append(
            Task(
                task_id(part, face_name(face, drawn), "mill"),
                part,
                face_name(face, drawn),
                Process.FACE,
                Facing(cut),
                chest.end_mills(cut, depth),
                (*_long_poses(face, "bar"), *_long_poses(face, "piece")),
                {opposite: because(ReasonKind.SEAT)} if tasks and last else {},
                cut.checks,
                (because(ReasonKind.LARGER_BAR),),
                to_size=last,
            )
        )
    return tasks


def _long_poses(face: Face, stage: str) -> list[Pose]:
    """The pose with `face` up, jaws along the part, the datum end at the left-hand stop."""
    return [
        p
        for p in poses_for(face.normal, None, stage)
        if p.fixed_jaw.axis != 0 and p.left is DATUM_END
    ]


def _ends(part: Part, stock: Stock, chest: ToolChest) -> list[Task]:
    if able(chest.workshop, *End.moves) is None:
        return [_filed_end(part, face, chest) for face in (DATUM_END, DATUM_END.opposite)]
    tasks = []
    for face, second in ((DATUM_END, False), (DATUM_END.opposite, True)):
        poses = [
            replace(p, way=way_of(p).for_an_end(part, chest.workshop))
            for up in LONG
            for p in poses_for(up.normal, None, "piece")
            if p.fixed_jaw.axis != 0 and p.right is face
        ]
        poses += _straight_poses(face) if part.round else []
        long = [p for p in poses if way_of(p).squares(part)]
        usable = [p for p in long if chest.side_mill(_tall(stock, p))]
        upright = not usable and (
            not long or any(instead(p, part, chest.workshop) for p in _straight_poses(face))
        )
        if upright:
            usable = _straight_poses(face)
        if not usable:
            tall = min(_tall(stock, p) for p in poses)
            raise UnplannableError(
                f"no end mill has flutes long enough to square an end {Length(tall):g} tall; add "
                f"one of at least {Length(tall + 1):g} flute to workshop.yaml",
                part.name,
            )
        mills = (
            chest.facing_mills(min(part.size[1:]), 2 * CLEAN_UP)
            if upright
            else chest.side_mill(min(_tall(stock, p) for p in usable))
        )
        tasks.append(
            Task(
                _squaring(part, face),
                part,
                end_name(face, [feature.name for feature in part.features]),
                Process.SQUARE,
                End(face, second),
                mills,
                tuple(usable),
                {_squaring(part, DATUM_END): because(ReasonKind.LENGTH_FROM_END)} if second else {},
                (Check("length", part.length, CheckSort.OUTSIDE, over(0, EndKind.SQUARED_END)),)
                if second
                else (),
                (because(ReasonKind.ROUGH_ENDS),),
                to_size=second,
                by_hand=_filed_end(part, face, chest),
            )
        )
    return tasks


def _filed_end(part: Part, face: Face, chest: ToolChest) -> Task:
    """An end squared by hand, where no machine of the shop does it."""
    second, length = face is not DATUM_END, part.size[0]
    return Task(
        _squaring(part, face),
        part,
        end_name(face, [feature.name for feature in part.features]),
        Process.SQUARE,
        FiledEnd(face, second, length if second else sawn(part) - CLEAN_UP),
        (chest.file(),),
        (poses_for(face.normal, None, "piece", Need.BY_HAND)[0],),
        {_squaring(part, DATUM_END): because(ReasonKind.LENGTH_FROM_END)} if second else {},
        (Check("length", part.length, CheckSort.OUTSIDE, over(0, EndKind.SQUARED_END)),)
        if second
        else (),
        (because(ReasonKind.ROUGH_ENDS),),
        to_size=second,
    )


def _squaring(part: Part, face: Face) -> str:
    """The task that squares an end."""
    return task_id(part, end_name(face, [feature.name for feature in part.features]), "square")


def _tall(stock: Stock, pose: Pose) -> float:
    """How high the raw section stands in a pose [mm]."""
    low, high = stock.y if pose.up.axis == 1 else stock.z
    return high - low


# -- features ----------------------------------------------------------------------------------


def _feature(
    part: Part, feature: Feature, way: Way, others: Sequence[Way], chest: ToolChest
) -> list[Task]:
    tasks: list[Task] = []
    for number, cut in enumerate(way.cuts):
        nth = 0 if len(way.cuts) == 1 else number + 1
        if isinstance(cut, EdgeCut) and _not_there(cut, part, others):
            continue
        if isinstance(cut, LevelCut):
            tasks.append(_level(part, feature, cut, nth, chest))
        elif isinstance(cut, HoleCut):
            cut = _no_deeper(cut, part, others)
            metal = _left_over(cut, part, others)
            made = HoleTasks(part, feature, cut, nth, _hole_poses(cut), chest, metal).build()
            if cut.finish == "countersunk":
                _far_mouth(tasks, made)
            tasks += made
        elif isinstance(cut, EdgeCut) and cut.way == "milled" and _tall_enough(cut, part, chest):
            tasks.append(_bevel(part, feature, cut, nth, chest))
        elif not (isinstance(cut, ProfileCut) and cut.way == "milled"):
            tasks.append(_line(part, feature, cut, nth, others, chest))
    return tasks


def _far_mouth(tasks: list[Task], made: list[Task]) -> None:
    """Put the mouth at the far end of holes after the bore, before its thread: the countersink is
    sunk from where it touches the bore."""
    tap = tasks[-1].job
    threaded = isinstance(tap, Sink) and tap.step == "tap"
    bored = tasks[-2 if threaded else -1]
    step = because(ReasonKind.STEP_BEFORE)
    made[0] = replace(made[0], after={**made[0].after, bored.id: step})
    if threaded:
        tasks[-1] = replace(tasks[-1], after={**tasks[-1].after, made[-1].id: step})


def level_depth(cut: LevelCut, part: Part) -> float:
    """The greatest depth of a level floor below the part's face, square to the floor [mm]; along
    its wall, where it leans to one."""
    deepest = 0.0
    for run in (0.0, cut.run_length):
        x = [cut.origin[i] + cut.run[i] * run for i in range(3)]
        edge = part.size[cut.face.axis] if cut.face.sign > 0 else 0.0
        deepest = max(deepest, (edge - x[cut.face.axis]) * cut.face.sign)
    return deepest / cos(radians(cut.lean)) if cut.walls & {"run-", "run+"} else deepest


def _level(part: Part, feature: Feature, cut: LevelCut, nth: int, chest: ToolChest) -> Task:
    depth = level_depth(cut, part)
    if not part.round and not chest.mills(cut, depth):
        saws = chest.slitting_saws(cut, depth) or chest.saw_to_buy(cut, depth)
        if saws and (sideways := _sideways(cut)):
            return Task(
                task_id(part, feature.name, numbered("slit", nth)),
                part,
                feature.name,
                Process.SLIT,
                Slit(cut),
                saws,
                tuple(sideways),
                {},
                cut.checks,
                (because(ReasonKind.NARROW),),
                cut=nth,
            )
    tools = chest.end_mills(cut, depth)
    why: tuple[Reason, ...] = ()
    if cut.lean > 1e-9:
        poses = [p for p in poses_for(cut.normal, cut.across, "piece") if p.tilt > 0]
        why = (because(ReasonKind.LEANS, lean=cut.lean),)
    else:
        poses = _straight_poses(cut.face)
        along_bar = abs(cut.run[0]) > 0.999 or abs(cut.across[0]) > 0.999
        if along_bar and cut.face.axis != 0 and _runs_through(cut, part):
            poses = _long_poses(cut.face, "bar") + poses
    return Task(
        task_id(part, feature.name, numbered("mill", nth)),
        part,
        feature.name,
        Process.MILL,
        Level(cut),
        tools,
        tuple(poses),
        {},
        cut.checks,
        why,
        cut=nth,
    )


def _sideways(cut: LevelCut) -> list[Pose]:
    """The poses in which a slot lies level and opens to the front, or to the right-hand side."""
    found = []
    for up in (face for face in Face if abs(cut.across[face.axis]) > 0.999):
        poses = poses_for(up.normal, None, "piece")
        if cut.face.axis == 0:
            found += [p for p in poses if p.right is cut.face]
        else:
            front = [p for p in poses if p.fixed_jaw is cut.face.opposite]
            found += [p for p in front if p.right.axis != 0 or p.left is DATUM_END]
    return found


def _runs_through(cut: LevelCut, part: Part) -> bool:
    """Does the cut run the whole length of the part with both ends open?"""
    axis_x, length, names = (
        (cut.run[0], cut.run_length, ("run-", "run+"))
        if abs(cut.run[0]) > 0.999
        else (cut.across[0], cut.across_length, ("across-", "across+"))
    )
    return abs(length * abs(axis_x) - part.size[0]) < 0.01 and not cut.walls & set(names)


def _straight_poses(face: Face) -> list[Pose]:
    """Piece-stage poses for work from `face`, the datum end or a long face at the stop."""
    if face.axis != 0:
        return _long_poses(face, "piece")
    return [
        p for p in poses_for(face.normal, None, "piece") if p.fixed_jaw in (Face.BACK, Face.BOTTOM)
    ]


def _hole_poses(cut: HoleCut) -> tuple[Pose, ...]:
    """From its own face, or from either side where a plain hole goes right through."""
    faces = [cut.face]
    if cut.through and not cut.countersink and not cut.counterbore:
        faces.append(cut.face.opposite)
    return tuple(p for f in faces for p in _straight_poses(f))


def _no_deeper(cut: HoleCut, part: Part, others: Sequence[Way]) -> HoleCut:
    """The hole no deeper than there is metal for; of a fabrication, from a side where it is held
    firmly for it."""
    if part.joined is not None:
        metal = metal_of(part.joined)
        for shorter in through_a_piece(cut, part, others):
            if any(firm(pose, part, metal) for pose in _hole_poses(shorter)):
                return shorter
    return to_the_metal(cut, part, others)


def _left_over(cut: HoleCut, part: Part, others: Sequence[Way]) -> float:
    """The metal over a hole's entry while it is made, which an outline or a lathe takes away later
    [mm]."""
    below = cut.below(part.size)
    cuts = [c for way in others for c in way.cuts]
    if below <= 0 or not (part.round or any(isinstance(c, ProfileCut) for c in cuts)):
        return 0.0
    floors = [c for c in cuts if isinstance(c, LevelCut)]
    over = [plus(p, cut.face.normal, below / 2) for p in cut.at]
    return below if any(not any(c.clears(p) for c in floors) for p in over) else 0.0


def _not_there(cut: EdgeCut, part: Part, others: Sequence[Way]) -> bool:
    """Do floors of other features take an edge away along its whole length, with all that is to
    be cut off it?"""
    bevels = [c for way in others for c in way.cuts if isinstance(c, EdgeCut)]
    if any(_within(cut, bevel) for bevel in bevels):
        return True
    floors = [c for way in others for c in way.cuts if isinstance(c, LevelCut)]
    along = 3 - cut.faces[0].axis - cut.faces[1].axis
    legs = dict(zip(cut.faces, reversed(cut.size), strict=True))
    for n, deep in product(range(EDGE_POINTS), cut.faces):
        p = [part.size[along] * (n + 0.5) / EDGE_POINTS] * 3
        for face in cut.faces:
            edge = part.size[face.axis] if face.sign > 0 else 0.0
            p[face.axis] = edge - face.sign * legs[face] * (NEARLY if face is deep else 1 - NEARLY)
        if not any(floor.clears((p[0], p[1], p[2])) for floor in floors):
            return False
    return True


def _within(cut: EdgeCut, other: EdgeCut) -> bool:
    """Does a wider bevel of the same edge take all that is to be cut off it?"""
    legs = dict(zip(cut.faces, cut.size, strict=True))
    wider = dict(zip(other.faces, other.size, strict=True))
    return (
        other.shape == "bevel"
        and legs.keys() == wider.keys()
        and all(wider[face] > legs[face] for face in legs)
    )


def ways_left(
    feature: Feature, part: Part, kinds: Mapping[str, Kind], refused: Collection[str]
) -> list[Way]:
    """The ways of making a feature that are not refused; all where every one is."""
    ways = kinds[feature.kind].ways(feature.spec, part)
    return [way for way in ways if way.name not in refused] or ways


def _best_way(ways: list[Way], part: Part, chest: ToolChest) -> Way:
    """The first way, unless the shop can mill what would otherwise be filed, or owns the cutters
    of another."""
    for way in ways:
        if all(isinstance(c, LevelCut) and _owned(c, part, chest) for c in way.cuts):
            return way
    for way in ways:
        if all(isinstance(c, EdgeCut) and c.way == "milled" and chest.cone(c) for c in way.cuts):
            return way if able(chest.workshop, *Bevel.moves) else ways[0]
    return ways[0]


def _owned(cut: LevelCut, part: Part, chest: ToolChest) -> bool:
    """Does the shop own an end mill or a slitting saw for a floor?"""
    depth = level_depth(cut, part)
    return chest.mills(cut, depth) or bool(not part.round and chest.slitting_saws(cut, depth))


def _tall_enough(cut: EdgeCut, part: Part, chest: ToolChest) -> bool:
    """Is there a cone cutter, and can the part be gripped below it?"""
    below = cut.size[0] + CONE_CLEAR
    heights = [part.size[f.axis] for f in cut.faces if f.axis != 0]
    way = usual(Need.CUT, Face.TOP)
    return chest.cone(cut) is not None and any(way.free(h) >= below for h in heights)


def _bevel(part: Part, feature: Feature, cut: EdgeCut, nth: int, chest: ToolChest) -> Task:
    along_bar = 0 not in (cut.faces[0].axis, cut.faces[1].axis)
    poses = [
        p
        for face in cut.faces
        if face.axis != 0
        for stage in (("bar", "piece") if along_bar else ("piece",))
        for p in _long_poses(face, stage)
    ]
    tool = chest.cone(cut) or chest.countersink(90.0, 2 * cut.size[0] + 2)
    return Task(
        task_id(part, feature.name, numbered("bevel", nth)),
        part,
        feature.name,
        Process.BEVEL,
        Bevel(cut),
        (tool,),
        tuple(poses),
        {},
        cut.checks,
        cut=nth,
    )


def _line(
    part: Part,
    feature: Feature,
    cut: ProfileCut | EdgeCut | FlushCut,
    nth: int,
    others: Sequence[Way],
    chest: ToolChest,
) -> Task:
    floors = [c for way in others for c in way.cuts if isinstance(c, LevelCut)]
    gone = frozenset(floor.face for floor in floors if _takes_the_face(floor))
    face = _end_on(cut) if isinstance(cut, EdgeCut) else cut.face
    pose = next(p for p in poses_for(face.normal, None, "piece", Need.BY_HAND))
    return Task(
        task_id(part, feature.name, numbered("file", nth)),
        part,
        feature.name,
        Process.FILE_FLUSH if isinstance(cut, FlushCut) else Process.FILE,
        Line(cut, gone=gone),
        (chest.file(),),
        (pose,),
        {},
        cut.checks,
        (because(ReasonKind.EDGES_LAST),),
    )


def _can_be_milled(part: Part, feature: Feature, way: Way, chest: ToolChest) -> None:
    """Raises UnplannableError where no cutter owned mills an edge, or too little is below it to
    grip."""
    for cut in way.cuts:
        if isinstance(cut, EdgeCut) and not _tall_enough(cut, part, chest):
            tall = "nothing below the edge is left to grip" if chest.cone(cut) else ""
            why = tall or "no cone cutter owned is as wide as its bevel"
            raise UnplannableError(why, part.name, f"mill {feature.name}")


def _not_milled(task: Task) -> Task:
    """The filing of what was to be milled, with word of it."""
    if not (isinstance(task.job, Line) and isinstance(task.job.cut, ProfileCut | EdgeCut)):
        return task
    return replace(task, why=(*task.why, because(ReasonKind.NOT_MILLED)))


def _end_on(cut: EdgeCut) -> Face:
    """The face on which an edge is seen as a point: where its shape is marked out."""
    axis = 3 - cut.faces[0].axis - cut.faces[1].axis
    return Face.of(axis, 1 if axis != 0 else -1)


def _takes_an_edge(task: Task, leaning: LevelCut) -> bool:
    """Does it take away all of an end's edge of the face from which a leaning cut is measured?

    The work is then tilted, and its highest point lies on that edge.
    """
    size, face = task.part.size, leaning.face
    run = max((i for i in range(3) if i != face.axis), key=lambda i: abs(leaning.run[i]))
    across = 3 - run - face.axis
    for end in (0.05, size[run] - 0.05):
        points = []
        for n in range(EDGE_POINTS):
            p = [0.0, 0.0, 0.0]
            p[run], p[across] = end, size[across] * (n + 0.5) / EDGE_POINTS
            p[face.axis] = size[face.axis] - 0.05 if face.sign > 0 else 0.05
            points.append((p[0], p[1], p[2]))
        if all(removed_at(task, p) for p in points):
            return True
    return False


def _at_root(task: Task, flank: LevelCut) -> bool:
    """Does a task cut a slot at the root of a vee, deeper than that?"""
    if not isinstance(task.job, Level) or task.job.cut.lean or task.does is Process.FACE:
        return False
    middle = plus(flank.origin, flank.across, flank.across_length / 2)
    root = plus(middle, flank.run, flank.run_length)
    return removed_at(task, plus(root, flank.face.normal, -JUST_IN))


def _read_from(leaning: LevelCut, edge: EdgeCut) -> bool:
    """May a leaning cut be measured from an edge? Of one at 45 degrees either face may be up."""
    return leaning.face in edge.faces or face_towards(leaning.normal) in edge.faces


def _takes_the_face(cut: LevelCut) -> bool:
    """Does a leaning cut run out on all sides, as a ridge's flats do?"""
    return cut.lean > 0 and not cut.walls


def _ridge_over(task: Task, line: Task) -> bool:
    """Does a task take the face from which a filed edge is marked out, as a ridge does?"""
    return (
        isinstance(task.job, Level)
        and _takes_the_face(task.job.cut)
        and isinstance(line.job, Line)
        and isinstance(line.job.cut, EdgeCut)
        and task.job.cut.face in line.job.cut.faces
    )


# -- precedence --------------------------------------------------------------------------------


def _with_order(task: Task, tasks: list[Task], faced: dict[str, Reason]) -> Task:
    """Add what holds between tasks of different features."""
    after = dict(task.after)
    if task.does not in (Process.FACE, Process.SQUARE):
        after |= {k: v for k, v in faced.items() if k != task.id}
    first = _squaring(task.part, DATUM_END)
    second = _squaring(task.part, DATUM_END.opposite)
    job = task.job
    if isinstance(job, Line | Contour):
        outline = isinstance(job, Contour) or job.leave > 0
        last = because(ReasonKind.OUTLINE_LAST if outline else ReasonKind.FILING_LAST)
        after |= {
            t.id: last
            for t in tasks
            if t.id != task.id
            and not isinstance(t.job, Line)
            and not (outline and isinstance(t.job, Contour))
            and not _ridge_over(t, task)
        }
    elif isinstance(job, Sink):
        after.setdefault(first, because(ReasonKind.SQUARED_END))
        if job.face.axis == 0:
            after.setdefault(second, because(ReasonKind.FINISHED_END))
        elif task.part.round:
            after.setdefault(second, because(ReasonKind.SQUARED_END))
    elif isinstance(job, Bevel):
        if 0 in (job.cut.faces[0].axis, job.cut.faces[1].axis):
            after[first] = after[second] = because(ReasonKind.EDGE_THERE)
        after |= {
            t.id: because(ReasonKind.CORNER_GOES)
            for t in tasks
            if isinstance(t.job, Level) and t.job.cut.lean and _read_from(t.job.cut, job.cut)
        }
    elif isinstance(job, Level) and task.does is not Process.FACE:
        piece_only = all(p.stage == "piece" for p in task.poses)
        if piece_only:
            after.setdefault(first, because(ReasonKind.SQUARED_END))
        if job.cut.lean and job.cut.walls & {"run-", "run+"}:
            after |= {t.id: because(ReasonKind.ROOT_FIRST) for t in tasks if _at_root(t, job.cut)}
        if job.cut.lean or job.cut.face.axis == 0:
            after.setdefault(second, because(ReasonKind.ENDS_LOCATE))
        if not job.cut.lean:
            after |= {
                t.id: because(ReasonKind.EDGE_GOES)
                for t in tasks
                if isinstance(t.job, Level) and t.job.cut.lean and _takes_an_edge(task, t.job.cut)
            }
        if _takes_the_face(job.cut):
            after |= {
                t.id: because(ReasonKind.FACE_GOES)
                for t in tasks
                if t.feature != task.feature
                and (not isinstance(t.job, Line) or _ridge_over(task, t))
                and not (isinstance(t.job, Level) and _takes_the_face(t.job.cut))
                and not (isinstance(t.job, Level) and _takes_an_edge(t, job.cut))
                and not (isinstance(t.job, Bevel) and job.cut.face in t.job.cut.faces)
            }
    return replace(task, after=after)
