"""What the round of a part asks of the features on it."""

from __future__ import annotations

from math import hypot

from barstock.drawing.build import Face, Part, Vec
from barstock.drawing.questions import Ask
from barstock.methods.places import in_face
from barstock.quantities import show

BESIDE = 0.02
"""So far beside the crest of a round a drill still starts true, as share of its diameter. Common
practice."""


def is_flat(ask: Ask, part: Part, what: str) -> bool:
    """Has the part the straight edges that a kind of feature needs? Else a fault says so."""
    if not part.round:
        return True
    ask.fault(
        None,
        f"{what} needs a part with straight edges, and this one is round",
        "round ends and shoulders are turned, which is not planned; cut flats with 'kind: step'",
    )
    return False


def turned_off(face: Face, at: tuple[Vec, ...], part: Part) -> bool:
    """May what lies over holes that start below a round's side be turned off? A drill that goes
    through it starts on the crest of the round.
    """
    if not part.round or face.axis == 0:
        return False
    across = 3 - face.axis
    return all(abs(p[across] - part.size[across] / 2) <= BESIDE * part.size[across] for p in at)


def meets_round(
    ask: Ask, part: Part, face: Face, at: tuple[Vec, ...], radius: float, on_floor: bool
) -> bool:
    """Do holes lie where a drill starts and stays in the round? Else a fault says so."""
    half = part.size[1] / 2
    for point in at:
        u, v = (point[i] for i in in_face(face.axis))
        if face.axis == 0:
            out = hypot(u - half, v - half) + radius - half
            if out > 1e-6:
                what = f"the hole runs {show(out, part.unit)} out of the round"
                ask.fault("at", what, "check its place and diameter")
                return False
        elif not on_floor and abs(v - half) > BESIDE * part.size[1]:
            ask.fault(
                "at",
                f"the hole starts {show(abs(v - half), part.unit)} beside the crest of the round, "
                "where a drill wanders off",
                "put it on the centre line, or cut a flat and let it start there: 'starts below'",
            )
            return False
    return True
