"""Slitting saws on their arbors: how deep one goes, what is about it, how it is fed.

No standard gives these: common practice, all of them, on small milling machines. Surface speed and
feed are those of `speeds`.
"""

from __future__ import annotations

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
