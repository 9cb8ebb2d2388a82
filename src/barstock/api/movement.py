"""Whether a build's mechanism moves: these functions take a folder, and give judgements, pages and
studies.

Every function raises WrongUseError, with what to do instead, for what cannot be worked out.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from barstock.api.telling import LeftOut, Progress
from barstock.errors import FaultyError, WrongUseError, asked_for
from barstock.reading.faults import nearest

if TYPE_CHECKING:
    from barstock.mechanism.guides.size_studies import Study, Sweep
    from barstock.mechanism.mechanism_check import Moved

Folder = str | os.PathLike[str]


def move(
    folder: Folder,
    *,
    as_made: Folder | None = None,
    samples: int = 20_000,
    seed: int = 1,
    progress: Progress | None = None,
    left_out: LeftOut | None = None,
) -> Moved:
    """Judge whether a build's mechanism will move: its guides, and its vehicle on the track.

    as_made: a file of sizes measured. samples: assemblies thrown for every motion that is asked.
    left_out: told the faults for which something is not judged. Raises FaultyError besides.
    """
    from barstock import api
    from barstock.mechanism.guides.guide_sizes import variants
    from barstock.mechanism.mechanism_check import moved

    made = Path(as_made) if as_made is not None else None
    if made is not None and not made.is_file():
        raise WrongUseError(f"there is no file {made} of sizes as made")
    build, workshop, faults = api.readable(folder)
    moving = build.mechanism
    if faults and not (moving and (moving.guides or moving.vehicle)):
        raise FaultyError(faults)
    if left_out is not None:
        left_out(faults)
    with asked_for():
        return moved(
            variants(build, workshop), made=made, samples=samples, seed=seed, tell=progress
        )


def write_moved(found: Moved, place: Folder | None = None) -> list[Path]:
    """Write the page of what moves and its pictures (SVG) into a folder, else into moving/."""
    from barstock.pack.guide_page import write
    from barstock.pack.guide_record import FOLDER

    return write(found, Path(place) if place is not None else found.build.folder / FOLDER)


def write_moving(folder: Folder, *, progress: Progress | None = None) -> list[Path]:
    """Work out what moves, and write its page into the build's moving/. Raises as `move` does."""
    return write_moved(move(folder, progress=progress))


def sweep(text: str, points: int = 9) -> Sweep:
    """A size and its range, read as written: "axlebox/guide slots/lean=0.5..3".

    >>> sweep("box/slot/lean=1..2", 3).values
    (1.0, 1.5, 2.0)
    """
    from barstock.mechanism.guides.size_studies import Sweep

    name, equals, span = text.rpartition("=")
    low, dots, high = span.partition("..")
    try:
        start, stop = float(low), float(high or low)
    except ValueError:
        equals = ""
    if not (equals and name) or (high and not dots) or points < 1:
        raise WrongUseError(f"'{text}' is no sweep; write NAME=FROM..TO, box/slot/lean=0.5..3")
    count = points if high and stop != start else 1
    step = (stop - start) / max(1, count - 1)
    return Sweep(name, tuple(round(start + k * step, 9) for k in range(count)))


def study(
    folder: Folder,
    sweeps: Sequence[Sweep],
    *,
    guide: str | None = None,
    samples: int = 2000,
    seed: int = 1,
    scheduler: str | None = None,
    progress: Progress | None = None,
) -> Study:
    """Sweep sizes of a guide over ranges, with many assemblies thrown at every point.

    guide: its name, where there are several. scheduler: address of a Dask scheduler.
    """
    from barstock import api
    from barstock.mechanism.guides.guide_check import asking
    from barstock.mechanism.guides.guide_sizes import variants
    from barstock.mechanism.guides.size_studies import study as worked
    from barstock.mechanism.mechanism_check import track_asks

    build, workshop, _ = api.readable(folder)
    guides = {one.name: one for one in build.mechanism.guides} if build.mechanism else {}
    if not guides:
        raise WrongUseError(f"{folder} has no guides; write them under 'mechanism: guides:'")
    if guide is None and len(guides) > 1:
        raise WrongUseError(f"say which guide with --guide: {', '.join(guides)}")
    name = guide or next(iter(guides))
    if name not in guides:
        raise WrongUseError(f"there is no guide '{name}'; {nearest(name, guides)}")
    with asked_for():
        return worked(
            variants(build, workshop),
            asking(guides[name], track_asks(build).get(name, {})),
            sweeps,
            samples=samples,
            seed=seed,
            scheduler=scheduler,
            tell=progress,
        )


def write_study(found: Study, place: Folder) -> list[Path]:
    """Write a chart of every motion of a study, as SVG, into a folder."""
    from barstock.mechanism.guides.guide_chart import study_chart
    from barstock.store.whole_files import write_whole

    folder = Path(place)
    folder.mkdir(parents=True, exist_ok=True)
    motions = dict.fromkeys(name for point in found.points for name in point.motions)
    paths = []
    for name in motions:
        path = folder / f"study-{name}.svg"
        write_whole(path, study_chart(found, name).encode())
        paths.append(path)
    return paths
