"""The commands of the bench: its pages, its log, what the log teaches. No trade in here."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from barstock import api
from barstock.api import movement
from barstock.cli.answering import answering
from barstock.errors import WrongUseError

if TYPE_CHECKING:
    from barstock.bench.log import Log

app = typer.Typer()

Dir = Annotated[Path, typer.Argument(help="The build's folder.", metavar="DIR")]
LogUrl = Annotated[
    str | None,
    typer.Option("--log", help="postgresql://… of a shared log; a file in DIR without it."),
]


def _log(folder: Path, url: str | None) -> Log:
    from barstock.bench.log import build_log

    return build_log(folder, url, _name(folder) if url else "")


def _name(folder: Path) -> str:
    """The name of the build as planned, so that a slip in its file does not hide the log."""
    try:
        return api.route(folder).build
    except WrongUseError:
        return api.readable(folder)[0].name


@app.command()
@answering
def bench(
    folder: Dir,
    port: Annotated[int, typer.Option(help="Where it listens.", min=1, max=65535)] = 7319,
    browser: Annotated[bool, typer.Option(help="Open the browser.")] = True,
    lan: Annotated[bool, typer.Option("--lan", help="For paired tablets and phones too.")] = False,
    log: LogUrl = None,
) -> None:
    """Show the plan at the bench and keep the log.

    Pages for a tablet or phone beside the machine; only this computer sees them without --lan.
    """
    from barstock.pack.route_file import route_path
    from barstock.web.app import ProgramFunctions
    from barstock.web.server import Serving, serve

    if not route_path(folder).is_file():
        typer.echo("planning first")
        api.plan(folder)
    program = ProgramFunctions(api.plan, api.look_over, movement.write_moving)
    serve(folder, _log(folder, log), program, Serving(port, lan, browser))


@app.command(name="log")
@answering
def history(
    folder: Dir,
    csv: Annotated[Path | None, typer.Option(help="Write the history there as CSV.")] = None,
    json: Annotated[Path | None, typer.Option(help="Write the history there as JSON.")] = None,
    bring_in: Annotated[
        Path | None, typer.Option(help="Add the lines of a history that are not here yet.")
    ] = None,
    done: Annotated[
        Path | None, typer.Option(help="Write there what is done, for 'plan --done'.")
    ] = None,
    as_made: Annotated[
        Path | None, typer.Option(help="Write there the sizes measured, for 'move --as-made'.")
    ] = None,
    url: LogUrl = None,
) -> None:
    """Take the bench log out, or bring one in.

    Without an option it is printed, the newest line last.
    """
    from barstock.bench.handing_on import as_made_text, standing, standing_text
    from barstock.bench.history import from_text, to_csv, to_json
    from barstock.bench.work import work_of
    from barstock.store.whole_files import write_whole
    from barstock.web.page_words import day, entry_words

    log = _log(folder, url)
    if bring_in is not None:
        if not bring_in.is_file():
            raise WrongUseError(f"there is no file {bring_in}")
        typer.echo(f"{log.bring_in(from_text(bring_in.read_text('utf-8')))} lines were new")
    lines = log.read()
    work = work_of(lines)
    texts: dict[Path | None, Callable[[], str]] = {
        csv: lambda: to_csv(lines),
        json: lambda: to_json(_name(folder), lines),
        done: lambda: standing_text(standing(work, api.route(folder))),
        as_made: lambda: as_made_text(work),
    }
    for path, text in texts.items():
        if path is not None:
            write_whole(path, text().encode())
            typer.echo(f"wrote {path}")
    if not any((bring_in, csv, json, done, as_made)):
        for line in lines:
            typer.echo(
                f"{day(line.at)}  {entry_words(line)}" + f"  ({line.device})" * bool(line.device)
            )


@app.command()
@answering
def learn(
    folder: Dir,
    write: Annotated[
        bool, typer.Option("--write", help="Put the figures into workshop.yaml.")
    ] = False,
    log: LogUrl = None,
) -> None:
    """Correct the shop's times by those clocked.

    Shows each figure before and after; --write changes workshop.yaml and nothing else in it.
    """
    from barstock.bench.learning import learn as lessons
    from barstock.bench.shop_times import write_times
    from barstock.bench.work import work_of

    _, workshop, _ = api.readable(folder)
    found = lessons(work_of(_log(folder, log).read()).timings, workshop.times)
    if not found:
        typer.echo("nothing was clocked yet: start the clock on a setup's page")
    for one in found:
        typer.echo(
            f"{one.sort}: {one.count} clocked, {one.spent:.0f} minutes where the plan had "
            f"{one.planned:.0f}; its figures times {one.ratio:.2f}"
        )
        for name, (before, after) in one.figures.items():
            typer.echo(f"  {name}: {before:g} -> {after:g}")
    if found and write:
        path = api.workshop_file(folder)
        write_times(path, found)
        typer.echo(f"wrote {path}")
    elif found:
        typer.echo("nothing is changed; --write puts them into workshop.yaml")
