"""The log's tables, in SQLite or PostgreSQL alike; migrations/ brings an older log up to them."""

from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy import BigInteger, DateTime, Float, Integer, String, Text, UniqueConstraint
from sqlalchemy.engine import Dialect
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column
from sqlalchemy.types import TypeDecorator


class Utc(TypeDecorator[datetime]):
    """The column type of a moment in universal time; SQLite keeps no zones."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """The moment with its zone."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


class Base(DeclarativeBase):
    """The base of all tables of the log."""


class Line(Base):
    """A line of the log; see `Entry`. build: several builds may share one log."""

    __tablename__ = "lines"
    __table_args__ = (UniqueConstraint("build", "id"),)

    row: Mapped[int] = mapped_column(
        BigInteger().with_variant(Integer, "sqlite"), primary_key=True, autoincrement=True
    )
    build: Mapped[str] = mapped_column(String(200), index=True)
    id: Mapped[str] = mapped_column(String(40))
    kind: Mapped[str] = mapped_column(String(20))
    at: Mapped[datetime] = mapped_column(Utc)
    device: Mapped[str] = mapped_column(String(200))
    setup: Mapped[str] = mapped_column(String(200))
    operation: Mapped[str] = mapped_column(String(200))
    work: Mapped[str] = mapped_column(String(200))
    nth: Mapped[int] = mapped_column(Integer)
    dimension: Mapped[str] = mapped_column(String(200))
    reading: Mapped[float | None] = mapped_column(Float(53))
    instrument: Mapped[str] = mapped_column(String(200))
    figure: Mapped[str] = mapped_column(String(200))
    minutes: Mapped[float | None] = mapped_column(Float(53))
    planned: Mapped[float | None] = mapped_column(Float(53))
    words: Mapped[str] = mapped_column(Text)
    undoes: Mapped[str] = mapped_column(String(40))


class Device(Base):
    """A device paired with a build. mark: digest of the secret its browser keeps."""

    __tablename__ = "devices"

    mark: Mapped[str] = mapped_column(String(64), primary_key=True)
    build: Mapped[str] = mapped_column(String(200), index=True)
    name: Mapped[str] = mapped_column(String(200))
    paired: Mapped[datetime] = mapped_column(Utc)
