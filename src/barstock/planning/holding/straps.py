"""Work strapped down on the table: where straps, what it lies on and the fence stand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, product
from math import ceil, cos, dist, radians

from barstock.drawing.build import Face, Part, Vec
from barstock.errors import UnplannableError
from barstock.handbook.holding_limits import SPRINGS, STRAPS_APART
from barstock.planning.holding.cutter_runs import STANDS_OUT, point_below, runs
from barstock.planning.holding.finder_room import beside_bodies
from barstock.planning.holding.grip import Grip
from barstock.planning.holding.metal import Needed, air
from barstock.planning.holding.table_held import BESIDE, CLEAR, NUT, UNDER_CUT, OnTable
from barstock.planning.holding.way import Way
from barstock.planning.tasks.pose import Box, Lie, Pose, lay
from barstock.planning.tasks.task import End, Task
from barstock.planning.values import Zeros
from barstock.quantities import INCH, Length, Unit
from barstock.route import Body, BodyKind, Holding, Operation, Side, Towards
from barstock.route.statements import Caution, CautionKind
from barstock.workshop.holding_kits import Clamps
from barstock.workshop.shop import Workshop

WHERE: dict[str, tuple[tuple[Side, float], ...]] = {
    "over both ends": (("left", 0.5), ("right", 0.5)),
    "over front and back, in the middle": (("front", 0.5), ("back", 0.5)),
    "over front and back, near both ends": (
        ("front", 0.2),
        ("front", 0.8),
        ("back", 0.2),
        ("back", 0.8),
    ),
    "over the back, near both ends": (("back", 0.2), ("back", 0.8)),
    "over the front, near both ends": (("front", 0.2), ("front", 0.8)),
    "over the left end in front and the right end behind": (("left", 0.2), ("right", 0.8)),
    "over the left end behind and the right end in front": (("left", 0.8), ("right", 0.2)),
}
"""Where straps come in over the work: the side, and how far along it, from the left or front."""
STRAPPED = (CautionKind.STRAPS_LEVEL, CautionKind.STRAPS_CLEAR, CautionKind.STRAPS_STAY)
LEAST_FENCE = 1.0  # of the work's side that the fence stands against [mm], or
LEAST_SHARE = 0.3  # a share of thin work's; common practice
INSIDE = 5.0  # parallels and fence end so far inside the work's ends [mm]; common practice
APART = 1.1  # times as far as straps must be from each other at least; common practice
NARROW = 4.0  # times what a nose bears: narrower work is strapped over one side; common practice
FENCE = 10.0  # thickness of the straight edge at the back [mm]; common practice
FENCE_HIGH = 0.4  # of the work's height that the fence stands against; common practice
SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)  # of a nose's length and width, looked at
WITHIN = 0.5  # its corners are looked at so far inside [mm]
LEVEL = 0.01  # a nose bears on what is level within this [mm]
SUNK = 0.9  # share of the work's height that may be gone under a nose; common practice
AIR = 1.0  # under the deepest cutter [mm]; common practice
BOARD = 12.0  # thickness of a board under thin work, at least [mm]; common practice


@dataclass(frozen=True)
class OnStraps(OnTable):
    """Work under straps on the table. where: they come in."""

    name = "straps on the table"
    where: str
    kit: Clamps

    @classmethod
    def instead(cls, pose: Pose, part: Part, shop: Workshop) -> Sequence[Way]:
        """The way is offered in every form there is, where the work lies flat."""
        kit = shop.kit(Clamps)
        if kit is None or pose.tilt or pose.stage == "bar" or not lies_flat(pose, part):
            return ()
        return cls.wherever(pose, part, kit)

    @classmethod
    def wherever(cls, pose: Pose, part: Part, kit: Clamps) -> Sequence[Way]:
        """The way with the straps in every place where they may be."""
        deep = part.size[pose.fixed_jaw.axis]
        return [
            cls(where, kit)
            for where, spots in WHERE.items()
            if len({side for side, _ in spots}) > 1 or deep < NARROW * kit.bears
        ]

    @classmethod
    def lacking(cls, pose: Pose, shop: Workshop) -> str:
        """The clamps, where the shop owns none."""
        lacks = not pose.tilt and shop.kit(Clamps) is None
        return "workshop.yaml lists no clamps, to strap it to the table" if lacks else ""

    def pose_words(self, pose: Pose) -> str:
        """Where the straps come in, for the name of a pose."""
        return f", strapped to the table {self.where}"

    def bodies(self, lie: Lie, thickness: float) -> tuple[Body, ...]:
        """The straps, parallels and fence round work that lies so; a board where it is so thin that
        it would spring between parallels.

        thickness: of a parallel [mm].
        """
        on = (_board(lie),) if limber(lie) else on_parallels(self.where, self.kit, lie, thickness)
        return (*strapped(self.where, self.kit, lie), *on)

    def seat_top(self, lie: Lie) -> float:
        """A little of the height of the work's side [mm]."""
        low, high = lie.level.extent
        return low[2] + min(LEAST_FENCE, LEAST_SHARE * (high[2] - low[2]))

    def hold(
        self,
        pose: Pose,
        box: Box,
        tasks: Sequence[Task],
        shop: Workshop,
        wanted: Sequence[float] = (),
    ) -> Grip:
        """The work is held as low as will do, or as is wanted."""
        deepest = max((point_below(t) for t in tasks), default=0.0)
        flat = lay(pose, box, 0.0)
        leaves_room(self.where, self.kit, flat)
        packing, could = _packed(self.kit, flat, deepest, shop, wanted)
        lie = lay(pose, box, packing)
        beside_bodies(lie, self.bodies(lie, shop.parallel_thickness), shop)
        return self.grip(lie, could, shop)

    def needs(self, pose: Pose, box: Box, part: Part) -> Needed:
        """It needs metal where the straps' noses bear."""
        lie = lay(pose, box, 0.0)
        low, high = lie.level.extent
        straps = [body for body in self.bodies(lie, 1.0) if body.kind is BodyKind.STRAP]
        return Noses(pose.up, tuple(_under(strap, lie.level) for strap in straps), high[2] - low[2])

    @classmethod
    def placed(cls, holding: Holding) -> Sequence[Body]:
        """The straps must stand in the same place."""
        return holding.of(BodyKind.STRAP)

    def after(self, grip: Grip, lie: Lie, done: Sequence[Task]) -> Grip:
        """The grip with its straps set down to the floors that were cut under their noses."""
        return replace(grip, bodies=_lowered(grip.bodies, lie.level, done))

    def settled(
        self, holding: Holding, operations: Sequence[Operation], zeros: Zeros, top: float
    ) -> Holding:
        """The holding with its fence set down under what passes over it, and the stop."""
        bodies = tuple(_under_cuts(b, operations, zeros, top) for b in holding.bodies)
        held = holding.model_copy(update={"bodies": bodies})
        return super().settled(held, operations, zeros, top)

    def cautions(self, tasks: Sequence[Task], holding: Holding, lie: Lie) -> Iterator[Caution]:
        """What to beware of with straps, and at an end that is squared."""
        if any(isinstance(t.job, End) for t in tasks):
            yield Caution(kind=CautionKind.PAST_PARALLELS, lengths={"past": STANDS_OUT})
        for kind in STRAPPED:
            yield Caution(kind=kind)


WAY = OnStraps


def lies_flat(pose: Pose, part: Part) -> bool:
    """Is the work no higher so than it is long and wide?"""
    size = part.size
    return size[pose.up.axis] <= min(size[pose.right.axis], size[pose.fixed_jaw.axis])


def limber(lie: Lie) -> bool:
    """Is the work so thin for its length that it would spring where it lies hollow?"""
    low, high = lie.extent
    return max(high[i] - low[i] for i in (0, 1)) > SPRINGS * (high[2] - low[2])


def strapped(where: str, kit: Clamps, lie: Lie, table: float = 0.0) -> tuple[Body, ...]:
    """The straps, with their nuts, and the fence of work that lies so. table: the height of the
    table's top [mm]."""
    low, high = lie.extent
    spots = WHERE[where]
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
        bears, top = round(high[2], 4), round(high[2] + kit.thick, 4)
        put += [
            _body(BodyKind.STRAP, "down", across, ends, span, (bears, top), over=side),
            _body(
                BodyKind.NUT,
                "down",
                across,
                nut,
                (middle - NUT / 2, middle + NUT / 2),
                (round(table, 4), round(high[2] + kit.tall, 4)),
                at=top,
                over=side,
            ),
        ]
    inside = (low[0] + INSIDE, high[0] - INSIDE)
    top = round(low[2] + FENCE_HIGH * (high[2] - low[2]), 4)
    fence = _body(BodyKind.FENCE, "front", 0, inside, (0.0, FENCE), (round(table, 4), top))
    return (*put, fence)


def on_parallels(
    where: str, kit: Clamps, lie: Lie, thickness: float, table: float = 0.0
) -> tuple[Body, ...]:
    """The parallels under the noses of straps. thickness: of a parallel; table: the height of the
    table's top [mm]."""
    low, high = lie.extent
    along, across = (0, 1) if WHERE[where][0][0] in ("front", "back") else (1, 0)
    laid, heights = (low[along] + INSIDE, high[along] - INSIDE), (round(table, 4), round(low[2], 4))
    near, far = (kit.bears - thickness) / 2, (kit.bears + thickness) / 2
    return tuple(
        _body(BodyKind.PARALLEL, "up", across, ends, laid, heights)
        for ends in (
            (low[across] + near, low[across] + far),
            (high[across] - far, high[across] - near),
        )
    )


def _board(lie: Lie) -> Body:
    """The board under thin work."""
    low, high = lie.extent
    inside = (low[0] + INSIDE, high[0] - INSIDE)
    return _body(BodyKind.BOARD, "up", 0, inside, (low[1], high[1]), (0.0, round(low[2], 4)))


def _body(
    kind: BodyKind,
    bears: Towards,
    axis: int,
    first: Sequence[float],
    second: Sequence[float],
    heights: tuple[float, float],
    at: float = 0.0,
    over: Side | None = None,
) -> Body:
    """A body from its span along an axis of the table, its span along the other and its heights."""
    (a, b), (c, d) = (first, second) if axis == 0 else (second, first)
    low = (round(a, 4), round(c, 4), heights[0])
    return Body(
        kind=kind,
        low=low,
        high=(round(b, 4), round(d, 4), heights[1]),
        bears=bears,
        at=at,
        over=over,
    )


def leaves_room(where: str, kit: Clamps, flat: Lie) -> None:
    """Raises UnplannableError where the straps would leave none of the work free, or meet."""
    low, high = flat.extent
    sideways = WHERE[where][0][0] in ("front", "back")
    along, across = (0, 1) if sideways else (1, 0)
    covered = len({side for side, _ in WHERE[where]}) * kit.bears
    if high[across] - low[across] < 2 * covered:
        raise UnplannableError("the work is too small for straps: their noses would cover it")
    shares = sorted({share for _, share in WHERE[where]})
    apart = min((b - a for a, b in pairwise(shares)), default=1.0) * (high[along] - low[along])
    if apart < kit.wide and _side_by_side(where):
        raise UnplannableError("the work is too short for straps side by side")
    wide = [high[i] - low[i] for i in (0, 1)]
    noses = _noses(where, kit, wide)
    if max(dist(a, b) for a in noses for b in noses) < APART * STRAPS_APART * max(wide):
        raise UnplannableError("the work might turn under straps so close together")


def _noses(where: str, kit: Clamps, wide: Sequence[float]) -> list[tuple[float, float]]:
    """Where the straps' noses bear on work so long and wide [mm]."""
    sideways = WHERE[where][0][0] in ("front", "back")
    along, across = wide if sideways else (wide[1], wide[0])
    half = kit.bears / 2
    return [
        (share * along, across - half if side in ("right", "back") else half)
        for side, share in WHERE[where]
    ]


def _side_by_side(where: str) -> bool:
    """Do two straps come in over one side?"""
    sides = [side for side, _ in WHERE[where]]
    return len(set(sides)) < len(sides)


def _packed(
    kit: Clamps, flat: Lie, deepest: float, workshop: Workshop, wanted: Sequence[float]
) -> tuple[float, list[float]]:
    """The height it lies at, the lowest that will do or one that is wanted, and all that would.

    deepest: how far a cutter goes below the work [mm]. Raises UnplannableError.
    """
    low, high = flat.extent
    tall = high[2] - low[2]
    if limber(flat):
        usual = INCH / 2 if workshop.unit is Unit.INCH else BOARD
        board = max(usual, ceil(deepest + AIR))
        return board, [board]
    fit = [p for p in workshop.parallels if deepest + AIR <= p <= kit.highest - tall]
    if not fit:
        raise UnplannableError(
            f"no parallels owned carry the work between {Length(deepest + AIR):.1f}, for air below "
            f"it, and {Length(max(kit.highest - tall, 0.0)):.1f}, under which the straps reach "
            f"over work {Length(tall):.1f} tall; add such a pair to workshop.yaml"
        )
    return next((w for w in wanted if w in fit), fit[0]), fit


@dataclass(frozen=True)
class Noses:
    """Points of the face that is up, in the part's frame, on which each strap's nose bears."""

    up: Face
    spots: tuple[tuple[Vec, ...], ...]
    tall: float

    def barely(self) -> Noses:
        """The same noses: none can do with less."""
        return self

    def spoilt_by(self, tasks: Sequence[Task]) -> list[Task]:
        """The tasks which together leave some nose nothing level or solid to bear on; else none."""
        guilty: list[Task] = []
        for spots in self.spots:
            gone = {t.id: [air(t, p, self.up) for p in spots] for t in tasks}
            deep = [max(each, default=0.0) for each in zip(*gone.values(), strict=True)] or [0.0]
            if max(deep) - min(deep) > LEVEL or max(deep) > SUNK * self.tall:
                guilty += [t for t in tasks if any(gone[t.id]) and t not in guilty]
        return guilty


def _lowered(bodies: Sequence[Body], lie: Lie, done: Sequence[Task]) -> tuple[Body, ...]:
    """The straps and their nuts set down to the floors that were cut under their noses."""
    found, gone = [], 0.0
    for body in bodies:
        if body.kind is BodyKind.STRAP:
            spots = _under(body, lie)
            gone = max((air(t, p, lie.pose.up) for t in done for p in spots), default=0.0)
        if gone and body.kind is BodyKind.STRAP:
            low, high = ((x, y, z - gone) for x, y, z in (body.low, body.high))
            body = body.model_copy(update={"low": low, "high": high})
        elif gone and body.kind is BodyKind.NUT:
            top = (*body.high[:2], body.high[2] - gone)
            body = body.model_copy(update={"high": top, "at": body.at - gone})
        found.append(body)
    return tuple(found)


def _under(strap: Body, lie: Lie) -> tuple[Vec, ...]:
    """Points of the work's top under a strap's nose, in the part's frame."""
    low, high = lie.extent
    (x0, x1), (y0, y1) = (
        (max(strap.low[i], low[i]) + WITHIN, min(strap.high[i], high[i]) - WITHIN) for i in (0, 1)
    )
    return tuple(
        lie.of_part((x0 + across * (x1 - x0), y0 + along * (y1 - y0), high[2]))
        for across, along in product(SHARES, SHARES)
    )


def _under_cuts(body: Body, operations: Sequence[Operation], zeros: Zeros, top: float) -> Body:
    """The fence set down under what passes over it, any other body as it is."""
    if body.kind is not BodyKind.FENCE:
        return body
    over = [
        run.top(body, o.cutter.diameter / 2 + CLEAR) - (run.tip - UNDER_CUT)
        for o in operations
        for move in o.moves
        for run in runs(move, o.cutter.diameter, zeros, top)
    ]
    x, y, high = body.high
    lower = max([0.0, *over]) / cos(radians(body.lean))
    return body.model_copy(update={"high": (x, y, round(high - lower, 4))})
