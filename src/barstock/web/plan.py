"""The plan as the pages show it: read once from the build's out/, held until it is planned anew."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from barstock.bench.in_unit import in_unit
from barstock.drawing.model import Build
from barstock.drawing.reading import read_build
from barstock.errors import FaultyError, WrongUseError
from barstock.pack.as_planned import FOLDER as AS_PLANNED
from barstock.pack.compose import compose
from barstock.pack.pages import Pack, SetupPage
from barstock.pack.route_file import FILE as ROUTE
from barstock.pack.route_file import read_route
from barstock.planning.route import Route, Setup
from barstock.quantities import Unit
from barstock.reading.faults import Fault
from barstock.workshop.model import Machine, Workshop
from barstock.workshop.reading import find_workshop, read_workshop

OUT = "out"
AS_DRAWN = "as drawn"


@dataclass(frozen=True)
class Plan:
    """A route with the drawing and the shop it was planned for.

    packs: the pages by the unit they are read in ("as drawn", "mm", "inch"); pictures: the file of
    each setup's picture; drawings: of each part's drawing; stamp: of the route's file.
    """

    route: Route
    build: Build
    workshop: Workshop
    packs: Mapping[str, Pack]
    pictures: Mapping[str, Path]
    drawings: Mapping[str, Path]
    stamp: int

    def setup(self, name: str) -> Setup:
        """The setup of that id; KeyError."""
        return next_or_key(self.route.setups, name)

    def page(self, name: str, unit: str) -> SetupPage:
        """A setup's page; KeyError."""
        pack = self.packs.get(unit) or self.packs[AS_DRAWN]
        for page in pack.setups:
            if page.number == name:
                return page
        raise KeyError(name)

    def part_of(self, setup: Setup) -> str:
        """The part a setup's work becomes."""
        return next((b.part for b in self.route.bars if b.id == setup.work), setup.work)

    def machine(self, setup: Setup) -> Machine | None:
        """The machine of a setup."""
        return next((m for m in self.workshop.machines if m.name == setup.machine), None)


def next_or_key(setups: tuple[Setup, ...], name: str) -> Setup:
    """The setup of that id; KeyError."""
    for setup in setups:
        if setup.id == name:
            return setup
    raise KeyError(name)


def stamp(folder: Path) -> int:
    """Of the route's file; 0 where there is none."""
    try:
        return (folder / OUT / ROUTE).stat().st_mtime_ns
    except FileNotFoundError:
        return 0


def written_stamp(folder: Path) -> tuple[int, ...]:
    """Of the files a person writes."""
    found = (folder / name for name in ("build.yaml", "workshop.yaml"))
    return tuple(path.stat().st_mtime_ns for path in found if path.is_file())


Written = tuple[Build | None, Workshop | None, tuple[Fault, ...]]


def read_written(place: Path) -> Written:
    """Drawing and shop as written in a folder, with the fixtures that are planned for them."""
    from barstock.methods import KINDS
    from barstock.planning.fixtures import with_fixtures

    reading = read_build(place, KINDS)
    workshop, faults = read_workshop(find_workshop(place, reading.workshop))
    found, build = [*reading.faults, *faults], reading.build
    if build is not None and workshop is not None and build.fabrications:
        build, wrong = with_fixtures(build, workshop)
        found += wrong
    return build, workshop, tuple(found)


def load(folder: Path) -> Plan:
    """The plan in a build's folder. Raises WrongUseError, FaultyError."""
    out = folder / OUT
    if not (out / ROUTE).is_file():
        raise WrongUseError(f"there is no route {out / ROUTE}; 'barstock plan {folder}' makes one")
    marked = stamp(folder)
    try:
        route = read_route(out / ROUTE)
    except ValueError as wrong:
        raise WrongUseError(str(wrong)) from wrong
    kept = out / AS_PLANNED
    place = kept if kept.is_dir() else folder
    build, workshop, faults = read_written(place)
    if build is None or workshop is None:
        raise FaultyError(faults)
    pictures = {
        path.stem.removeprefix("setup-"): path for path in (out / "pictures").glob("*-*.svg")
    }
    drawings = {
        part.name: path
        for part in build.parts
        if (path := out / "parts" / f"{part.name.replace(' ', '-')}.svg").is_file()
    }
    shown = (dict.fromkeys(pictures, ""), dict.fromkeys(drawings, ""))
    packs = {AS_DRAWN: compose(route, build, workshop, *shown)}
    for unit in Unit:
        packs[unit.value] = compose(*in_unit(route, build, workshop, unit), *shown)
    return Plan(route, build, workshop, packs, pictures, drawings, marked)
