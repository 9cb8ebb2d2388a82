"""The speed, feed and time of an operation on this shop's machine."""

from __future__ import annotations

from dataclasses import dataclass

import barstock.handbook.speeds as speeds
from barstock.handbook.threads import thread
from barstock.workshop.shop import Machine, Tool


@dataclass(frozen=True)
class Running:
    """How a tool is run: rpm [1/min], feed [mm/min], surface [m/min], share of the wanted surface
    speed reached.
    """

    rpm: float
    feed: float
    surface: float
    share: float


def running(tool: Tool, diameter: float, material: str, machine: Machine | None) -> Running:
    """How to run a tool; spindle steps are respected, and feed follows the speed reached. Without a
    machine it runs at the speed wanted.
    """
    wanted = speeds.speed_for(material, tool.kind.value, tool.material)
    ideal = speeds.rpm(wanted, diameter)
    rpm = spindle(ideal, machine)
    share = min(1.0, rpm / ideal) if ideal else 1.0
    pitch = thread(tool.thread).pitch if tool.thread else None
    feed = speeds.feed(material, tool.kind.value, diameter, rpm, tool.teeth, pitch)
    return Running(rpm, feed, speeds.surface_speed(rpm, diameter), share)


def spindle(ideal: float, machine: Machine | None) -> float:
    """The spindle speed to set: the highest step not above the ideal, else the slowest."""
    if machine is None or not machine.speeds:
        return ideal
    if machine.stepless:
        return min(max(ideal, machine.speeds[0]), machine.speeds[-1])
    below = [s for s in machine.speeds if s <= ideal * 1.05]
    return max(below) if below else min(machine.speeds)
