"""The pages of what moves, kept by the mechanism, the parts of its guides, the bars of those and
the hollows its springs stand in.
"""

from __future__ import annotations

from concurrent.futures import Future
from dataclasses import replace
from functools import partial
from pathlib import Path

from pydantic import TypeAdapter

from barstock.drawing.build import Build
from barstock.mechanism.guides.guide_sizes import Variants, guide_parts, variants
from barstock.pack.moving_pages import Moving, moving_pages
from barstock.reading.faults import Place
from barstock.reading.nodes import Table
from barstock.solids.workers import Workers
from barstock.store.content import key
from barstock.store.kept_folders import Kept
from barstock.store.kept_values import FIGURES, figures_in
from barstock.workshop.shop import Workshop

FILE = "moving.json"
NOTHING = Table(Place("", 1, 1))


def moving_asked(build: Build, workshop: Workshop, cache: Path, workers: Workers) -> Future[Path]:
    """Have the pages made, and return the folder they are in."""
    rests_on = moves_in(build, workshop)
    make = partial(_make, rests_on, cache / FIGURES)
    return workers.made(Kept(cache / "moving", key_of(rests_on), make, "what moves"))


def key_of(rests_on: Variants) -> str:
    """The key that the pages are kept by. Where a hollow is written is told if it will not do."""
    mechanism = rests_on.build.mechanism
    springs = mechanism.springs if mechanism else ()
    places = [str(hollow.place) for spring in springs for hollow in spring.hollows]
    return key(rests_on, places)


def read_moving(folder: Path) -> Moving:
    """The pages in a folder. Raises OSError, ValueError."""
    return TypeAdapter(Moving).validate_json((folder / FILE).read_bytes())


def moves_in(build: Build, workshop: Workshop) -> Variants:
    """The build with only what its mechanism rests on: the pages are made of this and no more.

    So nothing can be asked of it that the key does not tell. Raises FaultyError if its file is
    gone.
    """
    guided = guide_parts(build)
    mechanism = build.mechanism
    springs = mechanism.springs if mechanism else ()
    named = {hollow.of for spring in springs for hollow in spring.hollows}
    parts = list(guided)
    for part in build.parts:
        stood_in = tuple(f for f in part.features if f"{part.name}/{f.name}" in named)
        if stood_in and part not in guided:
            parts.append(replace(part, features=stood_in))
    slim = Build(build.name, Path(), tuple(parts), mechanism=mechanism)
    of = {part.material for part in guided}
    rack = tuple(bar for bar in workshop.rack if bar.material in of)
    table = variants(build).table if guided else NOTHING
    return Variants(slim, table, Workshop("", (), (), (), (), (), rack))


def _make(rests_on: Variants, figures: Path, folder: Path) -> None:
    with figures_in(figures):
        pages = moving_pages(rests_on)
    (folder / FILE).write_bytes(TypeAdapter(Moving).dump_json(pages))
