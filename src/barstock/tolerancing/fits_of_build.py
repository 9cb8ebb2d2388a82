"""The fits of a build: what goes together, worst case and by chance, paint and plating counted.

Clearance is the inside size less the outside size, less twice each coat: it lies on both walls.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from barstock.drawing.build import Build, Fault, Mating, Side
from barstock.drawing.dimension_runs import CheckSort
from barstock.drawing.size_distribution import Law
from barstock.methods.kind import Kind
from barstock.quantities import Dimension
from barstock.reading.faults import nearest
from barstock.stocking.bar_choice import bought
from barstock.tolerancing.by_chance import SAMPLES, Spread
from barstock.tolerancing.clearance import Coat, Fit
from barstock.workshop.shop import Workshop

TINY = 1e-9
UNSIZED = (CheckSort.THREAD, CheckSort.ANGLE)
"""What nothing fits by."""


@dataclass(frozen=True)
class Mated:
    """A fit of the build with its sizes found."""

    wanted: Mating
    fit: Fit

    @property
    def bare(self) -> tuple[float, float]:
        """The least and greatest clearance before painting [mm]."""
        return replace(self.fit, coats=()).clearance()

    @property
    def lacks(self) -> float:
        """The amount by which the least clearance is short of what is wanted [mm]."""
        return max(0.0, self.wanted.least - self.fit.clearance()[0])

    @property
    def over(self) -> float:
        """The amount by which the greatest clearance is more than wanted [mm]."""
        most = self.wanted.most
        return 0.0 if most is None else max(0.0, self.fit.clearance()[1] - most)

    @property
    def holds(self) -> bool:
        """Is the clearance wanted guaranteed?"""
        return self.lacks <= TINY and self.over <= TINY

    @property
    def eaten(self) -> bool:
        """Would there be room enough, but for the paint?"""
        return self.lacks > TINY and self.bare[0] >= self.wanted.least - TINY

    def by_chance(self, law: Law = Law.NORMAL, samples: int = SAMPLES, seed: int = 1) -> Spread:
        """The clearance of many pairs; `outside` is the share without the clearance wanted."""
        most = float("inf") if self.wanted.most is None else self.wanted.most
        return self.fit.by_chance(self.wanted.least, most, law=law, samples=samples, seed=seed)


def mated(
    build: Build, workshop: Workshop, kinds: Mapping[str, Kind] | None = None
) -> tuple[Mated, ...]:
    """The fits of a build. Raises LookupError for a dimension that no feature has."""
    return tuple(_mated(fit, build, workshop, _kinds(kinds)) for fit in build.fits)


def fit_faults(build: Build, kinds: Mapping[str, Kind] | None = None) -> list[Fault]:
    """The faults of dimensions named in fits that the drawing does not have."""
    faults = []
    for fit in build.fits:
        for side in (fit.inside, fit.outside):
            for name, place in zip(side.names, side.places, strict=False):
                known = dimensions(build, name, _kinds(kinds))
                word = name.rpartition("/")[2]
                if word not in known:
                    what = f"a fit names '{word}', no dimension of '{name.rpartition('/')[0]}'"
                    faults.append(Fault(place, what, nearest(word, known)))
    return faults


def sound(build: Build) -> Build:
    """The build without the fits that name a dimension which the drawing does not have."""
    misnamed = {fault.place for fault in fit_faults(build)}
    fits = (f for f in build.fits if not misnamed & {*f.inside.places, *f.outside.places})
    return replace(build, fits=tuple(fits))


def dimensions(build: Build, name: str, kinds: Mapping[str, Kind]) -> dict[str, Dimension]:
    """The dimensions that the last word of "part/feature/dimension" may name.

    Those of a mirrored feature go without the face too ("width" for "width front").
    """
    title, *rest = name.split("/")
    part = build.part(title)
    if len(rest) == 1:
        return {side: part.dimension(i) for i, side in enumerate(part.sides)}
    feature = next(f for f in part.features if f.name == rest[0])
    cuts = kinds[feature.kind].ways(feature.spec, part)[0].cuts
    sized = [c for cut in cuts for c in cut.checks if c.sort not in UNSIZED]
    plain: dict[str, Dimension] = {}
    for check in sized:
        if check.plain:
            plain.setdefault(check.plain, check.dimension)
    return plain | {check.name: check.dimension for check in sized}


def _kinds(kinds: Mapping[str, Kind] | None) -> Mapping[str, Kind]:
    if kinds is not None:
        return kinds
    from barstock.methods import KINDS

    return KINDS


def _mated(wanted: Mating, build: Build, workshop: Workshop, kinds: Mapping[str, Kind]) -> Mated:
    inside = _sizes(wanted.inside, build, workshop, kinds)
    outside = _sizes(wanted.outside, build, workshop, kinds)
    coats = tuple(
        Coat(f"coat on the {which}", side.coat.low, side.coat.high)
        for which, side in (("inside", wanted.inside), ("outside", wanted.outside))
        if side.coat is not None
    )
    return Mated(wanted, Fit(wanted.name, inside[0], outside[0], coats, inside[1:], outside[1:]))


def _sizes(
    side: Side, build: Build, workshop: Workshop, kinds: Mapping[str, Kind]
) -> tuple[Dimension, ...]:
    """The size it goes by, then what is taken off it."""
    if side.size is not None:
        return (side.size,)
    found = []
    for name in side.names:
        word = name.rpartition("/")[2]
        size = dimensions(build, name, kinds)[word]
        if name.count("/") == 1:
            part = build.part(name.partition("/")[0])
            size = bought(part, part.sides.index(word), workshop)
        found.append(size)
    return tuple(found)
