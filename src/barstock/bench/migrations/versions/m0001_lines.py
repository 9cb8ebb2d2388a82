"""The first step of the log's tables makes that of its lines."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Make the table in an empty database."""
    number = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
    names = ("device", "setup", "operation", "work", "dimension", "instrument", "figure")
    op.create_table(
        "lines",
        sa.Column("row", number, primary_key=True, autoincrement=True),
        sa.Column("build", sa.String(200), nullable=False),
        sa.Column("id", sa.String(40), nullable=False),
        sa.Column("kind", sa.String(20), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        *(sa.Column(name, sa.String(200), nullable=False) for name in names),
        sa.Column("nth", sa.Integer(), nullable=False),
        *(sa.Column(name, sa.Float(53)) for name in ("reading", "minutes", "planned")),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("undoes", sa.String(40), nullable=False),
        sa.UniqueConstraint("build", "id"),
    )
    op.create_index("ix_lines_build", "lines", ["build"])
