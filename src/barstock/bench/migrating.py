"""Brings a log's tables up to date by the numbered steps in migrations/versions."""

from __future__ import annotations

from pathlib import Path

from alembic.operations import Operations
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection

from barstock.errors import WrongUseError

FOLDER = Path(__file__).with_name("migrations")


def bring_up(connection: Connection, to: str = "head") -> None:
    """Take the steps that a database has not had, as far as `to`, within its transaction.

    Raises WrongUseError for a log that a later barstock has brought further.
    """
    steps = ScriptDirectory(str(FOLDER))
    context = MigrationContext.configure(connection)
    here = context.get_current_revision()
    known = {step.revision for step in steps.walk_revisions()}
    if here is not None and here not in known:
        raise WrongUseError(
            f"the log is of a later barstock (its step {here}); bring barstock up to date"
        )
    if here == steps.as_revision_number(to):
        return
    todo = [step for step in steps.iterate_revisions(to, here) if step.revision != here]
    with Operations.context(context):
        for step in reversed(todo):
            step.module.upgrade()
    context.stamp(steps, to)
