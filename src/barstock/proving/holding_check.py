"""Checks that the work is held as its way of holding demands, and its zeros where they can be
found.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barstock.machines import machine_type
from barstock.proving.held_work import Done, Held
from barstock.proving.holding import way_of
from barstock.proving.holding.demands import Demands
from barstock.proving.placing import FAR
from barstock.proving.proof_record import Violation
from barstock.solids.shapes import Solid, box


def check(held: Held, work: Solid, fresh: Solid, earlier: Sequence[Done]) -> Iterator[Violation]:
    """The faults in how the work is held: `held.work` at the start, `work` at the
    end, `fresh` cut.
    """
    setup, way = held.setup, way_of(held.setup.holding)
    if setup.machine_kind not in way.machines:
        yield Violation(
            f"work is not held in this way, {way.name}, at a {setup.machine_kind}", "plan it anew"
        )
        return
    for move in (m for o in setup.operations for m in o.moves):
        if move.kind not in machine_type(setup.machine_kind).moves:
            yield Violation(
                f"no '{move.kind}' is made at a {setup.machine_kind}", "do it on another machine"
            )
            break
    yield from _zeros(held, way)
    yield from way.check(held, work, fresh, earlier)


def _zeros(held: Held, way: Demands) -> Iterator[Violation]:
    setup, work = held.setup, held.work
    for axis, zero in zip("XYZ", (setup.zero_x, setup.zero_y, setup.zero_z), strict=True):
        if zero.find == "none" and axis in way.zeros:
            yield Violation(f"the {axis} zero is never found", "say where zero is found")
        if zero.on is not None and zero.on not in way.touched:
            yield Violation(f"the {axis} zero is not found on the {zero.on}", "find it on the work")
    if setup.zero_y.on is not None or setup.zero_y.find not in ("front", "back", "centre"):
        return
    proud = work.common(box((-FAR, -FAR, setup.holding.jaw_top), (FAR, FAR, FAR)))
    for side in {"front": (0,), "back": (1,), "centre": (0, 1)}[setup.zero_y.find]:
        edge = work.bounds[side][1]
        if proud.empty or abs(proud.bounds[side][1] - edge) > 1e-3:
            yield Violation(
                f"the {('front', 'back')[side]} edge the Y zero is found on is hidden between "
                "the jaws",
                "find Y on the fixed jaw, or raise the work",
            )
