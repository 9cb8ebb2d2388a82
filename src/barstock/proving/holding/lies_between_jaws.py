"""Round work lying between the flat jaws of a vise, on one parallel under its middle."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barstock.handbook.holding_limits import least_length
from barstock.proving.held_work import Done, Held
from barstock.proving.holding.in_vise import RAISE, InVise, overhang
from barstock.proving.holding.jaws import jaws
from barstock.proving.holding.obstacles import Obstacle, Upright, floor
from barstock.proving.placing import FAR, SKIN, stacked
from barstock.proving.proof_record import Violation
from barstock.proving.upright_run import Spot
from barstock.quantities import Length
from barstock.route import Holding
from barstock.solids.shapes import Solid, box

SAME_HEIGHT = 0.1  # the lines along which the jaws touch a round are this near to level [mm]


class RoundInJaws(InVise):
    """Round work that the jaws touch along two lines; nothing stands over it."""

    name = "vise, round work"

    def check(
        self, held: Held, work: Solid, fresh: Solid, earlier: Sequence[Done]
    ) -> Iterator[Violation]:
        """The faults in how it is held."""
        h = held.setup.holding
        if held.opening <= 0.0 or h.jaws_to <= h.jaws_from:
            yield Violation("nothing of the work is between the jaws", "move it along the jaws")
            return
        if h.largest_opening and held.opening > h.largest_opening + 1e-6:
            yield Violation(
                f"{h.device} opens {Length(h.largest_opening):g} and the work is "
                f"{Length(held.opening):.2f} across",
                "use a larger vise",
            )
        yield from stacked(h, h.packing)
        yield from _rests(held)
        yield from overhang(held, fresh)
        yield from list(_gripped(h, work)) or _gripped(h, held.work)

    def obstacles(self, held: Held) -> Sequence[Obstacle]:
        """The jaws, the bed, and the parallel where it stays."""
        h = held.setup.holding
        found: list[Obstacle] = [*jaws(h, held.opening), floor("the bed of the vise", RAISE)]
        if h.packing > 0 and not h.parallels_out:
            found.append(Upright("the parallel", *_under(h, held.opening), h.packing, RAISE))
        return found


WAY = RoundInJaws()


def _gripped(h: Holding, work: Solid) -> Iterator[Violation]:
    """The faults in how the jaws touch the work: along its middle, which they reach past."""
    a, b = h.jaws_from, h.jaws_to
    wide = -work.common(box((a, -FAR, -FAR), (b, FAR, h.jaw_top))).bounds[0][1]
    lines = []
    for name, y in (("fixed", (-SKIN, 1.0)), ("moving", (-wide - 1.0, -wide + SKIN))):
        line = work.common(box((a, y[0], -FAR), (b, y[1], FAR)))
        if line.empty:
            yield Violation(f"nothing touches the {name} jaw", "turn the work between the jaws")
            return
        low, high = line.bounds
        if high[2] > h.jaw_top + 1e-6:
            yield Violation(
                f"the {name} jaw does not reach past the middle of the round, which would rise out "
                f"of it: it touches up to {Length(high[2]):.2f}, and the jaw is "
                f"{Length(h.jaw_top):.2f} high",
                "use lower parallels",
            )
        lines.append((low, high))
    (low, high), (floor_, roof) = lines
    apart = abs((low[2] + high[2]) - (floor_[2] + roof[2])) / 2
    if apart > SAME_HEIGHT:
        yield Violation(
            f"the jaws touch the round at heights {Length(apart):.2f} apart",
            "turn it until they do not",
        )
    long, need = min(high[0], roof[0]) - max(low[0], floor_[0]), _least(work)
    if long < need - 1e-6:
        yield Violation(
            f"the jaws hold only {Length(max(long, 0.0)):.2f} of the work's length, "
            f"{Length(need):.2f} is the least",
            "move the work along the jaws",
        )


def _rests(held: Held) -> Iterator[Violation]:
    h, work = held.setup.holding, held.work
    low, high = _under(h, held.opening)
    touch = work.common(box((*low, h.packing - 1.0), (*high, h.packing + SKIN)))
    long = 0.0 if touch.empty else touch.bounds[1][0] - touch.bounds[0][0]
    if long < _least(work) - 1e-6:
        yield Violation(
            f"the round lies along {Length(long):.2f} of what is under its middle",
            "lower it on to that",
        )


def _least(work: Solid) -> float:
    (low, *_), (high, *_) = work.bounds
    return least_length(high - low)


def _under(h: Holding, width: float) -> tuple[Spot, Spot]:
    """The parallel under the middle, or the bed, in plan [mm]."""
    half = h.parallel_thickness / 2 if h.packing > 0.0 else width / 2
    return (h.jaws_from, -width / 2 - half), (h.jaws_to, -width / 2 + half)
