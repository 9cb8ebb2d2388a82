"""The errors with which barstock says that it cannot go on: one family, each with its exit code."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from barstock.reading.faults import Fault, fault_line


class BarstockError(Exception):
    """The base of barstock's errors; its text is for the user. exit_code: of the command line."""

    exit_code = 1


class FaultyError(BarstockError, ValueError):
    """Raised where the build or the workshop has faults; `faults` are all that were found."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        super().__init__("\n".join(fault_line(fault) for fault in faults))
        self.faults = tuple(faults)


class PlanError(BarstockError, ValueError):
    """Raised where this shop cannot make a part of the build; says which, why, and what helps."""


class UnplannableError(ValueError):
    """Raised within planning for what this shop's methods cannot make; says why and what would
    help. part, step: whose, and what was to be done; features: those that it is about; each where
    the one who raised it knows.
    """

    features: tuple[str, ...] = ()

    def __init__(self, why: str, part: str = "", step: str = "") -> None:
        about = ", ".join(filter(None, (f"part {part!r}" * bool(part), step)))
        super().__init__(f"{about}: {why}" if about else why)
        self.why, self.step = why, step


@contextmanager
def concerning(*features: str) -> Iterator[None]:
    """Raise UnplannableError within as one that is about these features, unless it says so."""
    try:
        yield
    except UnplannableError as reason:
        reason.features = reason.features or features
        raise


class WrongUseError(BarstockError, ValueError):
    """Raised where something was asked for that is not there."""

    exit_code = 2


@contextmanager
def asked_for() -> Iterator[None]:
    """Raise what cannot be worked out or looked up within as WrongUseError in its own words."""
    try:
        yield
    except BarstockError:
        raise
    except (ValueError, LookupError, ArithmeticError) as wrong:
        raise WrongUseError("; ".join(str(told) for told in wrong.args if told)) from wrong
