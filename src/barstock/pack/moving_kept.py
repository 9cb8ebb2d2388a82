"""The pages of what moves, kept by the mechanism and by the hollows its springs stand in."""

from __future__ import annotations

from concurrent.futures import Future
from dataclasses import replace
from functools import partial
from pathlib import Path

from pydantic import TypeAdapter

import barstock
from barstock.drawing.content import content_key
from barstock.drawing.model import Build
from barstock.pack.kept import Kept, digest, program
from barstock.pack.moving_pages import Moving, moving_pages
from barstock.solids.hands import Hands

FILE = "moving.json"


def moving_asked(build: Build, cache: Path, hands: Hands) -> Future[Path]:
    """Has the pages made; the folder they are in."""
    rests_on = moves_in(build)
    make = partial(_make, rests_on)
    return Kept(cache / "moving", key_of(rests_on), make, "what moves").asked(hands)


def key_of(rests_on: Build) -> str:
    """What the pages are kept by. Where a hollow is written is told if it will not do."""
    springs = rests_on.mechanism.springs if rests_on.mechanism else ()
    places = [str(hollow.place) for spring in springs for hollow in spring.hollows]
    return digest(content_key(rests_on), *places, program(barstock))


def read_moving(folder: Path) -> Moving:
    """The pages in a folder. Raises OSError, ValueError."""
    return TypeAdapter(Moving).validate_json((folder / FILE).read_bytes())


def moves_in(build: Build) -> Build:
    """The build with only what its mechanism rests on: the pages are made of this and no more.

    So nothing can be asked of the build that the key does not tell.
    """
    mechanism = build.mechanism
    springs = mechanism.springs if mechanism else ()
    named = {hollow.of for spring in springs for hollow in spring.hollows}
    parts = []
    for part in build.parts:
        stood_in = tuple(f for f in part.features if f"{part.name}/{f.name}" in named)
        if stood_in:
            parts.append(replace(part, features=stood_in))
    return Build(build.name, Path(), tuple(parts), mechanism=mechanism)


def _make(build: Build, folder: Path) -> None:
    (folder / FILE).write_bytes(TypeAdapter(Moving).dump_json(moving_pages(build)))
