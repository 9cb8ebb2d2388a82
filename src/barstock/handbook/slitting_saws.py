"""Slitting saws on their arbors: what is sold, how deep one goes, what is about it, how it is fed.

Sizes are those of ISO 2296, from memory; those of an inch as sold, common practice. The rest no
standard gives: common practice, all of it, on small milling machines. Surface speed and feed are
those of `speeds`. Millimetres.
"""

from __future__ import annotations

from barstock.quantities import INCH, Unit

DIAMETERS = (63.0, 80.0, 100.0, 125.0)
THICK = {
    Unit.MM: (0.5, 0.6, 0.8, 1.0, 1.2, 1.6, 2.0, 2.5, 3.0, 4.0),
    Unit.INCH: tuple(n * INCH / 64 for n in (1, 2, 3, 4, 6, 8)),
}
"""How thick saws are sold, by the shop's unit."""
COLLAR_SHARE = 0.5  # of a saw's diameter that the arbor's collars usually have
SCREW = 6.0  # of the arbor's lower collar and its screw under the saw [mm]
PASS = 3.0  # times its thickness that a saw goes in at one pass
TRUE = 0.5  # that a collar keeps from the work, for no saw runs quite true [mm]


def deepest_slot(diameter: float, collar: float) -> float:
    """The deepest slot that a saw cuts before its arbor's collars touch the work [mm].

    >>> deepest_slot(63.0, 32.0)
    15.5
    """
    return (diameter - collar) / 2
