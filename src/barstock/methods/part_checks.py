"""What a draughtsman would say of a whole part: walls too thin, cuts that take nothing, limits."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

from barstock import methods
from barstock.drawing.build import Face, Fault, Feature, Part
from barstock.drawing.dimension_runs import CheckSort
from barstock.methods.breaking_out import broken_out
from barstock.methods.buried_holes import buried
from barstock.methods.cuts import HoleCut, ProfileCut
from barstock.methods.drawn_solid import envelope
from barstock.methods.feature_cuts import filed_flush
from barstock.methods.places import block
from barstock.quantities import Length, show, told_in
from barstock.solids.shapes import Solid

TOUCH = 1e-4
"""Solids nearer than this meet [mm]."""
FINEST = 0.005
"""Closest limits of size, low to high, that a home shop can measure [mm]. Common practice."""
SCREWED = 2.6
"""Least hole that a screw holding the work on a fixture block goes through, M2.5 [mm]. Common
practice."""
FINEST_ANGLE = 0.05
"""Closest limits of angle, low to high, that a home shop can measure [degrees]. Common practice."""


@dataclass(frozen=True)
class Lump:
    """One connected piece of what a feature takes, within the envelope.

    drawn: without the extra depth that its drill may go. outside: it lies outside an outline.
    """

    feature: Feature
    solid: Solid
    drawn: Solid
    outside: bool


def check_part(part: Part, least_wall: float = 1.0) -> list[Fault]:
    """Every fault of the features taken together. least_wall [mm]."""
    with told_in(part.unit):
        return _found(part, least_wall)


def _found(part: Part, least_wall: float) -> list[Fault]:
    faults = [fault for feature in part.features for fault in _limits(part, feature)]
    whole, lumps = envelope(part), []
    kinds, flush = [methods.KINDS[feature.kind] for feature in part.features], filed_flush(part)
    cuts = [
        kind.removes(feature.spec, part).common(whole)
        for kind, feature in zip(kinds, part.features, strict=True)
    ]
    for i, (feature, kind, drawn) in enumerate(zip(part.features, kinds, cuts, strict=True)):
        # filing flush makes the face that others are marked out from, even where these take it all
        alone = drawn.cut(*cuts[:i], *cuts[i + 1 :])
        if feature.name not in flush and alone.empty:
            missed = part.round and drawn.empty
            what = "takes nothing off the part" + " that other features leave" * (not missed)
            mend = "check its size and where it is given from"
            grade = "error" if missed else "warning"
            faults.append(_fault(part, feature, what, mend, grade))
            continue
        amiss = kind.amiss(feature.spec, part, alone)
        faults += [_fault(part, feature, *amiss, "error")] if amiss else []
        extra = kind.may_remove(feature.spec, part)
        way = kind.ways(feature.spec, part)[0]
        outside = any(isinstance(cut, ProfileCut) for cut in way.cuts)
        if extra is None:
            lumps += [Lump(feature, lump, lump, outside) for lump in drawn.lumps()]
        else:
            deeper = drawn.fuse(extra.common(whole)).lumps()
            lumps += [Lump(feature, lump, lump.common(drawn), outside) for lump in deeper]
    faults += [
        *_unheld(part),
        *buried(part, whole),
        *broken_out(part),
        *_thin(part, lumps, least_wall, whole),
    ]
    if part.joined is not None:
        from barstock.methods.pieces_meeting import fabrication_faults

        faults += fabrication_faults(part)
    left = whole.cut(*cuts)
    count = len(left.lumps())
    if count != 1:
        fell = f"falls into {count} pieces" if count else "is cut away altogether"
        mend = "check depths and positions"
        faults.append(Fault(part.place, f"the part {fell}", mend, part.name))
    return faults


def _fault(part: Part, feature: Feature, what: str, mend: str, grade: str) -> Fault:
    return Fault(feature.place, f"{feature.name} {what}", mend, part.name, feature.name, grade)


def _limits(part: Part, feature: Feature) -> list[Fault]:
    """Dimensions whose limits are closer than a home shop can measure."""
    way = methods.KINDS[feature.kind].ways(feature.spec, part)[0]
    faults = []
    for check in (check for cut in way.cuts for check in cut.checks):
        size = check.dimension
        finest = FINEST_ANGLE if check.sort is CheckSort.ANGLE else FINEST
        if size.stated and size.plus - size.minus < finest - 1e-9:
            apart = size.plus - size.minus
            if check.sort is CheckSort.ANGLE:
                words, held = f"{apart:.4f} degrees", f"{finest} degrees"
            else:
                words, held = f"{Length(apart):.4f}", f"{Length(finest):g}"
            faults.append(
                _fault(
                    part,
                    feature,
                    f"has limits {words} apart on its {check.name} '{size.text}'; a home shop can "
                    f"hold and measure {held}",
                    "open the limits, or have it ground",
                    "warning",
                )
            )
    return faults


def _unheld(part: Part) -> list[Fault]:
    """Outlines to be milled on a part without two holes of its own to screw it down through."""
    ways = [(f, methods.KINDS[f.kind].ways(f.spec, part)[0].cuts) for f in part.features]
    holes = [c for _, cuts in ways for c in cuts if isinstance(c, HoleCut) and c.through]
    faults: list[Fault] = []
    if part.unread:  # one of them may be such a hole
        return faults
    for feature, cuts in ways:
        for cut in cuts:
            if not isinstance(cut, ProfileCut) or cut.way != "milled":
                continue
            square = [h for h in holes if h.face.axis == cut.face.axis]
            count = sum(len(h.at) for h in square if (h.tap_drill or h.diameter) >= SCREWED)
            if count < 2:
                what = (
                    "is to be milled, with the work screwed down through two of its own holes; of "
                    f"{show(SCREWED, part.unit)} or more, right through and square to that face, "
                    f"it has {count or 'none'}"
                )
                mend = "add such holes or make them wider, or write 'finish: filed'"
                faults.append(_fault(part, feature, what, mend, "warning"))
    return faults


def _thin(part: Part, lumps: list[Lump], least: float, whole: Solid) -> list[Fault]:
    """Walls under the least, the thinnest of each two features or feature and face of `whole`."""
    found: dict[tuple[str, str], tuple[float, Lump]] = {}

    def keep(lump: Lump, other: str, wall: float) -> None:
        key = (lump.feature.name, other)
        if key not in found or wall < found[key][0]:
            found[key] = (wall, lump)

    faults = []
    for a, b in combinations(lumps, 2):
        # what an outline leaves may run out to nothing at its ends; that is its shape, no wall
        if (a.feature is b.feature and a.outside) or _apart(a.solid, b.solid) >= least:
            continue
        wall = a.solid.distance(b.solid)
        if wall >= least:
            continue
        if wall > TOUCH:
            rest = [lump.solid for lump in lumps if lump is not a and lump is not b]
            # what is farther from the one than the least wall cannot open the other towards it
            by_a, by_b = ([s for s in rest if _apart(s, x.solid) < least] for x in (a, b))
            wall = a.solid.cut(*by_b).distance(b.solid.cut(*by_a))
            if TOUCH < wall < least - TOUCH:
                keep(b, a.feature.name, wall)
        elif a.feature is not b.feature and a.drawn.distance(b.drawn) > TOUCH:
            drilled, met = (a, b) if a.solid.distance(b.drawn) <= TOUCH else (b, a)
            what = f"is drilled so deep that it breaks into {met.feature.name}"
            mend = "give a lesser 'drill depth'"
            faults.append(_fault(part, drilled.feature, what, mend, "warning"))
    for lump in lumps:
        rest = [other.solid for other in lumps if other is not lump]
        if part.round and TOUCH < (wall := lump.solid.distance(_outside(part))) < least - TOUCH:
            keep(lump, "the outside", wall)
        for face in (Face.LEFT, Face.RIGHT) if part.round else Face:
            wall = _to_face(part, lump.solid, face)
            if not TOUCH < wall < least - TOUCH:
                continue
            if not _web(part, lump.solid, face).common(whole).cut(*rest).empty:
                keep(lump, f"the {face} face", wall)
    return faults + [
        _fault(
            part,
            lump.feature,
            f"leaves a wall of {show(wall, part.unit)} to "
            + ("the next one" if other == lump.feature.name else other)
            + f"; the least wall is {show(least, part.unit)}",
            "move it, make it smaller, or lower 'least wall'",
            "warning",
        )
        for (_, other), (wall, lump) in found.items()
    ]


def _apart(a: Solid, b: Solid) -> float:
    """Greatest gap between two boxes along an axis; the solids are at least so far apart [mm]."""
    (low, high), (floor, roof) = a.bounds, b.bounds
    return max(max(floor[i] - high[i], low[i] - roof[i]) for i in range(3))


def _to_face(part: Part, solid: Solid, face: Face) -> float:
    low, high = solid.bounds
    axis = face.axis
    return part.size[axis] - high[axis] if face.sign > 0 else low[axis]


def _outside(part: Part) -> Solid:
    """All round a round part."""
    length, wide, high = part.size
    about = block({0: (0.0, length), 1: (-1.0, wide + 1.0), 2: (-1.0, high + 1.0)})
    return about.cut(envelope(part))


def _web(part: Part, solid: Solid, face: Face) -> Solid:
    """The block of material between a solid's box and a face."""
    low, high = solid.bounds
    spans = {i: (low[i], high[i]) for i in range(3)}
    axis = face.axis
    spans[axis] = (high[axis], part.size[axis]) if face.sign > 0 else (0.0, low[axis])
    return block(spans)
