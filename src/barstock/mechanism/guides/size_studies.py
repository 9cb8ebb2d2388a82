"""This module studies a guide: sizes swept over ranges, many assemblies thrown at every point.

The points are worked by all the machine's cores, or by a Dask cluster where the address of its
scheduler is given. Each is worked alone, from the same seed: the result is the same either way.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import product

from barstock.drawing.guides import Guide, Standing
from barstock.drawing.size_distribution import Law
from barstock.drawing.sizes_by_name import restated, written_sizes
from barstock.errors import BarstockError, WrongUseError
from barstock.mechanism.guides.guide_faces import NothingMeetsError, faces, place_name
from barstock.mechanism.guides.guide_play import MOTIONS, reach
from barstock.mechanism.guides.guide_sizes import Variants
from barstock.mechanism.guides.motion_over_limits import by_chance, throw, worst
from barstock.quantities import Dimension
from barstock.reading.faults import nearest
from barstock.solids.workers import Workers

Tell = Callable[[str, float], None]
MOST_POINTS = 10_000
PATIENCE = 3
"""A scheduler is waited for as long as this [s]."""


@dataclass(frozen=True)
class Sweep:
    """A Sweep is a size and the values it is to have, in the unit that it is written in."""

    name: str
    values: tuple[float, ...]


@dataclass(frozen=True)
class Seen:
    """A Seen is a motion at one point, in its unit.

    low: what all but 1 in 741 assemblies reach. worst: by limits, nan where the block may not go
    in. fails: share that falls short.
    """

    nominal: float
    mean: float
    low: float
    worst: float
    asked: float
    fails: float


@dataclass(frozen=True)
class Point:
    """A Point is the sizes that were tried and each motion there.

    fault: why it cannot be, or "".
    """

    sizes: tuple[tuple[str, float], ...]
    motions: dict[str, Seen]
    fault: str = ""

    @property
    def fails(self) -> float:
        """Return the greatest share that falls short of what is asked.

        It is 1 where the point cannot be at all.
        """
        return max((seen.fails for seen in self.motions.values()), default=1.0)


@dataclass(frozen=True)
class Study:
    """A Study is all points in order: the last sweep goes fastest."""

    guide: str
    sweeps: tuple[Sweep, ...]
    points: tuple[Point, ...]

    @property
    def best(self) -> Point:
        """Find the point where fewest assemblies fall short.

        Of several such points it is the one where what is asked is cleared most.
        """

        def short(point: Point) -> list[float]:
            """Return by how little what is asked is cleared, the least first."""
            return sorted(round(seen.asked - seen.low, 6) for seen in point.motions.values())[::-1]

        return min(self.points, key=lambda point: (point.fails, short(point)))


def study(
    variants: Variants,
    guide: Guide,
    sweeps: Sequence[Sweep],
    *,
    law: Law = Law.NORMAL,
    samples: int = 2000,
    seed: int = 1,
    scheduler: str | None = None,
    tell: Tell | None = None,
) -> Study:
    """Work every combination of the sweeps' values.

    scheduler: address of a Dask scheduler; without it, this machine's cores. Raises WrongUseError
    for a size that is not there, too many points, or a scheduler that does not answer.
    """
    for sweep in sweeps:
        _known(variants, guide, sweep.name)
    sets = list(product(*(sweep.values for sweep in sweeps)))
    if not 1 <= len(sets) <= MOST_POINTS:
        raise WrongUseError(f"{len(sets)} points; a study has from 1 to {MOST_POINTS}")
    names = [sweep.name for sweep in sweeps]
    tasks = [
        partial(work, variants, guide, tuple(zip(names, values, strict=True)), law, samples, seed)
        for values in sets
    ]
    said = tell or (lambda words, share: None)
    works = _by_cluster(scheduler, tasks) if scheduler else _by_cores(tasks)
    found: dict[int, Point] = {}
    said("working", 0.0)
    for number, point in works:
        found[number] = point
        said(f"{len(found)} of {len(tasks)} points", len(found) / len(tasks))
    return Study(guide.name, tuple(sweeps), tuple(found[k] for k in range(len(tasks))))


def work(
    variants: Variants,
    guide: Guide,
    sizes: tuple[tuple[str, float], ...],
    law: Law,
    samples: int,
    seed: int,
) -> Point:
    """Work one point. What cannot be drawn or does not meet is told in it."""
    try:
        other, placed = _at(variants, guide, dict(sizes))
        found = faces(placed, other)
    except (BarstockError, NothingMeetsError) as wrong:
        return Point(sizes, {}, str(wrong).partition("\n")[0])
    thrown = throw(found, law, samples, seed)
    motions = {}
    for name in guide.asked or ("tilt", "pitch"):
        motion, asked = MOTIONS[name], guide.asked.get(name, 0.0)
        ways = (motion, motion.back())
        spread = by_chance(found, motion, thrown, asked)[0]
        motions[name] = Seen(
            motion.shown(min(float(reach(found, way).amount[0]) for way in ways)),
            spread.mean,
            spread.low,
            motion.shown(min(worst(found, way) for way in ways)),
            asked,
            spread.fails,
        )
    return Point(sizes, motions)


def _known(variants: Variants, guide: Guide, name: str) -> None:
    parts = {one.part for one in (guide.block, *guide.fixed)}
    written = [s for part in parts for s in written_sizes(variants.table, part)]
    known = [*_places(guide), *written]
    if name not in known:
        raise WrongUseError(f"no size of '{guide.name}' goes by '{name}'; {nearest(name, known)}")


def _places(guide: Guide) -> set[str]:
    """Return the names of sizes of the guide itself: where its fixed parts stand."""
    return {place_name(one, number) for one in guide.fixed for number in range(len(one.at))}


def _at(variants: Variants, guide: Guide, sizes: dict[str, float]) -> tuple[Variants, Guide]:
    """Return the build and the guide with sizes swept; limits stay as written."""
    places, texts = _places(guide), {}
    fixed = list(guide.fixed)
    for name, value in sizes.items():
        if name in places:
            fixed = [_moved(one, name, value) for one in fixed]
            continue
        part = name.partition("/")[0]
        try:
            texts[name] = restated(written_sizes(variants.table, part)[name], value)
        except ValueError as wrong:
            raise WrongUseError(f"'{name}': {wrong}") from wrong
    return variants.other(texts), replace(guide, fixed=tuple(fixed))


def _moved(standing: Standing, name: str, value: float) -> Standing:
    places = []
    for number, (face, size) in enumerate(standing.at):
        if place_name(standing, number) == name:
            size = Dimension(value, size.minus, size.plus, size.text, size.unit, size.stated)
        places.append((face, size))
    return replace(standing, at=tuple(places))


def _by_cores(tasks: Sequence[Callable[[], Point]]) -> Iterator[tuple[int, Point]]:
    """Work tasks by the machine's cores, as they are done. Stopping ends the processes."""
    from concurrent.futures import as_completed

    with Workers() as workers:
        asked = {workers.ask(task): number for number, task in enumerate(tasks)}
        for done in as_completed(asked):
            yield asked[done], done.result()


def _by_cluster(address: str, tasks: Sequence[Callable[[], Point]]) -> Iterator[tuple[int, Point]]:
    """Work tasks by the workers of a Dask scheduler.

    They must have barstock installed too.
    """
    try:
        from distributed import Client, as_completed
    except ImportError as wrong:
        raise WrongUseError("a scheduler needs Dask: pip install 'barstock[studies]'") from wrong
    try:
        client = Client(address, timeout=PATIENCE)
    except (OSError, ValueError) as wrong:
        raise WrongUseError(f"no scheduler answers at {address}") from wrong
    with client:
        asked = {client.submit(task, pure=False): number for number, task in enumerate(tasks)}
        try:
            for done in as_completed(list(asked)):
                yield asked[done], done.result()
        finally:
            client.cancel(list(asked))
