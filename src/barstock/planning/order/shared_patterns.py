"""Hole patterns that two parts share: made by the same readings, one setup after the other.

A cover and the box it closes match when their holes were dialled alike. The later part's zero is
set off by the distance between the two patterns: one list of readings makes both, and any error
of the readout is in both.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from barstock.machines import machine_type
from barstock.planning.order.alike_setups import likeness
from barstock.route import Operation, Plunge, Setup

SAME = 1e-6  # readings that differ by no more are one [mm]

Point = tuple[float, float]


@dataclass(frozen=True)
class Shared:
    """A setup whose hole pattern an earlier one has too.

    feature, earlier_feature: the features' names; shift: what the readings of this setup must grow
    by to be the earlier one's [mm].
    """

    setup: str
    feature: str
    earlier: str
    earlier_feature: str
    shift: Point


def shared(setups: Sequence[Setup]) -> list[Shared]:
    """The setups, in their order, that can take over an earlier one's readings for a pattern."""
    found: list[Shared] = []
    shifted: dict[str, Point] = {}
    for n, setup in enumerate(setups):
        for feature, pattern in _patterns(setup):
            mate = _mate(pattern, setup, setups[:n])
            if mate is None:
                continue
            earlier, earlier_feature, (x, y) = mate
            own = shifted.get(earlier.id, (0.0, 0.0))
            shift = (x + own[0], y + own[1])
            shifted[setup.id] = shift
            found.append(Shared(setup.id, feature, earlier.id, earlier_feature, shift))
            break
    return found


def brought_together(setups: Sequence[Setup], after: Mapping[str, set[str]]) -> list[Setup]:
    """The setups with those that share a pattern next to each other, where that costs nothing.

    Only within a run of setups held alike, so that no setting up is added. after: ids of the setups
    that must come before each.
    """
    order = list(setups)
    for mate in shared(setups):
        at = {s.id: n for n, s in enumerate(order)}
        first, then = at[mate.earlier], at[mate.setup]
        run = order[first : then + 1]
        waited = _waited_for(mate.setup, run, after)
        if len({likeness(s) for s in run}) == 1 and mate.earlier not in waited:
            ahead = [s for s in run if s.id in waited]
            behind = [s for s in run[1:-1] if s.id not in waited]
            order[first : then + 1] = [*ahead, run[0], run[-1], *behind]
    return order


def _waited_for(name: str, run: Sequence[Setup], after: Mapping[str, set[str]]) -> set[str]:
    """The setups of a run that must come before one of them."""
    here = {s.id for s in run}
    found: set[str] = set()
    left = [name]
    while left:
        new = (after.get(left.pop(), set()) & here) - found
        found |= new
        left += new
    return found


def holes(operation: Operation) -> tuple[Point, ...]:
    """The places where an operation plunges, each once [mm, as read]."""
    return tuple(dict.fromkeys((m.x, m.y) for m in operation.moves if isinstance(m, Plunge)))


def _patterns(setup: Setup) -> Iterator[tuple[str, tuple[Point, ...]]]:
    """The patterns of two holes or more made in a setup, by feature."""
    if not machine_type(setup.machine_kind).axes or setup.holding.tilt:
        return
    seen = set()
    for operation in setup.operations:
        at = tuple(sorted(holes(operation)))
        if len(at) > 1 and operation.features[0] not in seen:
            seen.add(operation.features[0])
            yield operation.features[0], at


def _mate(
    pattern: tuple[Point, ...], setup: Setup, before: Sequence[Setup]
) -> tuple[Setup, str, Point] | None:
    """The first setup of another part, same machine, with the same pattern, and how far off."""
    for earlier in before:
        if earlier.machine != setup.machine or _part(earlier) == _part(setup):
            continue
        for feature, other in _patterns(earlier):
            if len(other) == len(pattern):
                x, y = other[0][0] - pattern[0][0], other[0][1] - pattern[0][1]
                off = (
                    max(abs(a[0] + x - b[0]), abs(a[1] + y - b[1]))
                    for a, b in zip(pattern, other, strict=True)
                )
                if max(off) <= SAME:
                    return earlier, feature, (round(x, 6), round(y, 6))
    return None


def _part(setup: Setup) -> str:
    return setup.operations[0].part
