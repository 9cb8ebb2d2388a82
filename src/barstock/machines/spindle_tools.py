"""The minutes that changing the tools of an upright spindle takes."""

from __future__ import annotations

from barstock.workshop.shop import Holder, ShopTimes, ToolKind


def changing(holder: Holder, tool: ToolKind, times: ShopTimes) -> float:
    """Minutes to put a tool into the spindle, by what holds it, and to touch it off.

    A tap is long: the head goes up for it and down again.
    """
    change = {Holder.COLLET: times.change_collet, Holder.ARBOR: times.change_arbor}
    head = times.head_move if tool is ToolKind.TAP else 0.0
    return change.get(holder, times.change_chuck) + head + times.touch_off
