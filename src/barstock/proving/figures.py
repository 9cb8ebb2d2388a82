"""Figures that are none: what is no number, or longer than any machine, is not handed to the
kernel."""

from __future__ import annotations

from collections.abc import Iterable

from barstock.proving.proof_record import Violation
from barstock.route import Setup
from barstock.route.record import Record

LONGEST = 1e5  # more than any length, angle, speed or time of a home shop


def check(part: str, *records: Record) -> Iterable[Violation]:
    """The fault of a figure that is no number or beyond all measure, the first of each record."""
    for record in records:
        wrong = _wrong(record.model_dump(), "")
        if wrong:
            setup = record.id if isinstance(record, Setup) else ""
            what = f"{wrong[0]} is {wrong[1]:g} in the route, which is no figure to work to"
            yield Violation(what, "plan it anew", part, setup)


def _wrong(written: object, path: str) -> tuple[str, float] | None:
    """The first such figure and where it stands."""
    if isinstance(written, float):
        return None if abs(written) <= LONGEST else (path, written)
    inner: Iterable[tuple[object, object]] = ()
    if isinstance(written, dict):
        inner = written.items()
    elif isinstance(written, list | tuple):
        inner = enumerate(written, 1)
    found = (_wrong(one, f"{path}.{name}".lstrip(".")) for name, one in inner)
    return next((one for one in found if one), None)
