"""The commands of what moves ask the library and print. No trade in here."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from barstock.api import movement
from barstock.cli.answering import answering, progress, say_left_out

app = typer.Typer()

Dir = Annotated[Path, typer.Argument(help="The build's folder.", metavar="DIR")]
AsJson = Annotated[bool, typer.Option("--json", help="As plain data.")]
Seed = Annotated[int, typer.Option(help="Of the dice: the same seed, the same throws.")]


@app.command()
@answering
def move(
    folder: Dir,
    as_made: Annotated[
        Path | None, typer.Option(help="Sizes measured: a file of them, or what the log hands on.")
    ] = None,
    samples: Annotated[
        int, typer.Option(min=100, max=1_000_000, help="Assemblies thrown for each motion asked.")
    ] = 20_000,
    seed: Seed = 1,
    out: Annotated[
        Path | None, typer.Option(help="Where the page goes; DIR/moving/ without it.")
    ] = None,
    as_json: AsJson = False,
) -> int:
    """Say whether the mechanism will move.

    How far each block goes in its guide before it touches, what the track asks, what matters most;
    the ride; and with sizes as made, whether this set will move and what goes where.
    """
    from barstock.mechanism.guides.guide_words import (
        CAUTION,
        guide_lines,
        made_lines,
        made_record,
        record,
    )
    from barstock.mechanism.ride_words import record as ride_record
    from barstock.mechanism.ride_words import ride_lines

    with progress() as tell:
        found = movement.move(
            folder,
            as_made=as_made,
            samples=samples,
            seed=seed,
            progress=tell,
            left_out=say_left_out,
        )
    if as_json:
        data = {
            "goes": found.goes,
            "guides": [record(one) for one in found.guides.values()],
            "ride": ride_record(found.ride) if found.ride else None,
            "as made": {name: made_record(one) for name, one in found.made.items()},
            "caution": CAUTION,
        }
        typer.echo(json.dumps(data, indent=1, ensure_ascii=False))
    else:
        for judged in found.guides.values():
            typer.echo("\n".join(guide_lines(judged)))
        for name, made in found.made.items():
            typer.echo("\n".join(made_lines(name, made)))
        typer.echo("\n".join(ride_lines(found.ride)) if found.ride else CAUTION)
    if out is not None or not as_json:
        page, *_ = movement.write_moved(found, out)
        typer.echo(f"the page: {page}", err=as_json)
    return 0 if found.goes else 1


@app.command()
@answering
def study(
    folder: Dir,
    sweeps: Annotated[
        list[str],
        typer.Argument(help="Sizes and ranges: 'axlebox/guide slots/lean=0.5..3'", metavar="SWEEP"),
    ],
    guide: Annotated[str | None, typer.Option(help="Which, where there are several.")] = None,
    points: Annotated[int, typer.Option(min=2, help="Over each range.")] = 9,
    samples: Annotated[
        int, typer.Option(min=100, max=1_000_000, help="Assemblies thrown at every point.")
    ] = 2000,
    seed: Seed = 1,
    scheduler: Annotated[
        str | None,
        typer.Option(help="Address of a Dask scheduler; this machine's cores without it."),
    ] = None,
    chart: Annotated[
        Path | None, typer.Option(help="Draw each motion into this folder, as SVG.")
    ] = None,
    as_json: AsJson = False,
) -> int:
    """Sweep sizes of a guide to find a robust design.

    Any size of its parts, or where they stand, over a range; at every point many assemblies, and
    what share of them does what is asked.
    """
    from barstock.mechanism.guides.guide_words import study_lines, study_record

    wanted = [movement.sweep(text, points) for text in sweeps]
    with progress() as tell:
        found = movement.study(
            folder,
            wanted,
            guide=guide,
            samples=samples,
            seed=seed,
            scheduler=scheduler,
            progress=tell,
        )
    if as_json:
        typer.echo(json.dumps(study_record(found), indent=1, ensure_ascii=False))
    else:
        typer.echo("\n".join(study_lines(found)))
    if chart is not None:
        for path in movement.write_study(found, chart):
            typer.echo(f"wrote {path}", err=as_json)
    return 0 if found.best.fails < 1 else 1
