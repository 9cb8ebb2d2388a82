"""A larger thread where a fixing screw was: is the old one gone, and what walls are left?"""

from __future__ import annotations

from dataclasses import dataclass

from barstock.joining.model import Finding


@dataclass(frozen=True)
class Swallow:
    """new_hole, old_major: diameters [mm]; out: how far the two may be out of line [mm]; spare: of
    the new hole's radius over the old thread and its place [mm], negative where thread is left."""

    name: str
    new_hole: float
    old_major: float
    out: float
    spare: float
    findings: tuple[Finding, ...]


def swallows(name: str, old: str, new_hole: float, out: float, clearance: float = 0.0) -> Swallow:
    """Does a hole of new_hole [mm] take away the thread `old` wholly? clearance: instead of the
    thread, the diameter of a plain hole that must go too [mm]."""
    raise NotImplementedError


@dataclass(frozen=True)
class Round:
    """A hole after joining, across its axis. at: centre, diameter: as finished (a thread's major)
    [mm]; out: its position error [mm]."""

    name: str
    at: tuple[float, float]
    diameter: float
    out: float = 0.05


def walls(
    holes: tuple[Round, ...], outline: tuple[tuple[float, float], ...], least: float
) -> tuple[Finding, ...]:
    """Walls thinner than least [mm] between holes and to the outline (a closed polygon)."""
    raise NotImplementedError


@dataclass(frozen=True)
class Block:
    """A box, low and high corners [mm]: a joint's faces, or what a later feature takes away."""

    name: str
    low: tuple[float, float, float]
    high: tuple[float, float, float]


def cut_through(
    joints: tuple[Block, ...], features: tuple[Block, ...], meant: frozenset[str] = frozenset()
) -> tuple[Finding, ...]:
    """Joints that a later feature cuts into, unless the feature is in `meant`."""
    raise NotImplementedError
