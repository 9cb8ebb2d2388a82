"""Plans on from joining that is begun: a heat that was made stays as it was made."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from barstock.drawing.build import Build, Part
from barstock.drawing.part import Joined
from barstock.errors import UnplannableError
from barstock.fabricating.joining_plan import joining_plan
from barstock.route import Fabrication, Route
from barstock.route.work_done import Standing
from barstock.workshop.shop import Workshop


def keep_heats(build: Build, workshop: Workshop, route: Route, standing: Standing) -> Build:
    """The build with the order of joints of every fabrication that is begun at the hearth: the
    heats made first, each with the filler it had, then what is left.

    Raises UnplannableError where the drawing no longer asks for a joint that is made, or the rest
    cannot be made after it.
    """
    parts = list(build.parts)
    for n, part in enumerate(parts):
        record = next((one for one in route.fabrications if one.part == part.name), None)
        if record is None or part.joined is None:
            continue
        made = [_copies(standing, record, heat.number) for heat in record.heats]
        if any(made):
            parts[n] = _kept(part, part.joined, record, tuple(made), standing)
            found = joining_plan(parts[n], workshop)
            if not found.heats.heats:
                raise UnplannableError(
                    "what is left to join cannot be made after the heats that are done: "
                    f"{found.heats.findings[0]}",
                    part.name,
                )
    return replace(build, parts=tuple(parts))


def _copies(standing: Standing, record: Fabrication, number: int) -> int:
    return min(standing.done.get(record.heat_id(number), 0), record.copies)


def _kept(
    part: Part, joined: Joined, record: Fabrication, made: tuple[int, ...], standing: Standing
) -> Part:
    last = max(n for n, count in enumerate(made) if count)
    before = record.heats[: last + 1]
    used = {joint.name: joint for joint in record.joints}
    drawn = {joint.name: joint for joint in joined.joints}
    for heat in before:
        for name in heat.joints:
            if name not in drawn or drawn[name].pieces != used[name].pieces:
                step = record.heat_id(heat.number)
                raise UnplannableError(
                    f"{standing.where(step)}{step} is made, but the drawing as it now stands has "
                    f"no joint '{name}' of those pieces; write the drawing as it was, or spoil the "
                    "work"
                )
    firm = {name for heat in before for name in heat.joints}
    joints = tuple(
        replace(joint, fillers=(used[joint.name].alloy,)) if joint.name in firm else joint
        for joint in joined.joints
    )
    groups = [heat.joints for heat in before]
    groups += _left(record, last, [joint.name for joint in joined.joints if joint.name not in firm])
    held = replace(joined, joints=joints, heats=tuple(groups), made=made[: last + 1])
    return replace(part, joined=held)


def _left(record: Fabrication, last: int, names: list[str]) -> Iterator[tuple[str, ...]]:
    """The heats still to make: as they were planned, joints that are new one by one."""
    left = list(names)
    for heat in record.heats[last + 1 :]:
        again = tuple(name for name in heat.joints if name in left)
        left = [name for name in left if name not in again]
        if again:
            yield again
    yield from ((name,) for name in left)
