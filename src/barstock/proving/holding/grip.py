"""Is the work held: jaws, grip, opening, what it rests on, what its zeros are found on."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.drawing.build import Face, Vec
from barstock.proving.holding import in_v_block, on_block, under_straps
from barstock.proving.placing import FAR, SKIN, looking, opening, stacked
from barstock.proving.proof_record import Violation
from barstock.proving.stock_cutting import Done, Held
from barstock.route import Holding, Plunge, Shape
from barstock.solids.shapes import Solid, box
from barstock.workshop.shop import MachineKind

LEAST_GRIP = 3.0  # height between the jaws, or a quarter of the work's [mm], common practice
LEAST_LENGTH = 10.0  # along the jaws, or a third of the work's length [mm], common practice
LEAST_HEIGHT = 1.0  # even thin work is gripped by this much [mm], common practice
CHIPS = 5.0  # less cut away beside a jaw explains nothing [mm3]
SAME_OPENING = 0.5  # the printed opening, grip and stick-up are this near the true ones [mm]
OTHERWISE = "the work lies otherwise than the route thinks"
SPAN = 5.0  # cut past the jaws' ends up to this many times the work's thickness, common practice
MACHINES = (MachineKind.MILL, MachineKind.DRILL_PRESS)


def check(held: Held, work: Solid, fresh: Solid, earlier: list[Done]) -> Iterator[Violation]:
    """Faults in how the work is held: `held.work` at the start, `work` at the end, `fresh` cut."""
    if held.setup.machine_kind not in MACHINES:
        return
    if held.setup.holding.block is not None:
        yield from _zeros(held)
        yield from list(on_block.check(held, work)) or on_block.check(held, held.work)
        return
    if held.setup.holding.vee is not None:
        yield from _zeros(held)
        yield from list(in_v_block.check(held, work)) or in_v_block.check(held, held.work)
        return
    if held.setup.holding.table is not None:
        yield from _zeros(held)
        yield from under_straps.check(held, work, fresh)
        return
    if held.opening <= 0.0 or held.setup.holding.jaws_to <= held.setup.holding.jaws_from:
        yield Violation("nothing of the work is between the jaws", "move it along the jaws")
        return
    yield from _zeros(held)
    yield from _rest(held)
    yield from _opening(held)
    yield from _span(held, fresh)
    at_end = list(_grip(held, work, earlier))
    if at_end:
        yield from list(_grip(held, held.work, earlier)) or at_end


def _grip(held: Held, work: Solid, earlier: list[Done]) -> Iterator[Violation]:
    h = held.setup.holding
    a, b, top = h.jaws_from, h.jaws_to, h.jaw_top
    width = opening(work, h)
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

    need = max(LEAST_HEIGHT, min(LEAST_GRIP, size[2] / 4))
    if tall < need - 1e-6:
        yield Violation(
            f"the jaws grip only {max(tall, 0.0):.2f} mm of height, "
            f"{need:.2f} mm is the least{blame()}",
            "use lower parallels, or hold by faces not yet cut",
        )
    need = min(LEAST_LENGTH, size[0] / 3)
    if long < need - 1e-6:
        yield Violation(
            f"the jaws hold only {max(long, 0.0):.2f} mm of the work's length, "
            f"{need:.2f} mm is the least{blame()}",
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


def _culprit(held: Held, region: Solid, earlier: list[Done]) -> str:
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
            f"{h.device} opens {h.largest_opening:g} mm and the work is {width:.2f} mm wide there",
            "turn the work, or use a larger vise",
        )
    if h.opening and abs(width - h.opening) > SAME_OPENING:
        yield Violation(
            f"the jaws close to {width:.2f} mm where the route says {h.opening:.2f} mm",
            OTHERWISE,
        )
    top = held.work.bounds[1][2]
    for name, said, true in (
        ("grip", h.grip, _gripped(held)),
        ("stick-up", h.stick_up, top - h.jaw_top),
    ):
        if said and abs(said - true) > SAME_OPENING:
            yield Violation(
                f"the {name} is {true:.2f} mm where the route says {said:.2f} mm", OTHERWISE
            )


def _gripped(held: Held) -> float:
    """The height over which both jaws touch the work, as it comes into the vise [mm]."""
    h, width = held.setup.holding, held.opening
    if h.tilt:
        return h.jaw_top - h.packing
    spans = []
    for y0, y1 in ((-SKIN, 1.0), (-width - 1.0, -width + SKIN)):
        contact = held.work.common(box((h.jaws_from, y0, -FAR), (h.jaws_to, y1, h.jaw_top)))
        if contact.empty:
            return 0.0
        spans.append((contact.bounds[0][2], contact.bounds[1][2]))
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
    if long < min(size / 3, LEAST_LENGTH):
        yield Violation(
            "the work does not lie on the parallels: "
            + (f"it touches along {long:.2f} mm only" if long else "nothing touches them"),
            "turn it so that a flat face rests on them",
        )


def parallels(h: Holding, width: float) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """The parallels in plan (low corner, high corner) [mm]; the whole bed where there are none."""
    a, b, t = h.jaws_from, h.jaws_to, h.parallel_thickness
    if h.packing <= 0.0 or width <= 2 * t:
        return [((a, -width), (b, 0.0))]
    return [((a, -t), (b, 0.0)), ((a, -width), (b, -width + t))]


def _span(held: Held, fresh: Solid) -> Iterator[Violation]:
    """Cutting on an end that stands far out past the jaws."""
    if fresh.empty:
        return
    h, (low, high) = held.setup.holding, held.work.bounds
    out = max(h.jaws_from - fresh.bounds[0][0], fresh.bounds[1][0] - h.jaws_to)
    thick = min(high[1] - low[1], high[2] - low[2])
    if out > SPAN * thick:
        yield Violation(
            f"it is cut {out:.1f} mm past the jaws' end and is only {thick:.1f} mm thick there",
            "move the work along the jaws, or cut it shorter first",
        )


def _zeros(held: Held) -> Iterator[Violation]:
    setup, h, work = held.setup, held.setup.holding, held.work
    for axis, zero in zip("XYZ", (setup.zero_x, setup.zero_y, setup.zero_z), strict=True):
        if zero.find == "none" and setup.machine_kind is MachineKind.MILL:
            yield Violation(f"the {axis} zero is never found", "say where zero is found")
    low, high = work.bounds
    if setup.zero_y.find in ("front", "back", "centre"):
        proud = work.common(box((-FAR, -FAR, h.jaw_top), (FAR, FAR, FAR)))
        sides = {"front": (0,), "back": (1,), "centre": (0, 1)}[setup.zero_y.find]
        for side in sides:
            edge = (low, high)[side][1]
            if proud.empty or abs(proud.bounds[side][1] - edge) > 1e-3:
                yield Violation(
                    f"the {('front', 'back')[side]} edge the Y zero is found on is hidden "
                    "between the jaws",
                    "find Y on the fixed jaw, or raise the work",
                )


def rough_ends(held: Held, ends: tuple[float, float]) -> Iterator[Violation]:
    """What is measured from an end as it was sawn; `ends`: x of the sawn ends in the work frame."""
    yield from _marked_from(held, ends)
    setup, h = held.setup, held.setup.holding
    plunges = [o for o in setup.operations if any(isinstance(m, Plunge) for m in o.moves)]
    if not plunges or setup.machine_kind not in MACHINES:
        return
    bounds = _lying(held)
    finds = {
        "left": (-1.0, 0.0, 0.0),
        "right": (1.0, 0.0, 0.0),
        "front": (0.0, -1.0, 0.0),
        "back": (0.0, 1.0, 0.0),
        "top": (0.0, 0.0, 1.0),
        "rest": (0.0, 0.0, -1.0),
    }
    for zero, names in (
        (setup.zero_x, ("left", "right")),
        (setup.zero_y, ("front", "back")),
        (setup.zero_z, ()),
    ):
        for name in names if zero.find == "centre" else (zero.find,):
            face = looking(h, finds[name]) if name in finds else None
            if face is None or face.axis != 0:
                continue
            if _sawn(face, bounds, ends):
                yield Violation(
                    f"the {face} end is still as sawn and {plunges[0].id} is measured from it",
                    "mill that end first",
                    operation=plunges[0].id,
                )


def _marked_from(held: Held, ends: tuple[float, float]) -> Iterator[Violation]:
    for operation in held.setup.operations:
        for move in operation.moves:
            marks = (move.from_u, move.from_v) if isinstance(move, Shape) else ()
            for face in marks:
                if face.axis == 0 and _sawn(face, _lying(held), ends):
                    yield Violation(
                        f"the line is marked out from the {face} end, which is still as sawn",
                        "mill that end first",
                        operation=operation.id,
                    )


def _lying(held: Held) -> tuple[Vec, Vec]:
    return held.work.moved(held.placement.inverse()).bounds


def _sawn(face: Face, bounds: tuple[Vec, Vec], ends: tuple[float, float]) -> bool:
    side = face.sign > 0
    return abs(bounds[side][0] - ends[side]) < 1e-3
