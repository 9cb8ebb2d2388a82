"""The command line reads what is asked, calls the library, and prints the answer. No trade in here.

Exit codes: 0 good, 1 faults found or proof failed, 2 wrong use, 130 stopped from the keyboard.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Collection, Iterator
from dataclasses import asdict
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from barstock import api
from barstock.cli import (
    bench_commands,
    comparison,
    hearth_commands,
    movement_commands,
    spring_commands,
    sum_commands,
)
from barstock.cli.answering import (
    STOPPED,
    Commands,
    answering,
    progress,
    say,
    say_left_out,
)

if TYPE_CHECKING:
    from barstock.proving.proof_record import Proof
    from barstock.route import Left, Summary

app = typer.Typer(
    cls=Commands,
    help="From a published drawing to a proven order of work and a printed pack for the bench.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

Dir = Annotated[Path, typer.Argument(help="The build's folder.", metavar="DIR")]


class Paper(StrEnum):
    """The paper that the pack is printed on."""

    A4 = "a4"
    LETTER = "letter"


class FileKind(StrEnum):
    """The files that a person writes."""

    BUILD = "build"
    WORKSHOP = "workshop"


@app.command()
@answering
def new(folder: Dir) -> None:
    """Write a commented example to start from.

    It is a build.yaml and a workshop.yaml, and plans as it stands.
    """
    for path in api.new(folder):
        typer.echo(f"wrote {path}")
    typer.echo(f"now: barstock plan {folder}")


@app.command()
@answering
def check(
    folder: Dir,
    as_json: Annotated[bool, typer.Option("--json", help="For editors.")] = False,
) -> int:
    """Say what is wrong or still lacking.

    Every fault of the build and its workshop, with file, line and column, and how to mend it.
    """
    faults = api.check(folder)
    errors = sum(fault.grade == "error" for fault in faults)
    if as_json:
        listed = [
            {**asdict(fault.place), **{k: v for k, v in asdict(fault).items() if k != "place"}}
            for fault in faults
        ]
        typer.echo(json.dumps({"errors": errors, "faults": listed}, indent=1, ensure_ascii=False))
    else:
        from barstock.reading.faults import fault_line

        for fault in faults:
            typer.echo(fault_line(fault))
        others = len(faults) - errors
        typer.echo(f"{errors} error{'s' * (errors != 1)}, {others} to look at")
    return 1 if errors else 0


@app.command()
@answering
def schema(
    of: Annotated[FileKind, typer.Argument(help="Which file.")] = FileKind.BUILD,
) -> None:
    """Print the JSON Schema of a file, for editors."""
    typer.echo(json.dumps(api.schema(of), indent=1, ensure_ascii=False))


@app.command()
@answering
def draw(
    folder: Dir,
    part: Annotated[str | None, typer.Argument(help="One part; all without it.")] = None,
    paper: Annotated[Paper, typer.Option(help="The sheet.")] = Paper.A4,
) -> None:
    """Draw the parts into DIR/drawings/.

    SVG, DXF and PDF of each, with its STEP beside.
    """
    for path in api.draw(folder, part, paper=paper, left_out=say_left_out):
        typer.echo(path)


@app.command()
@answering
def plan(
    folder: Dir,
    paper: Annotated[Paper, typer.Option(help="What the pack is printed on.")] = Paper.A4,
    pictures: Annotated[bool, typer.Option(help="Draw the work in every setup.")] = True,
    done: Annotated[
        Path | None,
        typer.Option(help="What is done and spoiled, a small file; the rest is planned anew."),
    ] = None,
    bench_address: Annotated[
        str, typer.Option(help="Of the bench pages, for marks that open them: http://…:7319.")
    ] = "",
    strict: Annotated[
        bool, typer.Option("--strict", help="End with 1 where anything is left or faulty.")
    ] = False,
) -> int:
    """Plan, prove, and write the pack into DIR/out/.

    What finds no way that the proof passes is left to you: the pack says what, and why. DIR/out/ is
    made anew as a whole.
    """
    with progress() as tell:
        made = api.plan(
            folder,
            paper=paper,
            pictures=pictures,
            done=done,
            bench_address=bench_address,
            progress=tell,
        )
    from barstock.quantities import counted, show
    from barstock.reading.faults import fault_line
    from barstock.words.left_to_you import left_lines, open_still, ordered
    from barstock.words.shopping import screw_size
    from barstock.words.summary import told_summary

    summary = made.route.summary
    wrong = [fault for fault in made.faults if fault.grade == "error"]
    for fault in wrong:
        say(fault_line(fault))
    parts = counted(len(made.build.parts), "part")
    pieces = counted(sum(part.copies for part in made.build.parts), "piece")
    typer.echo(f"{made.build.name}: {parts}, {pieces}")
    typer.echo(f"{counted(len(made.route.setups), 'setup')}, about {summary.hours:.1f} hours")
    told = told_summary(summary, made.build, made.workshop.unit)
    against = _beside_other_orders(summary) if made.route.setups else ()
    for line in (*against, *told.notes, *_pins(summary)):
        typer.echo(line)
    for thing in (*told.buy, *ordered(made.build)):
        typer.echo(f"to buy: {thing}")
    for screw in summary.shorten:
        size = screw_size(screw.thread, screw.stock)
        cut_to = show(screw.cut_to, made.workshop.unit)
        typer.echo(f"saw {screw.count} {screw.material} screws {size} to {cut_to}")
    _print_proof(made.proof, made.left)
    for line in left_lines(made.left, made.build):
        typer.echo(line)
    typer.echo(f"the pack: {made.folder / 'pack.pdf'} and {made.folder / 'pack.html'}")
    return 1 if strict and (wrong or open_still(made.left)) else 0


@app.command()
@answering
def why(
    folder: Dir,
    operation: Annotated[
        str, typer.Argument(help="Its name in the route, or a piece of it.", metavar="OPERATION")
    ],
    as_json: Annotated[bool, typer.Option("--json", help="For other programs.")] = False,
) -> None:
    """Say why an operation stands where it does.

    What must come before it, what its place saves, and what it would cost elsewhere. Of a part or a
    feature that is left to you: what was tried, and how it was refused.
    """
    from barstock.route import Left
    from barstock.words.explained import explained, printed
    from barstock.words.left_to_you import why_left
    from barstock.words.reader import Reader

    found = api.why(folder, operation)
    if isinstance(found, Left):
        typer.echo(found.model_dump_json(indent=1) if as_json else "\n".join(why_left(found)))
        return
    told = explained(found, Reader(found.unit))
    typer.echo(json.dumps(asdict(told), indent=1, ensure_ascii=False) if as_json else printed(told))


@app.command()
@answering
def prove(
    folder: Dir,
    route: Annotated[
        Path | None, typer.Option(help="A route file; DIR/out/route.json without it.")
    ] = None,
) -> int:
    """Cut the bar by a route's numbers and compare.

    Names the operation and the place of whatever is not as drawn, or not safely held.
    """
    with progress() as tell:
        proof = api.prove(folder, route, progress=tell)
    _print_proof(proof, api.route(folder, route).left)
    return 0 if proof.ok else 1


@app.command()
@answering
def look(
    words: Annotated[list[str], typer.Argument(help="M3, No 43, 8 H7, brass, …", metavar="WORD")],
    inch: Annotated[bool, typer.Option("--inch", help="Sizes in inches.")] = False,
    as_json: Annotated[bool, typer.Option("--json", help="For other programs.")] = False,
) -> None:
    """Look a word up in the handbook.

    Threads, drills, fits, materials, screw heads, nuts, tapers, keys, circlips, O-rings, bearings,
    dividing and more, with the source of every figure.
    """
    from barstock.handbook.answer import printed

    found = api.look(" ".join(words), inch=inch)
    data = [{**asdict(each), "rows": dict(each.rows)} for each in found]
    typer.echo(json.dumps(data, indent=1, ensure_ascii=False) if as_json else printed(found))


def _beside_other_orders(summary: Summary) -> Iterator[str]:
    """The hours beside those of plain orders and of the least possible."""
    for words, other in (
        ("piece by piece", summary.one_part_at_a_time_hours),
        ("tool by tool", summary.one_tool_at_a_time_hours),
    ):
        saves = other - summary.hours
        if other:
            held_against = "as quick as this order"
            if abs(saves) >= 0.05:
                held_against = f"this order {'saves' if saves > 0 else 'loses'} {abs(saves):.1f}"
            yield f"{words}: {other:.1f} hours; {held_against}"
    if summary.optimal:
        yield "no order of these ways of working can be quicker"
    elif summary.bound_hours:
        gap = (summary.hours - summary.bound_hours) / summary.hours
        yield f"no order can take less than {summary.bound_hours:.1f} hours (gap {gap:.1%})"


def _pins(summary: Summary) -> Iterator[str]:
    """What the user's own choices cost."""
    from barstock.words.reasons import choice

    for pin in summary.pins:
        yield f"pinned: {choice(pin)}: costs {pin.minutes:.0f} minutes"


def _print_proof(proof: Proof, left: Collection[Left]) -> None:
    from barstock.quantities import Length, told_in

    less = {one.part for one in left}
    for part in proof.parts:
        with told_in(part.unit):
            for violation in part.violations:
                say(f"{violation.severity}: {violation}")
    for part in (one for one in proof.parts if not one.taken):
        good = "as drawn" if part.ok else "NOT as drawn"
        good += ", but for what is left" if part.part in less else ""
        with told_in(part.unit):
            typer.echo(f"{part.part}: {good}, worst deviation {Length(part.deviation):.3f}")


app.add_typer(sum_commands.app)
app.add_typer(spring_commands.app)
app.add_typer(movement_commands.app)
app.add_typer(hearth_commands.app)
app.add_typer(comparison.app)
app.add_typer(bench_commands.app)


def run() -> None:
    """Run the program with what was typed."""
    try:
        app(prog_name="barstock")
    except SystemExit as end:
        if end.code == STOPPED:
            # Where Ctrl-C came while a library was being loaded, Python would still end by the
            # signal, though all has been said and put away.
            sys.stdout.flush()
            sys.stderr.flush()
            os._exit(STOPPED)
        raise
