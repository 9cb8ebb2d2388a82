"""A log in each of the databases it can be kept in."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count
from pathlib import Path

import psycopg
import pytest

from barstock.drawing.model import Build
from barstock.drawing.reading import read_build
from barstock.methods import KINDS
from barstock.planning.plan import plan_build
from barstock.planning.route import Route
from barstock.workshop.model import Workshop
from barstock.workshop.reading import read_workshop

from .postgresql import server

_numbers = count(1)


@pytest.fixture(scope="session")
def postgresql() -> Iterator[str]:
    """A server; `.format(name)` gives a database's URL."""
    with server() as url:
        yield url


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """An empty database."""
    if request.param == "sqlite":
        return f"sqlite:///{tmp_path / 'log.db'}"
    servers: str = request.getfixturevalue("postgresql")
    name = f"log{next(_numbers)}"
    with psycopg.connect(servers.format("postgres"), autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}")  # type: ignore[arg-type]
    return servers.format(name).replace("postgresql://", "postgresql+psycopg://")


SMALL = Path(__file__).with_name("small")
Planned = tuple[Build, Workshop, Route]


@pytest.fixture(scope="session")
def fork() -> Planned:
    """A small build planned; only if you do not modify it."""
    build = read_build(SMALL, KINDS).build
    shop, _ = read_workshop(SMALL / "workshop.yaml")
    assert build is not None
    assert shop is not None
    return build, shop, plan_build(build, shop, seconds=1.0)
