"""A slot: straight or leaning, through, open at one end or closed."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

from barstock.drawing.build import AXES, Face, Part
from barstock.drawing.dimension_runs import CheckSort, EndKind, between
from barstock.drawing.other_hands import FeatureFields
from barstock.drawing.questions import Ask
from barstock.methods.cuts import Check, LevelCut, Way
from barstock.methods.dimension_forms import (
    Form,
    by_face,
    centred,
    near_wall,
    one_of,
    right_through,
    sized,
)
from barstock.methods.kind import Drawn, Kind
from barstock.methods.places import (
    PROUD,
    in_face,
    level,
    moved,
    rounded,
    skin,
    swept,
    third,
    unit,
    vec,
)
from barstock.methods.round_part import is_flat
from barstock.methods.sheet_dimensions import across, view_along
from barstock.methods.slot_ends import Ends, read_ends
from barstock.methods.slot_fields import SlotFields
from barstock.methods.slot_floor import Floor, read_floor
from barstock.quantities import show
from barstock.solids.shapes import Solid


@dataclass(frozen=True)
class Slot:
    """A slot in `face` along `axis`, centre line at `centre` across it [mm].

    floor: how deep it lies. ends: where the slot begins and stops.
    """

    face: Face
    axis: int
    centre: float
    width: float
    floor: Floor
    ends: Ends
    mirrored: bool
    width_as: Form
    centre_as: Form

    @property
    def faces(self) -> tuple[Face, ...]:
        """The faces it is cut into."""
        return (self.face, self.face.opposite) if self.mirrored else (self.face,)

    @property
    def walls(self) -> tuple[float, float]:
        """Coordinates of its two walls [mm]."""
        return (self.centre - self.width / 2, self.centre + self.width / 2)


class SlotKind(Kind):
    """The kind of a slot."""

    name = "slot"
    summary = "A slot, straight or leaning; through, open at one end, or closed."
    walled = True
    fields: type[FeatureFields[Any]] = SlotFields

    def resolve(self, fields: SlotFields, part: Part, ask: Ask) -> Slot | None:
        """The slot in millimetres, or None after reporting what is wrong."""
        face, axis = fields.face, AXES.index(fields.along)
        if axis == face.axis:
            flat = " or ".join(AXES[i] for i in in_face(face.axis))
            what = f"the slot cannot run along the {fields.along} on {face}"
            ask.fault("along", what, f"say {flat}")
            return None
        if ask.given("lean") and not is_flat(ask, part, "a leaning slot"):
            return None
        cross = third(face.axis, axis)
        wide = sized(ask, "width", CheckSort.INSIDE, between(EndKind.WALL, EndKind.WALL))
        width = one_of(ask, part, "width of the slot", "'width'", wide)
        half = width.value / 2 if width else 0.0
        centre = one_of(
            ask,
            part,
            "position of the slot",
            "'position' or 'wall from'",
            centred(ask, "position", cross, part)
            + near_wall(ask, "wall from", cross, part, half, EndKind.NEAR_WALL),
        )
        floor = read_floor(fields, part, ask, axis)
        ends = read_ends(fields, ask, part, axis, 2 * half)
        if width is None or centre is None or floor is None or ends is None:
            return None
        slot = Slot(
            face, axis, centre.value, width.value, floor, ends, fields.mirrored, width, centre
        )
        return slot if self._fits(slot, part, ask) else None

    def _fits(self, slot: Slot, part: Part, ask: Ask) -> bool:
        low, high = slot.walls
        across_axis = third(slot.face.axis, slot.axis)
        room = part.size[across_axis]
        good = True
        if low < -1e-6 or high > room + 1e-6:
            out = max(-low, high - room)
            ask.fault(
                slot.centre_as.field,
                f"the slot runs {show(out, part.unit)} out of the part's {AXES[across_axis]}",
                "check its width and position, or make it a step",
            )
            good = False
        room = part.size[slot.face.axis] / (2 if slot.mirrored else 1)
        shallow, deep = sorted((slot.floor.start, slot.floor.stop))
        through = right_through(slot.floor.depth_as)
        if through and slot.ends.open_start and slot.ends.open_stop:
            what = "the slot would saw the part in two"
            ask.fault("depth", what, "give it a closed end ('length', 'end from'), or a depth")
            good = False
        if not through and (shallow < -1e-6 or deep <= 0 or deep >= room):
            deep_words = show(deep, part.unit)
            if slot.floor.lean:
                deep_words = f"{show(shallow, part.unit)} to {deep_words}"
            ask.fault(
                slot.floor.depth_as.field,
                f"the slot would be {deep_words} deep; there is {show(room, part.unit)}",
                "check the depth, the lean and which end is wide"
                if slot.floor.lean
                else "check the depth; one that goes right through is written 'depth: through'",
            )
            good = False
        return good

    def removes(self, spec: Slot, part: Part) -> Solid:
        """The slot, proud of its face and of its open ends."""
        first, *others = (_hollow(spec, part, face) for face in spec.faces)
        return first.fuse(*others)

    def may_remove(self, spec: Slot, part: Part) -> Solid | None:
        """The metal that a somewhat smaller cutter takes out of its closed ends' corners."""
        if spec.ends.corner <= 0:
            return None
        ends = replace(spec.ends, corner=spec.ends.sharpest)
        return self.removes(replace(spec, ends=ends), part)

    def drawn(self, spec: Slot, part: Part) -> list[Drawn]:
        """The width and position seen along it, depths from the side, lengths on its face."""
        cross, ends = third(spec.face.axis, spec.axis), spec.ends
        low, high = spec.walls
        wide = ends.start if spec.floor.start <= spec.floor.stop else ends.stop
        shallow = min(spec.floor.start, spec.floor.stop)
        here = vec({spec.axis: wide, cross: low, spec.face.axis: level(part, spec.face, shallow)})
        field, top = spec.floor.depth_as.field, level(part, spec.face)
        if field.startswith("across"):
            top = level(part, spec.face.opposite, shallow)
        elif field == "floor from":
            top = spec.floor.depth_as.origin
        along, aside = view_along(spec.axis), view_along(cross)
        wall = low if spec.centre_as.origin < spec.centre else high
        middle = moved(here, cross, wall if spec.centre_as.field == "wall from" else spec.centre)
        dims = across(spec.width_as, along, here, cross, high, hollow=True)
        view = aside if spec.floor.lean else along
        dims += across(spec.floor.depth_as, view, here, spec.face.axis, top)
        dims += across(spec.centre_as, along, middle, cross, spec.centre_as.origin)
        deep = moved(
            moved(here, spec.axis, ends.start + ends.stop - wide),
            spec.face.axis,
            level(part, spec.face, max(spec.floor.start, spec.floor.stop)),
        )
        dims += [
            Drawn(check.name, check.dimension, aside, here, deep, "angle")
            for check in spec.floor.lean_checks
        ]
        return dims + ends.drawn(here, view_along(spec.face.axis), spec.axis)

    def ways(self, spec: Slot, part: Part) -> list[Way]:
        """It is cut with the end of a cutter, down from its face, tilted by its lean; a slit, from
        its open end."""
        cuts = tuple(_cut(spec, part, face) for face in spec.faces)
        found = [Way("tilted, with an end mill" if spec.floor.lean else "with an end mill", cuts)]
        slit = _from_its_end(spec, part)
        return [*found, Way("from its open end", (slit,))] if slit else found


def _hollow(slot: Slot, part: Part, face: Face) -> Solid:
    cross = third(face.axis, slot.axis)
    low, high = slot.walls
    ends = slot.ends
    if not slot.floor.lean:
        spans = {
            slot.axis: (
                ends.start - (PROUD if ends.open_start else 0.0),
                ends.stop + (PROUD if ends.open_stop else 0.0),
            ),
            cross: (low, high),
        }
        u, v = in_face(face.axis)
        first, last = (
            0.0 if ends.open_start else ends.corner,
            0.0 if ends.open_stop else ends.corner,
        )
        radii = (first, last, last, first) if u == slot.axis else (first, first, last, last)
        outline = rounded((spans[u][0], spans[v][0]), (spans[u][1], spans[v][1]), radii)
        return swept(face.axis, outline, *skin(part, face, slot.floor.start))
    run = part.size[slot.axis]
    slope = (slot.floor.stop - slot.floor.start) / run
    corners = [
        (-PROUD, level(part, face, -PROUD)),
        (run + PROUD, level(part, face, -PROUD)),
        (run + PROUD, level(part, face, slot.floor.stop + slope * PROUD)),
        (-PROUD, level(part, face, slot.floor.start - slope * PROUD)),
    ]
    if slot.axis > face.axis:
        corners = [(b, a) for a, b in corners]
    return swept(cross, [(corner, 0.0) for corner in corners], low, high)


def _cut(slot: Slot, part: Part, face: Face) -> LevelCut:
    cross = third(face.axis, slot.axis)
    ends = slot.ends
    run = ends.stop - ends.start
    rise = -face.sign * (slot.floor.stop - slot.floor.start)
    slant = math.hypot(run, rise)
    walls = {"across-", "across+"}
    walls |= set() if ends.open_start else {"run-"}
    walls |= set() if ends.open_stop else {"run+"}
    return LevelCut(
        face=face,
        origin=vec(
            {
                slot.axis: ends.start,
                cross: slot.walls[0],
                face.axis: level(part, face, slot.floor.start),
            }
        ),
        run=vec({slot.axis: run / slant, face.axis: rise / slant}),
        across=unit(cross),
        normal=vec({slot.axis: -face.sign * rise / slant, face.axis: face.sign * run / slant}),
        run_length=slant,
        across_length=slot.width,
        walls=frozenset(walls),
        corner=ends.corner,
        sharpest=ends.sharpest,
        lean=slot.floor.lean,
        checks=_checks(slot, face),
    )


def _from_its_end(slot: Slot, part: Part) -> LevelCut | None:
    """A slot right through whose one closed end may be square, as a slot in the end it opens at."""
    ends = slot.ends
    if not right_through(slot.floor.depth_as) or ends.sharpest > 0 or not ends.corner:
        return None
    if ends.open_start == ends.open_stop:
        return None
    opens = Face.of(slot.axis, -1 if ends.open_start else 1)
    cross = third(slot.face.axis, slot.axis)
    closed = ends.stop if ends.open_start else ends.start
    return LevelCut(
        face=opens,
        origin=vec({slot.axis: closed, cross: slot.walls[0]}),
        run=unit(slot.face.axis),
        across=unit(cross),
        normal=opens.normal,
        run_length=part.size[slot.face.axis],
        across_length=slot.width,
        walls=frozenset({"across-", "across+"}),
        checks=_checks(slot, slot.face),
    )


def _checks(slot: Slot, face: Face) -> tuple[Check, ...]:
    floor = slot.floor
    checks = (
        *slot.width_as.checks,
        *floor.lean_checks,
        *slot.centre_as.checks,
        *slot.ends.checks,
    )
    return by_face(checks, floor.depth_as, face, slot.faces)


KIND = SlotKind()
