"""Round work in a V-block: does it lie in the V, is it pressed into it, does a cutter meet them?"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from math import sqrt

from barstock.drawing.build import Vec
from barstock.proving.placing import FAR, SKIN, stacked
from barstock.proving.proof_record import Violation
from barstock.proving.stock_cutting import Held
from barstock.proving.sweep import Run
from barstock.route import Vee
from barstock.solids.shapes import Solid, box, nothing, prism

LIES = 10.0  # of a flank along lying work, or a third of it [mm], common practice
STANDS = 0.5  # of its diameter that standing work is held over at least, common practice
PRESSED = 0.75  # share of the clamp's width that bears on the work, common practice
FINDS = 3.0  # of the block's sides above the jaws for an edge finder [mm], common practice
SEES = 1.0  # of a side in sight of the edge finder [mm], common practice
GRIP = 5.0  # of the block between the jaws [mm], common practice
SIDE = 5.0  # thickness of a clamp's legs beside the block [mm], common practice
CLEAR = 0.02  # meeting by less than this is touching [mm]
INTO = 0.5  # that the V may be entered, by the rounding of readings [mm3]


def check(held: Held, work: Solid) -> Iterator[Violation]:
    """Faults in how `work` is held in a V-block."""
    vee, h = held.setup.holding.vee, held.setup.holding
    if vee is None:
        return
    wide = -vee.low[1] if vee.upright else vee.high[1] - vee.low[1]
    if wide > h.largest_opening + 1e-6:
        yield Violation(
            f"{h.device} opens {h.largest_opening:g} mm and the V-block wants {wide:.2f} mm",
            "use a larger vise, or a smaller block",
        )
    yield from stacked(h, h.packing if vee.upright else vee.low[2])
    gripped = min(h.jaw_top, vee.high[2]) - vee.low[2]
    if gripped < GRIP:
        yield Violation(
            f"the jaws grip {gripped:.2f} mm of the V-block", "stand it on lower parallels"
        )
    if work.common(block(vee, -CLEAR)).volume > INTO:
        yield Violation(
            "the work would have to go into the V-block", "the V is too narrow, or it lies too low"
        )
        return
    yield from _flanks(held, work, vee)
    yield from _jaw(held, work, vee) if vee.upright else _clamp(work, vee)
    yield from _in_sight(held, vee)
    if held.setup.zero_y.find == "V-block" and (vee.upright or vee.high[2] - h.jaw_top < FINDS):
        yield Violation(
            "the sides of the V-block that the Y zero is found between are hidden by the jaws",
            "stand the block higher",
        )


def _flanks(held: Held, work: Solid, vee: Vee) -> Iterator[Violation]:
    (low, high), along = work.bounds, 2 if vee.upright else 0
    need = min(LIES, (high[0] - low[0]) / 3)
    if vee.upright:
        need = STANDS * (high[0] - low[0])
    for name, flank in zip(("left", "right") if vee.upright else ("front", "back"),
                           _skins(vee, held.setup.holding.jaw_top), strict=True):  # fmt: skip
        contact = work.common(flank)
        long = sum(lump.bounds[1][along] - lump.bounds[0][along] for lump in contact.lumps())
        if long < need - 1e-6:
            yield Violation(
                f"the work lies along {long:.2f} mm of the V's {name} side, {need:.2f} mm is the "
                "least",
                "move the block along the work, or turn the work in it",
            )


def _jaw(held: Held, work: Solid, vee: Vee) -> Iterator[Violation]:
    top = min(held.setup.holding.jaw_top, vee.high[2])
    contact = work.common(box((-FAR, -SKIN, -FAR), (FAR, 1.0, top)))
    tall = sum(lump.bounds[1][2] - lump.bounds[0][2] for lump in contact.lumps())
    need = STANDS * (work.bounds[1][0] - work.bounds[0][0])
    if tall < need - 1e-6:
        yield Violation(
            f"the fixed jaw holds {tall:.2f} mm of the work's height, {need:.2f} mm is the least",
            "stand the work lower, or turn it in the V",
        )


def _clamp(work: Solid, vee: Vee) -> Iterator[Violation]:
    (a, b), z = vee.clamp, vee.presses
    under = work.common(box((a, -FAR, z - SKIN), (b, FAR, z + SKIN)))
    long = 0.0 if under.empty else under.bounds[1][0] - under.bounds[0][0]
    proud = work.common(box((a, -FAR, z + SKIN), (b, FAR, FAR)))
    if long < PRESSED * (b - a) or not proud.empty:
        yield Violation(
            f"the clamp of the V-block bears on {long:.2f} mm of the work, at {z:.2f} mm",
            "clamp it where it has not been cut",
        )


def _in_sight(held: Held, vee: Vee) -> Iterator[Violation]:
    """Can an edge finder touch both sides, where the zero is found on the axis?"""
    top = max(held.setup.holding.jaw_top, vee.high[2]) if vee.upright else vee.high[2]
    hidden = box((vee.low[0] - SEES, -FAR, -FAR), (vee.high[0] + SEES, FAR, top + SEES))
    if vee.upright:
        hidden = box((-FAR, -FAR, -FAR), (FAR, FAR, top + SEES))
    seen, (low, high) = held.work.cut(hidden), held.work.bounds
    for i, zero in enumerate((held.setup.zero_x, held.setup.zero_y)):
        if zero.find != "centre":
            continue
        if seen.empty or any(abs(seen.bounds[k][i] - (low, high)[k][i]) > 1e-3 for k in (0, 1)):
            yield Violation(
                f"the sides the {'XY'[i]} zero is found between are hidden by the V-block",
                "let the work stand out of the block",
            )


def met(held: Held, run: Run, top: float) -> str:
    """What of the V-block a cutter runs into, "" if nothing; top: of the work [mm]."""
    return _meets(held, run.solid(max(top, _top(held))))


def holder_meets(held: Held, run: Run, low: float, radius: float) -> str:
    """What of it meets what is above `low` [mm], of this radius; "" if nothing."""
    top = _top(held)
    return _meets(held, run.stadium(radius, low + CLEAR, top + 1.0)) if low < top else ""


def _top(held: Held) -> float:
    vee = held.setup.holding.vee
    return max(vee.high[2], vee.clamp_top) if vee else -FAR


def _meets(held: Held, swept: Solid) -> str:
    vee = held.setup.holding.vee
    if vee is None:
        return ""
    for name, body in (("the V-block", block(vee)), ("the clamp of the V-block", clamp(vee))):
        if swept.common(body).volume > INTO:
            return name
    return ""


# -- its shape -----------------------------------------------------------------------------------


@lru_cache(maxsize=32)
def block(vee: Vee, grown: float = 0.0) -> Solid:
    """The block less its V; grown: by how much its flanks stand further out [mm]."""
    return box(vee.low, vee.high).cut(_wedge(vee, grown))


@lru_cache(maxsize=32)
def clamp(vee: Vee) -> Solid:
    """The clamp over lying work, and its legs beside the block."""
    if vee.upright:
        return nothing()
    (a, b), (_, front, low), (_, back, _) = vee.clamp, vee.low, vee.high
    over = box((a, front - SIDE, (low + vee.high[2]) / 2), (b, back + SIDE, vee.clamp_top))
    return over.cut(box((a - 1.0, front, low), (b + 1.0, back, vee.presses)))


def _wedge(vee: Vee, grown: float = 0.0) -> Solid:
    """The room in the V, up to past the block's face and ends."""
    axis, root, past = _root(vee)
    out = vee.mouth / 2 + 1.0
    deep = sqrt(2.0) * grown
    corners = [(0.0, deep), (out - deep, out), (deep - out, out)]
    if vee.upright:
        outline = [(axis + a, root + d, vee.low[2] - past) for a, d in corners]
        return prism(outline, (0.0, 0.0, vee.high[2] - vee.low[2] + 2 * past))
    outline = [(vee.low[0] - past, axis + a, root + d) for a, d in corners]
    return prism(outline, (vee.high[0] - vee.low[0] + 2 * past, 0.0, 0.0))


def _root(vee: Vee) -> tuple[float, float, float]:
    """Where the flanks meet: across the block, and into it; and 1 mm past its ends."""
    if vee.upright:
        return (vee.low[0] + vee.high[0]) / 2, vee.high[1] - vee.mouth / 2, 1.0
    return (vee.low[1] + vee.high[1]) / 2, vee.high[2] - vee.mouth / 2, 1.0


def _skins(vee: Vee, jaw_top: float) -> Iterator[Solid]:
    """A thin layer on either flank, in the V, as high as the jaws of an upright one."""
    axis, root, _ = _root(vee)
    half = vee.mouth / 2
    for way in (-1, 1):
        deep = sqrt(2.0) * SKIN
        corners = [(0.0, -deep), (0.0, deep), (way * half, half + deep), (way * half, half - deep)]
        if vee.upright:
            tall = min(vee.high[2], jaw_top) - vee.low[2]
            outline: list[Vec] = [(axis + a, root + d, vee.low[2]) for a, d in corners]
            yield prism(outline, (0.0, 0.0, tall))
        else:
            outline = [(vee.low[0], axis + a, root + d) for a, d in corners]
            yield prism(outline, (vee.high[0] - vee.low[0], 0.0, 0.0))
