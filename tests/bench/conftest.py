"""A log in each of the databases it can be kept in."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest

from barstock.drawing.build import Build
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.planning.plan import plan_build
from barstock.route import Route
from barstock.workshop.shop import Workshop
from barstock.workshop.shop_reading import read_workshop

from .postgresql import server


@pytest.fixture(scope="session")
def postgresql() -> Iterator[str]:
    """The URL of a server's database."""
    with server() as url:
        yield url


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """An empty database."""
    if request.param == "sqlite":
        return f"sqlite:///{tmp_path / 'log.db'}"
    database: str = request.getfixturevalue("postgresql")
    with psycopg.connect(database, autocommit=True) as connection:
        connection.execute("DROP SCHEMA public CASCADE")
        connection.execute("CREATE SCHEMA public")
    return database.replace("postgresql://", "postgresql+psycopg://")


SMALL = Path(__file__).with_name("small")
Planned = tuple[Build, Workshop, Route]


@pytest.fixture(scope="session")
def fork() -> Planned:
    """A small build planned; only if you do not modify it."""
    build = read_build(SMALL, KINDS).build
    shop, _ = read_workshop(SMALL / "workshop.yaml")
    assert build is not None
    assert shop is not None
    return build, shop, plan_build(build, shop, steps=150_000)
