"""A vise's jaws, as bodies that a cutter must keep clear of."""

from __future__ import annotations

from barstock.proving.holding.obstacles import Upright
from barstock.proving.placing import FAR
from barstock.route import Holding
from barstock.solids.shapes import Solid, box

JAW = 20.0  # a jaw's thickness [mm], common practice


def jaws(h: Holding, opening: float, back: float = 0.0) -> list[Upright]:
    """Both jaws, closed on what is `opening` wide [mm]. back: y of what the fixed jaw touches."""
    a, b, front = h.jaws_from, h.jaws_to, back - opening
    mend = "raise the work on higher parallels"
    return [
        Upright("the fixed jaw", (a, back), (b, back + JAW), h.jaw_top, mend),
        Upright("the moving jaw", (a, front - JAW), (b, front), h.jaw_top, mend),
    ]


def between(h: Holding, work: Solid) -> float:
    """The width between the jaws on the placed work [mm]; 0 if nothing is between them."""
    if not h.jaw_top:
        return 0.0
    room = box((h.jaws_from, -FAR, -FAR), (h.jaws_to, FAR, h.jaw_top))
    held = work.common(room)
    return 0.0 if held.empty else -held.bounds[0][1]
