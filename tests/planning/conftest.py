"""The sample builds planned once for all tests of the planner."""

from dataclasses import replace
from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.planning.plan import plan_build
from barstock.route import Operation, Route, Setup
from barstock.words.lines import Line
from barstock.words.reader import Reader
from barstock.words.shopping import item
from barstock.workshop.shop import Machine, MachineKind, Workshop
from barstock.workshop.shop_reading import find_workshop, read_workshop

SAMPLES = Path(__file__).parents[2] / "src" / "barstock" / "samples"


def sample(name: str) -> tuple[Build, Workshop]:
    """A sample's drawing and its shop, both read without error."""
    folder = SAMPLES / name
    build = read_build(folder, KINDS).build
    shop, _ = read_workshop(find_workshop(folder))
    assert build is not None
    assert shop is not None
    return build, shop


@pytest.fixture(scope="session")
def wagon() -> tuple[Build, Workshop, Route]:
    """The wagon, its shop and its route."""
    build, shop = sample("wagon")
    return build, shop, plan_build(build, shop)


@pytest.fixture(scope="session")
def bracket() -> tuple[Build, Workshop, Route]:
    """The bracket, its shop and its route."""
    build, shop = sample("bracket")
    return build, shop, plan_build(build, shop)


def built(folder: Path, text: str) -> Build:
    """A build written out in full, read without error."""
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    build = read_build(folder, KINDS).build
    assert build is not None
    return build


def only(build: Build, *names: str) -> Build:
    """The build with those parts alone."""
    return replace(build, parts=tuple(p for p in build.parts if p.name in names))


def dialled(line: Line) -> dict[str, str]:
    """The readings of a line as printed: axis and note -> the figures with their words."""
    return {
        f"{reading.label} {reading.note}".strip(): ",  ".join(
            " ".join(run.text for run in value) for value in reading.values
        )
        for reading in (*line.axes.values(), *line.other)
    }


def mill_of(shop: Workshop) -> Machine:
    """The shop's mill."""
    found = shop.machine(MachineKind.MILL)
    assert found is not None
    return found


def find(route: Route, operation: str) -> tuple[Setup, Operation]:
    """An operation by its id, with its setup."""
    for setup in route.setups:
        for found in setup.operations:
            if found.id == operation:
                return setup, found
    raise KeyError(operation)


def bought(route: Route) -> list[str]:
    """What a route says is to be bought."""
    return [item(one, Reader()) for one in route.summary.buy]
