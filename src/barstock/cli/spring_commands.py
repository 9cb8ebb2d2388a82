"""The command of springs asks the library and prints. No trade in here."""

from __future__ import annotations

import json
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from barstock.api import spring_choices
from barstock.cli.answering import answering
from barstock.errors import WrongUseError

if TYPE_CHECKING:
    from barstock.mechanism.springs.springs_of_build import Fitted

app = typer.Typer()


class Kind(StrEnum):
    """The kinds of spring, by how one is loaded."""

    COMPRESSION = "compression"
    EXTENSION = "extension"
    TORSION = "torsion"


class Ends(StrEnum):
    """The forms that the ends of a compression spring have."""

    GROUND = "closed and ground"
    CLOSED = "closed"
    OPEN = "open"


@app.command()
@answering
def spring(
    folder: Annotated[
        Path | None, typer.Argument(help="A build's folder; none: by options.", metavar="DIR")
    ] = None,
    name: Annotated[str | None, typer.Argument(help="One of its springs.")] = None,
    kind: Annotated[Kind, typer.Option(help="How it is loaded.")] = Kind.COMPRESSION,
    load: Annotated[str, typer.Option(help="At rest: 30 N, 6 lbf.")] = "",
    deflection: Annotated[str, typer.Option(help="By which the load shortens it [mm].")] = "",
    rate: Annotated[str, typer.Option(help="Instead: 4.5 N/mm.")] = "",
    at_length: Annotated[str, typer.Option(help="Its length under the load.")] = "",
    travel: Annotated[
        str, typer.Option(help="From rest to full bump; of a torsion spring [°].")
    ] = "",
    hollow: Annotated[
        list[str] | None, typer.Option(help="Diameter and depth: 6x10; once for each end.")
    ] = None,
    rod: Annotated[str, typer.Option(help="Diameter of a rod inside it.")] = "",
    ends: Annotated[Ends, typer.Option(help="Of a compression spring.")] = Ends.GROUND,
    wire: Annotated[str, typer.Option(help="SH, DM, stainless, music wire, …")] = "SH",
    moment: Annotated[str, typer.Option(help="Of a torsion spring: 120 N mm.")] = "",
    at_angle: Annotated[str, typer.Option(help="By which the moment winds it [°].")] = "",
    shown: Annotated[int, typer.Option(help="Choices told.", min=1)] = 5,
    trial: Annotated[
        str | None, typer.Option(help="Your trial coil: MANDREL:OUTSIDE[:FEED:LENGTH], in mm.")
    ] = None,
    measured: Annotated[
        str | None,
        typer.Option(help="Match springs to places: the load of each at one length, 12.1 11.8 …"),
    ] = None,
    each: Annotated[int, typer.Option(help="Springs at each place.", min=1)] = 1,
    chart: Annotated[Path | None, typer.Option(help="Draw the choices there, as SVG.")] = None,
    as_json: Annotated[bool, typer.Option("--json", help="As plain data.")] = False,
) -> int:
    """Choose, wind and match springs.

    Every spring of a wire commonly sold that would do, the best first; the taken one in full, with
    its winding sheet. Of a build's folder, or by what the options say.
    """
    if measured is not None:
        return _match(measured, folder, name, each, as_json=as_json)
    coil = spring_choices.trial(trial) if trial else None
    if folder is not None:
        found = spring_choices.springs(folder, name)
    else:
        given = {
            "kind": kind, "load": load, "rest deflection": deflection, "rate": rate,
            "at length": at_length, "travel": travel, "rod": rod, "ends": ends, "wire": wire,
            "moment": moment, "at angle": at_angle,
        }  # fmt: skip
        found = {"spring": spring_choices.spring(given, hollow or ())}
    if chart is not None:
        _draw(found, chart)
    from barstock.mechanism.springs.spring_words import record, spring_lines

    if as_json:
        data = [record(one, coil) for one in found.values()]
        typer.echo(json.dumps(data, indent=1, ensure_ascii=False))
    else:
        for one in found.values():
            typer.echo("\n".join(spring_lines(one, coil, shown)))
    return 0 if all(one.taken and one.taken.will_do for one in found.values()) else 1


def _match(
    measured: str, folder: Path | None, name: str | None, each: int, *, as_json: bool
) -> int:
    from dataclasses import asdict

    from barstock.mechanism.springs.spring_words import matched_lines

    found = spring_choices.match(measured, folder, name, each)
    if as_json:
        typer.echo(json.dumps(asdict(found), indent=1))
    else:
        typer.echo("\n".join(matched_lines(found)))
    return 0


def _draw(found: dict[str, Fitted], path: Path) -> None:
    from barstock.mechanism.springs.spring_chart import chart as drawn
    from barstock.store.whole_files import write_whole

    if len(found) > 1:
        raise WrongUseError(f"one spring to a chart; name it: {', '.join(found)}")
    (one,) = found.values()
    write_whole(path, drawn(one).encode())
