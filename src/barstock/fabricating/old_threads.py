"""Where a hole takes the place of a fixing screw afterwards: is all of its thread gone?"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, dist

from barstock.drawing.build import Part
from barstock.drawing.part import Joined
from barstock.fabricating.joining_findings import Finding, Mistake
from barstock.fabricating.joints import PLACED
from barstock.handbook.threads import thread
from barstock.methods.feature_cuts import axes_of, hole_of, screw_hole
from barstock.quantities import Length

OVERSIZE = 0.05
"""How much wider than its nominal size a tap or a drill may have cut [mm]. Common practice."""


def old_threads_left(part: Part, joined: Joined) -> Iterator[Finding]:
    """The findings of holes that take the place of fixing screws and leave something of those there
    before.
    """
    for screw in joined.screws:
        feature = next((f for f in part.features if f.name == screw.replaced_by), None)
        bore = hole_of(feature, part) if feature is not None else None
        if bore is None:
            continue
        new = bore.tap_drill if bore.thread else bore.diameter
        for hole in screw.holes:
            old = screw_hole(joined, hole)
            for at, face in axes_of(joined, hole):
                flat = [i for i in range(3) if i != face.axis]
                near = min(dist([at[i] for i in flat], [to[i] for i in flat]) for to in bore.at)
                if near < bore.diameter:
                    was = old.thread or old.diameter
                    yield from old_thread_left(screw.name, was, new, near + 2 * PLACED)
                    break


def old_thread_left(name: str, old: str | float, new_hole: float, out: float) -> Iterator[Finding]:
    """The thread that a new hole leaves of the old one.

    old: thread of the fixing screw, or the diameter of a plain hole [mm]; new_hole: diameter
    drilled (before it is tapped) [mm]; out: how far the new axis may be from the old one [mm].
    Raises UnknownThreadError, ValueError for a size that is none.
    """
    was = thread(old).major if isinstance(old, str) else old
    if was <= 0 or new_hole <= 0 or out < 0:
        raise ValueError(f"hole '{name}': sizes must be more than 0 and the error not less")
    left = (was + OVERSIZE) / 2 + out - new_hole / 2
    if left > 1e-9:
        called = (
            f"the old {old} thread" if isinstance(old, str) else f"the old {Length(old):g} hole"
        )
        what = (
            f"a {Length(new_hole):g} hole does not swallow {called}: with {Length(out):g} out of "
            f"line {Length(left):.2f} of it is left on one side"
        )
        wide = ceil((new_hole + 2 * left) * 100 - 1e-6) / 100
        mend = f"drill {Length(wide):.2f} or more, use a smaller fixing screw, or pick "
        mend += "up the old hole by its own bore before drilling"
        yield Finding(Mistake.SWALLOW, name, what, mend)
