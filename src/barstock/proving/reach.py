"""Does the cutter reach, and does anything but its edges meet the work, the jaws or the bed?"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.drawing.build import Vec
from barstock.proving.holding import in_v_block, on_block, under_straps
from barstock.proving.holding.grip import MACHINES, parallels
from barstock.proving.proof_record import Violation
from barstock.proving.stock_cutting import Done, Held
from barstock.proving.sweep import Run
from barstock.solids.shapes import Solid
from barstock.workshop.shop import ToolKind

CLEAR = 0.02  # meeting by less than this is touching [mm]
HOLDER = {
    "collet": 16.0,
    "chuck": 20.0,
    "arbor": 16.0,
}  # radius below the spindle [mm], common practice
JAW = 20.0  # a jaw's thickness [mm], common practice
NECK = 0.1  # a shank this much under the cutter's diameter is relieved [mm]


def check(held: Held, done: Done) -> Iterator[Violation]:
    """Faults in reaching the cut and in what the cutter meets, one of each sort at most."""
    if held.setup.machine_kind not in MACHINES:
        return
    h = held.setup.holding
    fixed = (_device,) if h.block else (_device, _stop) if h.table else (_jaws, _stop, _under)
    if h.vee:
        fixed = (_device, _jaws, _under) if h.vee.upright else (_device, _jaws, _stop)
    for fault in (_flutes, _shank, _holder, *fixed):
        for run in done.runs:
            what = fault(held, done, run)
            if what is not None:
                yield what
                break


def _spot(held: Held, run: Run) -> Vec:
    return held.placement.inverse().apply((*run.start, run.tip))


def _height(solid: Solid, run: Run) -> float:
    """How high above the tip `solid` stands within the run's own width [mm]."""
    if solid.empty or solid.bounds[1][2] <= run.tip:
        return 0.0
    lumps = [lump for lump in solid.lumps() if _beside(lump, run)]
    return max((lump.bounds[1][2] for lump in lumps), default=run.tip) - run.tip


def _beside(lump: Solid, run: Run) -> bool:
    (x0, y0, _), (x1, y1, _) = lump.bounds
    return run.gap((x0, y0), (x1, y1)) < run.radius


def _flutes(held: Held, done: Done, run: Run) -> Violation | None:
    cutter = run.cutter
    limit = cutter.flute
    if cutter.kind is ToolKind.SLITTING_SAW or limit <= 0:
        return None
    follows = cutter.kind in (ToolKind.REAMER, ToolKind.TAP)
    if follows or 0 < cutter.shank < cutter.diameter - NECK:
        limit = max(limit, cutter.reach)
    deep = _height(done.removed, run)
    if deep <= limit + CLEAR:
        return None
    return Violation(
        f"{cutter.name} cuts {limit:g} mm deep at most and is asked for {deep:.2f} mm",
        "use a longer cutter, or cut from the other side",
        where=_spot(held, run),
    )


def _shank(held: Held, done: Done, run: Run) -> Violation | None:
    cutter, radius = run.cutter, run.cutter.shank / 2
    low, top = run.tip + cutter.flute, done.after.bounds[1][2]
    if cutter.flute <= 0 or radius <= run.radius + CLEAR:
        return None
    met = under_straps.above_meets(held, run, low, radius)
    if not met and low < top - CLEAR:
        shank = run.stadium(radius - CLEAR, low + CLEAR, top + 1.0)
        met = "the work" if done.after.common(shank).volume >= 1e-3 else ""
    if not met:
        return None
    return Violation(
        f"the shank of {cutter.name} ({cutter.shank:g} mm) rubs on {met}",
        "use a cutter with more flute or a thinner shank",
        where=_spot(held, run),
    )


def _holder(held: Held, done: Done, run: Run) -> Violation | None:
    cutter, radius = run.cutter, HOLDER.get(run.cutter.holder, 0.0)
    if cutter.reach <= 0 or radius == 0.0:
        return None
    low, h = run.tip + cutter.reach, held.setup.holding
    met = "a screw's head" if on_block.holder_meets(held, run, low, radius) else ""
    met = in_v_block.holder_meets(held, run, low, radius) or met
    met = under_straps.above_meets(held, run, low, radius) or met
    if low < h.jaw_top - CLEAR and any(run.gap(*jaw) < radius for jaw in _jaw_boxes(held)):
        met = "the jaws"
    top = done.after.bounds[1][2]
    if not met and low < top - CLEAR:
        nose = run.stadium(radius, low + CLEAR, top + 1.0)
        met = "the work" if done.after.common(nose).volume > 1e-3 else ""
    if not met:
        return None
    return Violation(
        f"the {cutter.holder} meets {met}: {cutter.name} sticks out {cutter.reach:g} mm only",
        "use a cutter that sticks out further",
        where=_spot(held, run),
    )


def _jaw_boxes(held: Held) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    h = held.setup.holding
    a, b, w = h.jaws_from, h.jaws_to, held.opening
    back = h.vee.high[1] if h.vee and not h.vee.upright else 0.0
    return [((a, back), (b, back + JAW)), ((a, back - w - JAW), (b, back - w))]


def _jaws(held: Held, done: Done, run: Run) -> Violation | None:
    radius = run.radius_at(held.setup.holding.jaw_top - CLEAR)
    for name, jaw in zip(("fixed", "moving"), _jaw_boxes(held), strict=True):
        if radius > 0 and run.gap(*jaw) < radius - CLEAR:
            return Violation(
                f"{run.cutter.name} runs into the {name} jaw, "
                f"{held.setup.holding.jaw_top - run.tip:.2f} mm below its top",
                "raise the work on higher parallels",
                where=_spot(held, run),
            )
    return None


def _stop(held: Held, done: Done, run: Run) -> Violation | None:
    h = held.setup.holding
    if h.stop == "none" or h.stop_below is None or run.tip > h.stop_below - CLEAR:
        return None
    (low, *_), (high, *_) = held.work.bounds
    left, right = sorted((run.start[0], run.end[0]))
    beyond = low - left if h.stop == "left" else right - high
    if beyond + run.radius < CLEAR:
        return None
    return Violation(
        f"{run.cutter.name} comes over the stop, {h.stop_below - run.tip:.2f} mm below its top",
        "set the stop lower",
        where=_spot(held, run),
    )


def _device(held: Held, done: Done, run: Run) -> Violation | None:
    """What holds the work otherwise than between jaws."""
    for met, mend in (
        (on_block.meets(held, run), "hold the work by other screws"),
        (in_v_block.met(held, run, done.before.bounds[1][2]), "move the V-block along the work"),
        (under_straps.met(held, run), "strap the work down elsewhere"),
    ):
        if met:
            what = f"{run.cutter.name} runs into {met}"
            return Violation(what, f"{mend}, or stop the cut higher", where=_spot(held, run))
    return None


def _under(held: Held, done: Done, run: Run) -> Violation | None:
    h = held.setup.holding
    met = "the bed of the vise" if run.tip < CLEAR else ""
    if h.packing > 0 and not h.parallels_out:
        radius = run.radius_at(h.packing - CLEAR)
        if radius > 0 and any(run.gap(*p) < radius - CLEAR for p in parallels(h, held.opening)):
            met = "a parallel"
    if not met:
        return None
    return Violation(
        f"{run.cutter.name} goes through the work into {met}",
        "move the parallels aside, or stop the cut higher",
        where=_spot(held, run),
    )
