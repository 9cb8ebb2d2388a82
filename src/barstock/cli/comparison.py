"""The command that compares two ways of making a thing. No trade in here."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from barstock import api
from barstock.cli.answering import answering

app = typer.Typer()


@app.command()
@answering
def compare(
    folder: Annotated[Path, typer.Argument(help="The build's folder.", metavar="DIR")],
    part: Annotated[str, typer.Argument(help="The fabrication.", metavar="PART")],
    as_json: Annotated[bool, typer.Option("--json", help="As plain data.")] = False,
) -> None:
    """Compare a fabrication with the same thing cut from the solid.

    Material, chips, hours and heats of both, each by a route of its own that is proved.
    """
    from barstock.pack.built_or_solid import as_record, lines

    found = api.compare(folder, part)
    if as_json:
        typer.echo(json.dumps(as_record(found), indent=1, ensure_ascii=False))
        return
    for line in lines(found):
        typer.echo(line)
