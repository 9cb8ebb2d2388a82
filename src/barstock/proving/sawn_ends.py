"""Is anything measured from an end that is still as it was sawn?"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.drawing.build import Face, Vec
from barstock.proving.held_work import Held
from barstock.proving.placing import looking
from barstock.proving.proof_record import Violation
from barstock.proving.sweeps import sweep_of


def check(held: Held, ends: tuple[float, float]) -> Iterator[Violation]:
    """The faults of what is measured from an end as it was sawn; `ends`: x of the sawn ends in the
    work frame.
    """
    yield from _marked_from(held, ends)
    setup, h = held.setup, held.setup.holding
    placed = [o for o in setup.operations if any(sweep_of(m).placed for m in o.moves)]
    if not placed:
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
                    f"the {face} end is still as sawn and {placed[0].id} is measured from it",
                    "square that end first",
                    operation=placed[0].id,
                )


def _marked_from(held: Held, ends: tuple[float, float]) -> Iterator[Violation]:
    for operation in held.setup.operations:
        for move in operation.moves:
            for face in sweep_of(move).marked_from(move):
                if face.axis == 0 and _sawn(face, _lying(held), ends):
                    yield Violation(
                        f"the line is marked out from the {face} end, which is still as sawn",
                        "square that end first",
                        operation=operation.id,
                    )


def _lying(held: Held) -> tuple[Vec, Vec]:
    return held.work.moved(held.placement.inverse()).bounds


def _sawn(face: Face, bounds: tuple[Vec, Vec], ends: tuple[float, float]) -> bool:
    side = face.sign > 0
    return abs(bounds[side][0] - ends[side]) < 1e-3
