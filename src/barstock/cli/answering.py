"""Every command answers alike: what went wrong becomes words on the screen and an exit code."""

from __future__ import annotations

import functools
import os
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, ParamSpec

import typer
from typer.core import TyperGroup

from barstock.errors import BarstockError

if TYPE_CHECKING:
    from barstock.reading.faults import Fault

P = ParamSpec("P")


class Commands(TyperGroup):
    """The group of commands, which says faults of use in our own words."""

    def invoke(self, ctx: Any) -> Any:
        """Call the command that was typed."""
        try:
            return super().invoke(ctx)
        except typer.BadParameter as wrong:
            from barstock.reading.fields import in_words

            wrong.message = in_words(wrong.message)
            raise


STOPPED = 130
STOPPED_WORDS = "stopped; no output was changed"
TRACE = "BARSTOCK_TRACE"


def answering(command: Callable[P, int | None]) -> Callable[P, None]:
    """Turn what goes wrong within into words and an exit code, in this one place."""

    @functools.wraps(command)
    def answer(*args: P.args, **kwargs: P.kwargs) -> None:
        try:
            code = command(*args, **kwargs) or 0
        except BarstockError as wrong:
            say(str(wrong))
            code = wrong.exit_code
        except KeyboardInterrupt:
            say(STOPPED_WORDS)
            code = STOPPED
        except OSError as wrong:
            say(f"{wrong.filename}: {wrong.strerror}" if wrong.strerror else str(wrong))
            code = 1
        except Exception as wrong:
            if _from_keyboard(wrong):
                say(STOPPED_WORDS)
                raise typer.Exit(STOPPED) from wrong
            if os.environ.get(TRACE):
                raise
            say(
                f"this is a mistake in barstock itself, please report it: {type(wrong).__name__}: "
                f"{wrong}\n(set {TRACE}=1 to see where)"
            )
            code = 1
        raise typer.Exit(code)

    return answer


def _from_keyboard(wrong: BaseException | None) -> bool:
    """Did Ctrl-C begin the error? A library that was just being loaded makes another of it."""
    while wrong is not None and not isinstance(wrong, KeyboardInterrupt):
        wrong = wrong.__cause__ or wrong.__context__
    return wrong is not None


def say_left_out(faults: Iterable[Fault]) -> None:
    """Say which faults something was left out for."""
    from barstock.reading.faults import fault_line

    for fault in faults:
        say(f"left out for this: {fault_line(fault)}")


def say(words: str) -> None:
    """Print words beside the answer proper."""
    typer.echo(words, err=True)


@contextmanager
def progress() -> Iterator[Callable[[str, float], None]]:
    """A bar on the screen while something long is done; nothing where there is no screen."""
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    columns = (TextColumn("{task.description:<32.32}"), BarColumn(), TimeElapsedColumn())
    console = Console(stderr=True)
    hidden = not console.is_terminal
    with Progress(*columns, console=console, transient=True, disable=hidden) as bar:
        task = bar.add_task("", total=1.0)
        yield lambda words, share: bar.update(task, description=words, completed=share)
