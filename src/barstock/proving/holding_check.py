"""Checks that the work is held as its way of holding demands, and its zeros where they can be
found.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barstock.machines import machine_type
from barstock.proving.held_work import Done, Held
from barstock.proving.holding import way_of
from barstock.proving.holding.demands import Demands
from barstock.proving.proof_record import Violation
from barstock.proving.zero_sight import unseen
from barstock.solids.shapes import Solid


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
    setup = held.setup
    for axis, zero in zip("XYZ", (setup.zero_x, setup.zero_y, setup.zero_z), strict=True):
        if zero.find == "none" and axis in way.zeros:
            yield Violation(f"the {axis} zero is never found", "say where zero is found")
        if zero.on is not None and zero.on not in way.touched:
            yield Violation(f"the {axis} zero is not found on the {zero.on}", "find it on the work")
    yield from unseen(held, way.obstacles(held))
