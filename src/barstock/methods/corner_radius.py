"""The radius of upright inside corners, and what is taken where a drawing shows them square."""

from __future__ import annotations

import re

from barstock.drawing.questions import Ask
from barstock.quantities import Dimension, Unit, figure, show

SHARE, LARGEST, LEAST = 0.25, 3.0, 0.1
"""What a cutter may leave in a corner drawn without a radius: so much of the hollow's width, and no
more than so much; and the least cutter's own radius [mm]. Common practice."""

OVER = 0.05
"""By so much a cutter's radius may be over what is taken, as they are ground [mm]."""

BY_HAND = Dimension(0.0, text="sharp")
"""The radius of corners that are filed out by hand."""

_SHARP = re.compile(r"(?:0*\.?0*\s*(?:mm|in)?|sharp|square|none)$", re.I)


def corner_radius(ask: Ask, written: str | None, width: float, unit: Unit) -> Dimension | None:
    """The radius as written, or what a cutter leaves, with a word on it; None after a fault.

    width: of the hollow [mm].
    """
    sharp = written is not None and _SHARP.match(written.strip())
    if written is not None and not sharp:
        return ask.size("corner radius")
    if ask.given("finish"):
        return BY_HAND
    most = min(SHARE * width, LARGEST)
    least = min(LEAST, most / 2)
    left = f"what the cutter leaves is taken, R {show(most, unit)} or less"
    if sharp:
        what = f"a round cutter leaves no sharp corner; {left}"
        mend = "where the mate needs it, file them out, or say 'finish: by hand' for all of it"
        ask.fault("corner radius", what, mend, grade="warning")
    else:
        what = f"the drawing does not say the radius of its corners; {left}"
        ask.fault(None, what, "give a 'corner radius'", grade="lacking")
    text = f"{figure(most, unit)} max"
    return Dimension(most, least - most, OVER, text, unit, stated=True)
