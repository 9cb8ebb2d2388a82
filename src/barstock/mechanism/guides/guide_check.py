"""This module judges a guide: every motion of its block against what is asked of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from math import inf, isinf, isnan, nan

import numpy as np

from barstock.drawing.guides import Guide
from barstock.drawing.size_distribution import Law
from barstock.mechanism.guides.binding import Binding, bearing, wedged
from barstock.mechanism.guides.face_gaps import rows
from barstock.mechanism.guides.guide_faces import Faces, Tell, faces
from barstock.mechanism.guides.guide_play import MOTIONS, Motion, Reached, reach
from barstock.mechanism.guides.guide_sizes import Variants
from barstock.mechanism.guides.motion_over_limits import (
    Spread,
    Weight,
    by_chance,
    throw,
    weights,
    worst,
)
from barstock.store.kept_values import figure

SAMPLES = 20_000
"""Number of assemblies thrown for a motion that is asked."""
MEETS = 1e-4
"""Corners whose gaps differ by less than this touch together [mm]."""


@dataclass(frozen=True)
class Touch:
    """A Touch is where two faces meet. at: ahead, left, up of the block's middle at rest [mm]."""

    ours: str
    theirs: str
    at: tuple[float, float, float]


@dataclass(frozen=True)
class Way:
    """A Way is a motion in one direction.

    amount: how far it goes until it touches, inf where nothing stops it [° or mm].
    """

    amount: float
    touches: tuple[Touch, ...]


@dataclass(frozen=True)
class Freedom:
    """A Freedom is a motion both ways, by nominal sizes.

    asked: what it must do, 0 where nothing is asked; asked_by: who asks. Where it is asked only:
    worst, the least by limits, nan where the block may not go in; and spread, that of many
    assemblies.
    """

    motion: Motion
    ways: tuple[Way, Way]
    weights: tuple[Weight, ...]
    asked: float = 0.0
    asked_by: str = ""
    worst: float | None = None
    spread: Spread | None = None

    @property
    def amount(self) -> float:
        """Return the lesser of both ways, by nominal sizes."""
        return min(way.amount for way in self.ways)

    @property
    def enough(self) -> bool:
        """Tell whether it does what is asked, by nominal sizes."""
        return self.amount >= self.asked

    @property
    def sure(self) -> bool:
        """Tell whether every assembly within the limits does what is asked."""
        return self.worst is None or self.worst >= self.asked


@dataclass(frozen=True)
class Judged:
    """A Judged is a guide with all that is asked of it and what its block can do.

    wedge: the lean that holds it fast [°], if any.
    """

    guide: Guide
    faces: Faces = field(repr=False)
    freedoms: dict[str, Freedom]
    binding: Binding | None
    wedge: float | None

    @property
    def goes_in(self) -> bool:
        """Tell whether the block goes in, by nominal sizes."""
        return not any(isnan(f.amount) for f in self.freedoms.values())

    @property
    def guided(self) -> bool:
        """Tell whether something stops the block on both sides, ahead and back or sideways."""
        across = (self.freedoms[name].ways for name in ("ahead", "sideways"))
        return any(all(way.amount < inf for way in ways) for ways in across)

    @property
    def doubtful(self) -> bool:
        """Tell whether the guide stands so that its answer may be of another than is meant."""
        return bool(self.faces.unmet) or (self.goes_in and not self.guided)

    @property
    def goes(self) -> bool:
        """Tell whether it does all that is asked and does not bind, by nominal sizes."""
        binds = self.binding is not None and self.binding.binds
        does = all(f.enough for f in self.freedoms.values())
        return self.goes_in and not binds and not self.doubtful and does


def judge(
    guide: Guide,
    of: Variants,
    *,
    asked: Mapping[str, float] | None = None,
    law: Law = Law.NORMAL,
    samples: int = SAMPLES,
    seed: int = 1,
    tell: Tell | None = None,
) -> Judged:
    """Work out all that a guide's block can do.

    asked: what the track asks besides, by motion; the greater counts. tell: what is worked on, and
    the share of all that is. Raises NothingMeetsError.
    """
    whole, said = asking(guide, asked or {}), tell or (lambda words, share: None)
    found = faces(guide, of, lambda words, share: said(f"{guide.name}: {words}", share / 2))
    work = partial(_able, guide, whole.asked, found, law, samples, seed, said)
    rests_on = ("guide", guide, whole, law, samples, seed, found.content)
    able: _Able = figure(_Able, work, *rests_on)
    freedoms = {one.motion.name: one for one in able.freedoms}
    return Judged(whole, found, freedoms, able.binding, able.wedge)


@dataclass(frozen=True)
class _Able:
    """An Able is what a block can do in its guide."""

    freedoms: tuple[Freedom, ...]
    binding: Binding | None
    wedge: float | None


def _able(
    guide: Guide,
    asked: Mapping[str, float],
    found: Faces,
    law: Law,
    samples: int,
    seed: int,
    said: Tell,
) -> _Able:
    """Work out what a block can do. asked: by motion, whoever asks."""
    thrown = throw(found, law, samples, seed)
    freedoms, reached = [], {}
    for n, (name, motion) in enumerate(MOTIONS.items()):
        said(f"{guide.name}: {name}", (1 + n / len(MOTIONS)) / 2)
        both = (reach(found, motion), reach(found, motion.back()))
        reached[name] = both
        wanted = asked.get(name, 0.0)
        by = "the track" if wanted > guide.asked.get(name, 0.0) else "the drawing" if wanted else ""
        spread = by_chance(found, motion, thrown, wanted)[0] if wanted else None
        first, second = (_way(found, motion, one) for one in both)
        freedoms.append(
            Freedom(
                motion,
                (first, second),
                _weights(found, motion, both, first, second),
                wanted,
                by,
                min(_worst(found, way) for way in (motion, motion.back())) if wanted else None,
                spread,
            )
        )
    return _Able(tuple(freedoms), _binding(guide, reached), _wedge(guide, reached["rise"]))


def asking(guide: Guide, more: Mapping[str, float]) -> Guide:
    """Return the guide with more asked of it by motion; of each motion the greater counts."""
    most = {name: max(amount, guide.asked.get(name, 0.0)) for name, amount in more.items()}
    return replace(guide, asked=guide.asked | most)


def _way(found: Faces, motion: Motion, reached: Reached) -> Way:
    amount = motion.shown(float(reached.amount[0]))
    if not amount >= 0 or isinf(amount):
        return Way(inf if isinf(amount) else nan, ())
    return Way(amount, tuple(touches(found, reached)))


def touches(found: Faces, reached: Reached) -> Iterator[Touch]:
    """Find the faces that stop the first of the assemblies reached, and the middle of where they
    meet.

    Two faces may meet in a point, along a line or flat.
    """
    ours, theirs = found.at(np.zeros((1, len(found.sizes))))
    there = ours @ reached.rotation[0].T + reached.shift[0]
    met = rows(there, theirs, reached.shift[:1], reached.parted)
    many = ours.shape[2]
    held = [int(row) // many for row, by in zip(reached.held[0], reached.by[0], strict=True)
            if row >= 0 and by > 0]  # fmt: skip
    for pair in dict.fromkeys(held):
        of_pair = slice(pair * many, (pair + 1) * many)
        gaps = met.gaps[0, of_pair]
        x, y, z = met.points[0, of_pair][gaps < gaps.min() + MEETS].mean(axis=0).round(4).tolist()
        yield Touch(found.block.names[pair], found.fixed.names[pair], (x, y, z))


def _worst(found: Faces, motion: Motion) -> float:
    amount = worst(found, motion)
    return motion.shown(amount)


def _weights(
    found: Faces, motion: Motion, both: tuple[Reached, Reached], first: Way, second: Way
) -> tuple[Weight, ...]:
    """Weigh the sizes for the way that stops sooner."""
    sooner = both[0] if not second.amount < first.amount else both[1]
    if not 0 <= sooner.amount[0] < inf:
        return ()
    return tuple(w for w in weights(found, motion, sooner) if w.spread > 1e-6)


def _binding(guide: Guide, reached: Mapping[str, tuple[Reached, Reached]]) -> Binding | None:
    """Judge binding by the shorter of the lengths on which it bears, tilted or pitched."""
    lengths = [
        bearing(one)
        for name in ("tilt", "pitch")
        for one in reached[name]
        if 0 <= one.amount[0] < inf
    ]
    if not lengths:
        return None
    return Binding(min(lengths), guide.friction, guide.load_off_centre)


def _wedge(guide: Guide, both: tuple[Reached, Reached]) -> float | None:
    found = [wedged(one, guide.friction) for one in both if 0 <= one.amount[0] < inf]
    return next((lean for lean in found if lean is not None), None)
