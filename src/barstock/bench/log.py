"""The log is lines added and read, in SQLite in the build's folder or in PostgreSQL by URL.

A line is acknowledged when it is on the disk: SQLite writes ahead and waits for the disk at every
commit, so that neither a power cut nor a killed program loses what `write` has returned.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from threading import Lock
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, delete, event, insert, select, text
from sqlalchemy.exc import SQLAlchemyError
from sqlalchemy.orm import InstrumentedAttribute

from barstock.bench.entry import Entry, Kind
from barstock.bench.migrating import bring_up
from barstock.bench.tables import Device, Line
from barstock.errors import WrongUseError

FILE = "bench-log.db"
WAIT = 30.0
"""How long a writer waits for another one [seconds]."""
ORDERED = 7_219_114
"""Key of the lock that makes PostgreSQL's writers number their lines in the order they appear."""

COLUMNS: tuple[InstrumentedAttribute[Any], ...] = tuple(
    getattr(Line, name) for name in Entry.model_fields
)


def log_url(folder: Path, url: str | None = None) -> str:
    """Where a build's log is: the file in its folder where no URL is given."""
    if not url:
        return f"sqlite:///{(folder / FILE).resolve()}"
    for name in ("postgresql://", "postgres://"):
        if url.startswith(name):
            return "postgresql+psycopg://" + url.removeprefix(name)
    if url.startswith(("postgresql+psycopg://", "sqlite:///")):
        return url
    raise WrongUseError(
        f"the log cannot be kept at '{url.partition('://')[0]}'; give a URL that begins with "
        "postgresql://, or none for a file in the build's folder"
    )


def build_log(folder: Path, url: str | None = None, name: str = "") -> Log:
    """Open the log of a build: the file in its folder, or its lines in a shared one, found by its
    name.

    Raises WrongUseError.
    """
    return Log(log_url(folder, url), name if url else "")


class Log:
    """The log of one build. Several threads, processes and devices may use it at once."""

    def __init__(self, url: str, build: str) -> None:
        """Open the log, made or brought up to date where it needs it. Raises WrongUseError."""
        self.build = build
        self._writing = Lock()
        self._engine = _engine(url)
        self._writer = self._engine.execution_options(writes=True)
        try:
            self._bring_up()
        except SQLAlchemyError as wrong:
            told = str(getattr(wrong, "orig", None) or wrong).splitlines()[0]
            raise WrongUseError(f"the log cannot be opened: {told}") from wrong

    def close(self) -> None:
        """Let go of the database."""
        self._engine.dispose()

    def write(self, *entries: Entry) -> list[Entry]:
        """Add lines, all or none, and return them as written once they are safe on the disk."""
        with self._write() as connection:
            return self._add(connection, entries)

    def bring_in(self, entries: Iterable[Entry]) -> int:
        """Add the lines that are not here yet (by id), in order; return how many were added."""
        with self._write() as connection:
            here = set(connection.scalars(select(Line.id).where(Line.build == self.build)))
            new = {e.id: e for e in entries if e.id not in here}
            return len(self._add(connection, tuple(new.values())))

    def read(self, after: int = 0) -> list[Entry]:
        """The lines after a row, oldest first."""
        wanted = select(*COLUMNS).where(Line.build == self.build, Line.row > after)
        with self._engine.connect() as connection:
            rows = connection.execute(wanted.order_by(Line.row)).mappings()
            return [Entry.model_construct(**(dict(r) | {"kind": Kind(r["kind"])})) for r in rows]

    # -- devices ----------------------------------------------------------------------------------

    def pair(self, mark: str, name: str) -> None:
        """Remember a device by the digest of its secret."""
        with self._write() as connection:
            row = {"mark": mark, "build": self.build, "name": name, "paired": datetime.now(UTC)}
            connection.execute(insert(Device).values(row))

    def devices(self) -> dict[str, str]:
        """The names of the paired devices by mark, oldest first."""
        wanted = select(Device.mark, Device.name).where(Device.build == self.build)
        with self._engine.connect() as connection:
            return dict(connection.execute(wanted.order_by(Device.paired)).all())

    def part_with(self, mark: str) -> None:
        """Forget a device: it has to be paired again."""
        gone = delete(Device).where(Device.build == self.build, Device.mark == mark)
        with self._write() as connection:
            connection.execute(gone)

    # -- pieces -----------------------------------------------------------------------------------

    @contextmanager
    def _write(self) -> Iterator[Connection]:
        with self._writing, self._writer.begin() as connection:
            if connection.dialect.name == "postgresql":
                connection.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": ORDERED})
            yield connection

    def _add(self, connection: Connection, entries: Iterable[Entry]) -> list[Entry]:
        found = []
        for entry in entries:
            values = entry.model_dump(exclude={"row"}) | {"build": self.build}
            row = connection.execute(insert(Line).values(values).returning(Line.row)).scalar_one()
            found.append(entry.model_copy(update={"row": row}))
        return found

    def _bring_up(self) -> None:
        with self._write() as connection:
            bring_up(connection)


def _engine(url: str) -> Engine:
    if not url.startswith("sqlite"):
        return create_engine(url, pool_pre_ping=True)
    engine = create_engine(url, connect_args={"timeout": WAIT})

    @event.listens_for(engine, "connect")
    def _settle(connection: Any, _: object) -> None:
        connection.isolation_level = None  # BEGIN is written out below
        for pragma in ("journal_mode=WAL", "synchronous=FULL"):
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        writes = connection.get_execution_options().get("writes")
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine
