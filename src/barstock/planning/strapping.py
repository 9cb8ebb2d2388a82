"""Work strapped down on the table: where the straps sit, and what they leave free to be cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, product

from barstock.drawing.model import Face, Vec
from barstock.planning.poses import Box, Lie, Pose, Straps, lay
from barstock.planning.route import Ground, Move, Plunge, Side, Step, Strap, Table, Traverse
from barstock.planning.tasks import Level, Sink, Task, UnplannableError
from barstock.planning.working_values import Cutting, Zeros
from barstock.quantities import Unit, show
from barstock.workshop.model import Machine, MachineKind, Tool, Workshop

WHERE: dict[str, tuple[tuple[Side, float], ...]] = {
    "over both ends": (("left", 0.5), ("right", 0.5)),
    "over front and back, in the middle": (("front", 0.5), ("back", 0.5)),
    "over front and back, near both ends": (
        ("front", 0.2),
        ("front", 0.8),
        ("back", 0.2),
        ("back", 0.8),
    ),
    "over the left end in front and the right end behind": (("left", 0.2), ("right", 0.8)),
    "over the left end behind and the right end in front": (("left", 0.8), ("right", 0.2)),
}
"""Where straps come in over the work: the side, and how far along it, from the left or front."""
INSIDE = 5.0  # parallels and fence end so far inside the work's ends [mm]; common practice
FENCE = 10.0  # thickness of the straight edge at the back [mm]; common practice
FENCE_HIGH = 0.4  # of the work's height that the fence stands against; common practice
LEAST_FENCE = 1.0  # of it at least [mm]
CLEAR = 1.0  # a cutter keeps so far from straps, parallels and fence [mm]; common practice
BESIDE = 2.0  # from work or fence to the nut's washer [mm]; common practice
NUT = 22.0  # a washer's diameter [mm]; common practice
HOLDER = 20.0  # radius of a chuck or collet holder [mm]; common practice
SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)  # of a nose's length and width, looked at
WITHIN = 0.5  # its corners are looked at so far inside [mm]
LEVEL = 0.01  # a nose bears on what is level within this [mm]
SUNK = 0.5  # share of the work's height that may be gone under a nose; common practice
AIR = 1.0  # under the deepest cutter [mm]; common practice
SPAN = 20.0  # times its thickness that work may span between parallels; common practice


def strapped(pose: Pose, workshop: Workshop) -> list[Pose]:
    """The same way up, strapped to the table in every way there is."""
    kit = workshop.clamps
    if kit is None or pose.tilt or pose.block or pose.stage == "bar":
        return []
    flat = replace(pose, vise="", end_only=False)
    return [replace(flat, straps=Straps(where, kit)) for where in WHERE]


def lies_flat(pose: Pose, size: Vec) -> bool:
    """Is the work no higher so than it is long and wide?"""
    return size[pose.up.axis] <= min(size[pose.right.axis], size[pose.fixed_jaw.axis])


def table(straps: Straps, lie: Lie, thickness: float) -> Table:
    """Where straps, parallels and fence stand round work that lies so.

    thickness: of a parallel [mm].
    """
    kit, (low, high) = straps.kit, lie.extent
    spots = WHERE[straps.where]
    sideways = spots[0][0] in ("front", "back")
    along, across = (0, 1) if sideways else (1, 0)
    put = []
    for side, share in spots:
        middle = low[along] + share * (high[along] - low[along])
        greater = side in ("right", "back")
        nose = high[across] - kit.bears if greater else low[across] + kit.bears
        ends = sorted((nose, nose + (kit.long if greater else -kit.long)))
        span = (middle - kit.wide / 2, middle + kit.wide / 2)
        edge, out = (high[across], 1) if greater else (low[across], -1)
        beside = edge + out * (FENCE * (side == "back") + BESIDE)
        nut = sorted((beside, beside + out * NUT))
        strap, round_nut = (
            _ground(across, at, span)
            for at, span in ((ends, span), (nut, (middle - NUT / 2, middle + NUT / 2)))
        )
        put.append(
            Strap(
                low=strap.low,
                high=strap.high,
                over=side,
                bears=round(high[2], 4),
                top=round(high[2] + kit.thick, 4),
                nut=round_nut,
                nut_top=round(high[2] + kit.tall, 4),
            )
        )
    under = []
    for edge, inward in ((low[across], 1), (high[across], -1)):
        sides = sorted(edge + inward * (kit.bears + way * thickness) / 2 for way in (-1, 1))
        under.append(_ground(across, sides, (low[along] + INSIDE, high[along] - INSIDE)))
    fence = _ground(0, (low[0] + INSIDE, high[0] - INSIDE), (0.0, FENCE))
    top = low[2] + FENCE_HIGH * (high[2] - low[2])
    return Table(straps=tuple(put), under=tuple(under), fence=fence, fence_top=round(top, 4))


def _ground(axis: int, first: Sequence[float], second: Sequence[float]) -> Ground:
    """A rectangle from its span along an axis of the table and its span along the other."""
    (a, b), (c, d) = (first, second) if axis == 0 else (second, first)
    return Ground(low=(round(a, 4), round(c, 4)), high=(round(b, 4), round(d, 4)))


def packed(
    pose: Pose, box: Box, deepest: float, workshop: Workshop, wanted: Sequence[float]
) -> tuple[float, list[float]]:
    """The parallels' height, the lowest that will do or one that is wanted, and all that would.

    deepest: how far a cutter goes below the work [mm]. Raises UnplannableError.
    """
    assert pose.straps is not None
    low, high = lay(pose, box, 0.0).extent
    tall, kit = high[2] - low[2], pose.straps.kit
    fit = [p for p in workshop.parallels if deepest + AIR <= p <= kit.highest - tall]
    if not fit:
        raise UnplannableError(
            f"no parallels owned carry the work between {deepest + AIR:.1f} mm, for air below it, "
            f"and {max(kit.highest - tall, 0.0):.1f} mm, under which the straps reach over work "
            f"{tall:.1f} mm tall; add such a pair to workshop.yaml"
        )
    inner = min(high[i] - low[i] for i in (0, 1)) - 2 * kit.bears
    if inner < 2 * kit.bears:
        raise UnplannableError("the work is too small for straps: their noses would cover it")
    return next((w for w in wanted if w in fit), fit[0]), fit


def in_the_way(values: Cutting, tool: Tool, lie: Lie, zeros: Zeros, workshop: Workshop) -> str:
    """What these moves would run into on work strapped so, "" where nothing is."""
    straps = lie.pose.straps
    assert straps is not None
    there, rest = table(straps, lie, workshop.parallel_thickness), lie.packing
    low, high = lie.extent
    spans = [[low[0]], [high[1]]]
    for move in values.moves:
        radius = max(getattr(move, "wide", 0.0), tool.diameter) / 2
        for path, z in _paths(move, zeros, high[2]):
            for i in (0, 1):
                spans[i] += [path[0][i], path[1][i]]
            for strap in there.straps:
                bodies: tuple[tuple[Ground, float], ...] = (
                    (strap, strap.top),
                    (strap.nut, strap.nut_top),
                )
                for body, top in bodies:
                    if z < top and _near(path, body, radius + CLEAR):
                        return f"the cutter would run into the strap over the {strap.over}"
                    if z + tool.reach < top and _near(path, body, HOLDER + CLEAR):
                        return (
                            f"{tool.name} is too short to reach past the strap over the "
                            f"{strap.over}"
                        )
            if z < rest and any(_near(path, one, radius + CLEAR) for one in there.under):
                return "the cutter would go through the work into a parallel"
            if z < rest + LEAST_FENCE and _near(path, there.fence, radius + CLEAR):
                return "the cutter would run into the fence"
    return _beyond(spans, workshop.machine(MachineKind.MILL))


def _paths(
    move: Move, zeros: Zeros, top: float
) -> Iterator[tuple[tuple[tuple[float, float], tuple[float, float]], float]]:
    """The straight runs of a move on the table, each with the height of the cutter's tip."""
    if isinstance(move, Plunge):
        at = (zeros.x + move.x, zeros.y + move.y)
        yield (at, at), (top if move.touch else zeros.z) + move.z
    elif isinstance(move, Traverse):
        for a, b in pairwise([(zeros.x + x, zeros.y + y) for x, y in move.points]):
            yield (a, b), zeros.z + move.z


def _near(path: tuple[Sequence[float], Sequence[float]], ground: Ground, by: float) -> bool:
    """Does a run along a slide pass within so much of a rectangle? Of others, what it spans."""
    return all(
        min(path[0][i], path[1][i]) - by < ground.high[i]
        and max(path[0][i], path[1][i]) + by > ground.low[i]
        for i in (0, 1)
    )


def _beyond(spans: Sequence[Sequence[float]], mill: Machine | None) -> str:
    """Is the mill's travel too short to go from the stop or the fence to every cut?"""
    for name, span, axis in zip(
        "XY", spans, (mill.x, mill.y) if mill else (None, None), strict=True
    ):
        far = max(span) - min(span)
        if axis and far > axis.travel:
            return f"it asks for {far:.0f} mm of travel along {name}; the mill has {axis.travel:g}"
    return ""


@dataclass(frozen=True)
class Noses:
    """Points of the face that is up, in the part's frame, on which each strap's nose bears."""

    up: Face
    spots: tuple[tuple[Vec, ...], ...]
    tall: float

    def spoilt_by(self, tasks: Sequence[Task]) -> list[Task]:
        """The tasks which together leave some nose nothing level or solid to bear on; else none."""
        guilty: list[Task] = []
        for spots in self.spots:
            gone = {t.id: [_air(t, p, self.up) for p in spots] for t in tasks}
            deep = [max(each, default=0.0) for each in zip(*gone.values(), strict=True)] or [0.0]
            if max(deep) - min(deep) > LEVEL or max(deep) > SUNK * self.tall:
                guilty += [t for t in tasks if any(gone[t.id]) and t not in guilty]
        return guilty


def noses(pose: Pose, box: Box) -> Noses:
    """Where straps bear on work of these extremes."""
    assert pose.straps is not None
    lie = lay(pose, box, 0.0)
    low, high = lie.extent
    spots = tuple(_under(strap, lie) for strap in table(pose.straps, lie, 1.0).straps)
    return Noses(pose.up, spots, high[2] - low[2])


def lowered(there: Table, lie: Lie, done: Sequence[Task]) -> Table:
    """The straps set down to the floors that were cut under their noses."""
    straps = []
    for strap in there.straps:
        gone = max((_air(t, p, lie.pose.up) for t in done for p in _under(strap, lie)), default=0.0)
        to = {name: getattr(strap, name) - gone for name in ("bears", "top", "nut_top")}
        straps.append(strap.model_copy(update=to) if gone else strap)
    return there.model_copy(update={"straps": tuple(straps)})


def _under(strap: Strap, lie: Lie) -> tuple[Vec, ...]:
    """Points of the work's top under a strap's nose, in the part's frame."""
    low, high = lie.extent
    (x0, x1), (y0, y1) = (
        (max(strap.low[i], low[i]) + WITHIN, min(strap.high[i], high[i]) - WITHIN) for i in (0, 1)
    )
    return tuple(
        lie.of_part((x0 + across * (x1 - x0), y0 + along * (y1 - y0), high[2]))
        for across, along in product(SHARES, SHARES)
    )


def _air(task: Task, top: Vec, up: Face) -> float:
    """How deep a task leaves nothing under a point of the face that is up [mm]."""
    job = task.job
    if isinstance(job, Level):
        return job.cut.air(top, up)
    return job.air(top, up) if isinstance(job, Sink) and job.step != "spot" else 0.0


def steps(there: Table, packing: float, unit: Unit) -> list[Step]:
    """Setting fence, stop and parallels, and strapping the work down."""
    n = len(there.straps)
    sides = " and ".join(dict.fromkeys(strap.over for strap in there.straps))
    return [
        Step(
            words="Clamp a straight bar on the table as the fence, its face true along X by a dial "
            "indicator; its top no higher than said",
            dial={"above the parallels": show(there.fence_top - packing, unit)},
        ),
        Step(words="Clamp the stop on the table for the left-hand end"),
        *(
            Step(
                words=f"Lay a parallel {way}, its middle under the noses of the straps",
                dial={name: show(at, unit)},
            )
            for way, name, at in _laid(there)
        ),
        Step(
            words=f"Work against fence and stop; {n} straps over the {sides}, each nose over the "
            "parallel, its middle as said. Try that the work has not moved once they are tight",
            dial={
                f"strap {k} over the {strap.over}": f"{name} {show(at, unit)}"
                for k, (strap, name, at) in enumerate(_spots(there), 1)
            },
        ),
    ]


def _laid(there: Table) -> Iterator[tuple[str, str, float]]:
    """Each parallel: which way it lies, and its middle from the stop or the fence [mm]."""
    for one in there.under:
        if one.high[1] - one.low[1] > one.high[0] - one.low[0]:
            yield "from front to back", "from the stop", (one.low[0] + one.high[0]) / 2
        else:
            yield "along X", "from the fence", -(one.low[1] + one.high[1]) / 2


def _spots(there: Table) -> Iterator[tuple[Strap, str, float]]:
    """Each strap with the middle of its width from the stop or the fence [mm]."""
    for strap in there.straps:
        if strap.over in ("left", "right"):
            yield strap, "from the fence", -(strap.low[1] + strap.high[1]) / 2
        else:
            yield strap, "from the stop", (strap.low[0] + strap.high[0]) / 2


CAUTIONS = (
    "Straps level, their heels on packing as high as the work; each stud close to the work, so "
    "that it presses on that and not on the heel.",
    "Wind the table by hand to every end of travel before the spindle turns: straps, studs and "
    "nuts stand higher than the work. Try the nuts again after the first cut.",
    "No strap is moved here while the work is being cut. Where one has to be, all is found again: "
    "the work against fence and stop, and every zero.",
)
"""Common practice."""
