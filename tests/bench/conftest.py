"""A log in each of the databases it can be kept in."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count
from pathlib import Path

import psycopg
import pytest

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
