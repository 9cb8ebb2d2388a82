"""Work between the jaws of a vise: grip, opening, what it rests on, how far out it is cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barstock.handbook.holding_limits import OVERHANG, least_grip, least_length
from barstock.proving.held_work import Done, Held
from barstock.proving.holding.jaws import between, jaws
from barstock.proving.holding.obstacles import Obstacle, Upright, floor, standing
from barstock.proving.placing import FAR, SKIN, stacked
from barstock.proving.proof_record import Violation
from barstock.proving.upright_run import Spot
from barstock.quantities import Length
from barstock.route import BodyKind, Holding
from barstock.solids.shapes import Solid, box
from barstock.workshop.shop import MachineKind

CHIPS = 5.0  # less cut away beside a jaw explains nothing [mm3]
SAME_OPENING = 0.5  # the printed opening, grip and stick-up are this near the true ones [mm]
OTHERWISE = "the work lies otherwise than the route thinks"
RAISE = "move the parallels aside, or stop the cut higher"


class InVise:
    """Work between the jaws of a vise on the mill."""

    name = "vise"
    machines = frozenset({MachineKind.MILL})
    zeros = "XYZ"
    touched = frozenset[BodyKind]()

    def opening(self, holding: Holding, work: Solid) -> float:
        """The width between the jaws on the placed work [mm]."""
        return between(holding, work)

    def check(
        self, held: Held, work: Solid, fresh: Solid, earlier: Sequence[Done]
    ) -> Iterator[Violation]:
        """The faults in how it is held."""
        if held.opening <= 0.0 or held.setup.holding.jaws_to <= held.setup.holding.jaws_from:
            yield Violation("nothing of the work is between the jaws", "move it along the jaws")
            return
        yield from _rest(held)
        yield from _opening(held)
        yield from overhang(held, fresh)
        at_end = list(_grip(held, work, earlier))
        if at_end:
            yield from list(_grip(held, held.work, earlier)) or at_end

    def obstacles(self, held: Held) -> Sequence[Obstacle]:
        """The jaws, parallels and bed."""
        h = held.setup.holding
        found: list[Obstacle] = [*jaws(h, held.opening), *under(h, held.opening)]
        return found + [standing(body, f"the {body.name}", RAISE) for body in h.bodies]

    def contacts(self, holding: Holding, opening: float) -> Sequence[tuple[str, Solid]]:
        """The jaws, and what it rests on; of tilted work neither."""
        a, b, top = holding.jaws_from, holding.jaws_to, holding.jaw_top
        if b <= a or holding.tilt:
            return ()
        return (
            ("the fixed jaw", box((a, 0.0, -FAR), (b, FAR, top))),
            ("the moving jaw", box((a, -FAR, -FAR), (b, -opening, top))),
            ("what it rests on", box((-FAR, -FAR, -FAR), (FAR, FAR, holding.packing))),
        )


WAY = InVise()


def under(h: Holding, opening: float) -> list[Upright]:
    """The bed of the vise and the parallels on it, where they stay there."""
    how = "goes through the work into"
    found = [floor("the bed of the vise", RAISE, how)]
    if h.packing > 0 and not h.parallels_out:
        found += [Upright("a parallel", *p, h.packing, RAISE, how) for p in parallels(h, opening)]
    return found


def _grip(held: Held, work: Solid, earlier: Sequence[Done]) -> Iterator[Violation]:
    h = held.setup.holding
    a, b, top = h.jaws_from, h.jaws_to, h.jaw_top
    width = between(h, work)
    fixed = box((a, -SKIN, -FAR), (b, 1.0, top))
    moving = box((a, -width - 1.0, -FAR), (b, -width + SKIN, top))
    sides = [("fixed", fixed, work.common(fixed)), ("moving", moving, work.common(moving))]
    for name, region, contact in sides:
        if contact.empty:
            yield Violation(
                f"nothing touches the {name} jaw{_culprit(held, region, earlier)}",
                "cut that face later, or hold by another face",
            )
            return
    (low, high), (floor, roof) = sides[0][2].bounds, sides[1][2].bounds
    size = [work.bounds[1][i] - work.bounds[0][i] for i in range(3)]
    long = min(high[0], roof[0]) - max(low[0], floor[0])
    area = min(contact.volume / SKIN for _, _, contact in sides)
    touch = min(_touching(contact) for _, _, contact in sides)
    tall = min(min(high[2], roof[2]) - max(low[2], floor[2]), area / touch if long > 0 else 0.0)

    def blame() -> str:
        return "".join(sorted({_culprit(held, region, earlier) for _, region, _ in sides}))

    need = least_grip(size[2])
    if tall < need - 1e-6:
        yield Violation(
            f"the jaws grip only {Length(max(tall, 0.0)):.2f} of height, "
            f"{Length(need):.2f} is the least{blame()}",
            "use lower parallels, or hold by faces not yet cut",
        )
    need = least_length(size[0])
    if long < need - 1e-6:
        yield Violation(
            f"the jaws hold only {Length(max(long, 0.0)):.2f} of the work's length, "
            f"{Length(need):.2f} is the least{blame()}",
            "move the work along the jaws",
        )


def _touching(contact: Solid) -> float:
    """The length along a jaw on which the work touches it: of a frame, that of its legs [mm]."""
    spans = sorted((lump.bounds[0][0], lump.bounds[1][0]) for lump in contact.lumps())
    total, end = 0.0, -FAR
    for low, high in spans:
        total += max(0.0, high - max(low, end))
        end = max(end, high)
    return total


def _culprit(held: Held, region: Solid, earlier: Sequence[Done]) -> str:
    """Which operation cut away what the jaw should touch."""
    (x, y, z), (x1, y1, z1) = region.bounds
    beside = box((x, y - 1.0, z), (x1, y1 + 1.0, z1))
    where = beside.moved(held.placement.inverse())
    shares = [(done.chips.common(where).volume, done.operation.id) for done in earlier]
    most, name = max(shares, default=(0.0, ""))
    return f"; {name} has cut it away" if most > CHIPS else ""


def _opening(held: Held) -> Iterator[Violation]:
    h, width = held.setup.holding, held.opening
    if h.largest_opening and width > h.largest_opening + 1e-6:
        yield Violation(
            f"{h.device} opens {Length(h.largest_opening):g} and the work is {Length(width):.2f} "
            "wide there",
            "turn the work, or use a larger vise",
        )
    if h.opening and abs(width - h.opening) > SAME_OPENING:
        yield Violation(
            f"the jaws close to {Length(width):.2f} where the route says {Length(h.opening):.2f}",
            OTHERWISE,
        )
    top = held.work.bounds[1][2]
    for name, said, true in (
        ("grip", h.grip, _gripped(held)),
        ("stick-up", h.stick_up, top - h.jaw_top),
    ):
        if said and abs(said - true) > SAME_OPENING:
            yield Violation(
                f"the {name} is {Length(true):.2f} where the route says {Length(said):.2f}",
                OTHERWISE,
            )


def _gripped(held: Held) -> float:
    """The height over which both jaws touch the work, as it comes into the vise [mm]."""
    h, width = held.setup.holding, held.opening
    if h.tilt:
        return h.jaw_top - h.packing
    spans = []
    for y0, y1 in ((-SKIN, 1.0), (-width - 1.0, -width + SKIN)):
        contact = held.work.common(box((h.jaws_from, y0, -FAR), (h.jaws_to, y1, h.jaw_top)))
        ends = [lump.bounds for lump in contact.lumps()]
        ends = [
            (low, high) for low, high in ends if high[2] - low[2] > SKIN
        ]  # a film holds nothing
        if not ends:
            return 0.0
        spans.append((min(low[2] for low, _ in ends), max(high[2] for _, high in ends)))
    return min(high for _, high in spans) - max(low for low, _ in spans)


def _rest(held: Held) -> Iterator[Violation]:
    h, work = held.setup.holding, held.work
    if h.parallels:
        yield from stacked(h, h.packing)
    if h.tilt:
        return
    contact = Solid(None)
    for low, high in parallels(h, held.opening):
        touch = work.common(box((*low, h.packing - 1.0), (*high, h.packing + SKIN)))
        contact = touch if contact.empty else contact.fuse(touch)
    size = work.bounds[1][0] - work.bounds[0][0]
    long = 0.0 if contact.empty else contact.bounds[1][0] - contact.bounds[0][0]
    if long < least_length(size):
        yield Violation(
            "the work does not lie on the parallels: "
            + (f"it touches along {Length(long):.2f} only" if long else "nothing touches them"),
            "turn it so that a flat face rests on them",
        )


def parallels(h: Holding, width: float) -> list[tuple[Spot, Spot]]:
    """The parallels in plan (low corner, high corner) [mm]; the whole bed where there are none."""
    a, b, t = h.jaws_from, h.jaws_to, h.parallel_thickness
    if h.packing <= 0.0 or width <= 2 * t:
        return [((a, -width), (b, 0.0))]
    return [((a, -t), (b, 0.0)), ((a, -width), (b, -width + t))]


def overhang(held: Held, fresh: Solid) -> Iterator[Violation]:
    """Cutting on an end that stands far out past the jaws."""
    if fresh.empty:
        return
    h, (low, high) = held.setup.holding, held.work.bounds
    out = max(h.jaws_from - fresh.bounds[0][0], fresh.bounds[1][0] - h.jaws_to)
    thick = min(high[1] - low[1], high[2] - low[2])
    if out > OVERHANG * thick:
        yield Violation(
            f"it is cut {Length(out):.1f} past the jaws' end and is only {Length(thick):.1f} "
            "thick there",
            "move the work along the jaws, or cut it shorter first",
        )
