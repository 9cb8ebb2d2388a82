"""The plan as the pages show it, read from the build's out/ and held until it is planned anew."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from barstock.drawing.build import Build
from barstock.drawing.build_reading import read_build
from barstock.errors import FaultyError
from barstock.pack.compose import compose
from barstock.pack.pack_pages import Pack, SetupPage
from barstock.pack.planned_inputs import FOLDER as AS_PLANNED
from barstock.pack.route_file import OUT, last_route, route_path
from barstock.quantities import Unit
from barstock.reading.faults import Fault
from barstock.route import Route, Setup
from barstock.words.reader import Reader, reader
from barstock.workshop.shop import Machine, Workshop
from barstock.workshop.shop_reading import FILE, find_workshop, read_shop

AS_DRAWN = "as drawn"


@dataclass(frozen=True)
class Plan:
    """A route with the drawing and the shop it was planned for.

    packs: the pages by the unit they are read in ("as drawn", "mm", "inch"); pictures: the file of
    each setup's picture; drawings: of each part's drawing; stamp: of the route's file; faults: of
    what it was planned from.
    """

    route: Route
    build: Build
    workshop: Workshop
    packs: Mapping[str, Pack]
    pictures: Mapping[str, Path]
    drawings: Mapping[str, Path]
    stamp: int
    faults: tuple[Fault, ...] = ()

    def pack(self, unit: str) -> Pack:
        """The pages as read in a unit."""
        return self.packs.get(unit) or self.packs[AS_DRAWN]

    def setup(self, name: str) -> Setup:
        """The setup of that id. Raises KeyError."""
        for setup in self.route.setups:
            if setup.id == name:
                return setup
        raise KeyError(name)

    def page(self, name: str, unit: str) -> SetupPage:
        """The page of a setup. Raises KeyError."""
        for page in self.pack(unit).setups:
            if page.number == name:
                return page
        raise KeyError(name)

    def part_of(self, setup: Setup) -> str:
        """The part a setup's work becomes."""
        return next((b.part for b in self.route.bars if b.id == setup.work), setup.work)

    def reader(self, setup: Setup) -> Reader:
        """The reader of a setup's lines, in the unit of its drawing."""
        return reader(self.machine(setup), self.build.part(self.part_of(setup)).unit)

    def machine(self, setup: Setup) -> Machine | None:
        """The machine that a setup is done at."""
        return next((m for m in self.workshop.machines if m.name == setup.machine), None)


def stamp(path: Path) -> int:
    """The time a file was last written; 0 where there is none."""
    try:
        return path.stat().st_mtime_ns
    except OSError:
        return 0


@dataclass(frozen=True)
class WrittenFiles:
    """Drawing and shop as a person wrote them, what of them can be read, with the fixtures planned.

    files: it was read from, or would be if they were there, each with its stamp.
    """

    build: Build | None
    workshop: Workshop | None
    faults: tuple[Fault, ...]
    files: Mapping[Path, int]

    @property
    def current(self) -> bool:
        """Have the files stayed as they were when they were read?"""
        return all(stamp(path) == then for path, then in self.files.items())


def read_written(place: Path) -> WrittenFiles:
    """What is written in a folder, and in the workshop it shares."""
    from barstock.fabricating.fixture_design import with_fixtures
    from barstock.methods import KINDS

    files = {place / name: stamp(place / name) for name in ("build.yaml", FILE)}
    reading = read_build(place, KINDS)
    shop = find_workshop(place, reading.workshop)
    files.setdefault(shop, stamp(shop))
    made_in = read_shop(shop)
    workshop, build = made_in.readable, reading.readable if reading.sized else None
    found = [*reading.faults, *made_in.faults]
    if build is not None and workshop is not None and build.fabrications:
        build, wrong = with_fixtures(build, workshop)
        found += wrong
    return WrittenFiles(build, workshop, tuple(found), files)


def load(folder: Path) -> Plan:
    """The plan in a build's folder. Raises WrongUseError, FaultyError."""
    out = folder / OUT
    marked = stamp(route_path(folder))
    route = last_route(folder)
    kept = out / AS_PLANNED
    written = read_written(kept if kept.is_dir() else folder)
    build, workshop = written.build, written.workshop
    if build is None or workshop is None:
        raise FaultyError(written.faults)
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
        packs[unit.value] = compose(route, build, workshop, *shown, unit=unit)
    return Plan(route, build, workshop, packs, pictures, drawings, marked, written.faults)
