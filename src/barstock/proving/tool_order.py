"""Does each tool find what the one before it must leave: a spot, a hole to ream, tap or bore, and
room to start in where it may not plunge?"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.handbook.threads import BLUNT_LEAD, thread
from barstock.proving.held_work import Done
from barstock.proving.proof_record import Violation
from barstock.proving.upright_run import Run
from barstock.quantities import Length
from barstock.solids.bores import Bore, upright_bores
from barstock.workshop.shop import ToolKind

TRUE = 0.05  # a tool follows a hole this far off its axis [mm]
REAMING = (0.05, 0.5)  # left for the reamer on the diameter [mm], common practice
TAPPING = (0.72, 0.95)  # tapping hole over the thread's major diameter, common practice
JUST_IN = 0.02  # above the tip, where metal is looked for [mm]
HOLE_TOOLS = (ToolKind.DRILL, ToolKind.REAMER, ToolKind.TAP, ToolKind.SPOT_DRILL)


def check(done: Done) -> Iterator[Violation]:
    """Faults in what an operation finds before it, the first of each run."""
    back = done.frame
    for n, run in enumerate(done.runs):
        what = _run(done, run) or _starts(done, n)
        if what:
            yield Violation(*what, where=back.apply((*run.start, run.tip)))


def _run(done: Done, run: Run) -> tuple[str, str] | None:
    cutter = run.cutter
    if cutter.kind not in HOLE_TOOLS and cutter.kind is not ToolKind.BORING_HEAD:
        return None
    if not run.plunge:
        return f"{cutter.name} cannot be fed sideways", "use an end mill"
    if cutter.kind is ToolKind.SPOT_DRILL:
        return None
    found = upright_bores(done.before, *run.start, TRUE)
    if cutter.kind is ToolKind.DRILL:
        if found:
            return None
        return f"{cutter.name} starts on an unspotted face and will wander", "spot the hole first"
    # of a deeper hole below, the remains of a fixing screw's for one, the tool takes no notice
    straight = [bore for bore in found if not bore.conical]
    holes = [bore for bore in straight if bore.high[2] > run.tip + TRUE]
    holes += _going_on(holes, straight)
    if not holes:
        return f"{cutter.name} finds no hole here", "drill it first"
    return _follows(done, run, min(holes, key=lambda bore: bore.radius_low), holes)


def _starts(done: Done, n: int) -> tuple[str, str] | None:
    """The fault of a pass that starts in metal with a cutter that may not plunge; a run that goes
    on where the last one ended has started already."""
    run, earlier = done.runs[n], done.runs[:n]
    if run.plunge or run.cutter.plunges:
        return None
    if earlier and (earlier[-1].end, earlier[-1].tip) == (run.start, run.tip):
        return None
    top = min(
        [r.tip for r in earlier if r.gap(run.start, run.start) < r.radius],
        default=done.before.bounds[1][2],
    )
    low = run.tip + JUST_IN
    if low < top and any(
        done.before.contains((*run.start, z)) for z in (low, (low + top) / 2, top - JUST_IN)
    ):
        return (
            f"{run.cutter.name} may not plunge, and starts a pass in solid metal",
            "start outside the work, drill a hole to start in, or use a slot drill",
        )
    return None


def _going_on(holes: list[Bore], straight: list[Bore]) -> list[Bore]:
    """The bores that go on where a hole ends, as wide: another tool has deepened it."""
    return [
        bore
        for bore in straight
        if bore not in holes
        and any(
            abs(hole.low[2] - bore.high[2]) < TRUE and bore.radius_low > hole.radius_low - TRUE
            for hole in holes
        )
    ]


def _follows(done: Done, run: Run, hole: Bore, holes: list[Bore]) -> tuple[str, str] | None:
    cutter, size = run.cutter, 2 * hole.radius_low
    floor = min(bore.low[2] for bore in holes)
    if cutter.kind is ToolKind.TAP and cutter.thread:
        lead = BLUNT_LEAD * thread(cutter.thread).pitch
        # metal is looked for beside the axis, under the drill's point: on it an older hole may lie
        x, y = run.start
        blind = done.before.contains((x + 0.45 * size, y, floor - size / 2))
        if blind and floor > run.tip - lead + 1e-6:
            room = max(run.tip - floor, 0.0)
            return (
                f"{cutter.name} bottoms before its thread is full: its hole goes "
                f"{Length(room):.2f} below the thread, the lead of the bluntest tap takes "
                f"{Length(lead):.2f}",
                "drill deeper first",
            )
    if floor > run.tip + 0.5 and done.before.contains((*run.start, floor - TRUE)):
        deep = floor - run.tip
        return (
            f"{cutter.name} goes {Length(deep):.2f} below the bottom of its hole",
            "drill deeper first",
        )
    if cutter.kind is ToolKind.REAMER:
        left = cutter.diameter - size
        if not REAMING[0] - 1e-6 <= left <= REAMING[1] + 1e-6:
            return (
                f"{cutter.name} finds a hole of {Length(size):.3f}: {Length(left):.3f} left to "
                f"ream, {Length(REAMING[0], REAMING[1]):g} is right",
                "change the drill",
            )
    if cutter.kind is ToolKind.TAP and not (
        TAPPING[0] * cutter.diameter <= size <= TAPPING[1] * cutter.diameter
    ):
        return (
            f"{cutter.name} finds a hole of {Length(size):.3f}, not its tapping size",
            "change the drill",
        )
    if cutter.kind is ToolKind.BORING_HEAD and size >= 2 * run.radius - 1e-6:
        return f"the hole is {Length(size):.3f} already, nothing to bore", "drill it smaller"
    return None
