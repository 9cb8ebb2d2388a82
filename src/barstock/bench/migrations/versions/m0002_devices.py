"""The second step of the log's tables adds the devices that are paired with a build."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Add the table of devices to a log without one."""
    op.create_table(
        "devices",
        sa.Column("mark", sa.String(64), primary_key=True),
        sa.Column("build", sa.String(200), nullable=False),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("paired", sa.DateTime(timezone=True), nullable=False),
    )
    op.create_index("ix_devices_build", "devices", ["build"])
