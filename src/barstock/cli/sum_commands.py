"""The commands of chains, fits and bench sums ask the library and print. No trade in here."""

from __future__ import annotations

import json
from dataclasses import asdict
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from barstock import api
from barstock.api import sums
from barstock.cli.answering import answering, say_left_out
from barstock.quantities import Unit

if TYPE_CHECKING:
    from barstock.measuring.stacks import Stack

app = typer.Typer()
SIGNED = {"ignore_unknown_options": True}  # so that -3.2 is a number

Dir = Annotated[Path, typer.Argument(help="The build's folder.", metavar="DIR")]
AsJson = Annotated[bool, typer.Option("--json", help="As plain data.")]
Set = Annotated[str, typer.Option("--set", help="Of gauge blocks: 112 piece, 81 inch, …")]
Owned = Annotated[
    Path | None,
    typer.Option("--shop", help="Instead: the blocks that a build's workshop owns.", metavar="DIR"),
]
Bar = Annotated[str, typer.Option(help="Distance of the sine bar's rollers.")]


class Sort(StrEnum):
    """The ways a dimension answers to feed."""

    INSIDE = "inside"
    ONE_WALL = "one wall"
    OUTSIDE = "outside"
    BOTH_ENDS = "both ends"
    DEPTH = "depth"
    POSITION = "position"
    DIAMETER = "diameter"
    TURNED = "turned"
    BEVEL = "bevel"
    COUNTERSINK = "countersink"


def _print(data: Any) -> None:
    typer.echo(json.dumps(data, indent=1, ensure_ascii=False))


@app.command()
@answering
def limits(folder: Dir, as_json: AsJson = False) -> int:
    """Say whether the plan's readings hold the limits.

    For every dimension that readings make: the worst case by the plan's zeros, stops and readings,
    what is missing and the cheapest cure, and how far each reading may be out. For one that a tool
    or a setting gives by itself: what that leaves.
    """
    from barstock.words.limits_held import limit_lines, records

    found, tools = api.limits(folder)
    if as_json:
        _print(records(found, tools))
    else:
        typer.echo("\n".join(limit_lines(found, tools)))
    return (
        0
        if all(g.holds or g.cures for g in found) and all(g.holds is not False for g in tools)
        else 1
    )


@app.command()
@answering
def fits(folder: Dir, as_json: AsJson = False) -> int:
    """Say what clearance the build's fits have.

    Worst case and by chance, with paint and plating on the walls.
    """
    from barstock.words.limits_held import fit_lines, fit_records

    found = api.fits(folder, left_out=say_left_out)
    if as_json:
        _print(fit_records(found))
    else:
        typer.echo("\n".join(fit_lines(found)))
    return 0 if all(m.holds for m in found) else 1


@app.command()
@answering
def stack(
    sizes: Annotated[list[str], typer.Argument(help="57.333, 1/2, .3437 in", metavar="SIZE")],
    set_: Set = "112 piece",
    shop: Owned = None,
    together: Annotated[bool, typer.Option("--together", help="All standing at once.")] = False,
    as_json: AsJson = False,
) -> int:
    """Build sizes from gauge blocks, with the fewest."""
    made = api.stack(sizes, set_, together=together, shop=shop)
    unit = api.blocks(set_, shop).unit
    if as_json:
        _print([_stack(one, unit) for one in made])
    else:
        for one in made:
            typer.echo(_stacked(one, unit))
    return 0 if all(one.error == 0 for one in made) else 1


def _stack(one: Stack, unit: Unit) -> dict[str, Any]:
    """Print a size of gauge blocks in the set's own unit."""
    blocks = [round(b / unit.scale, 6) for b in one.blocks]
    size, error = (round(each / unit.scale, 7) for each in (one.size, one.error))
    return {"size": size, "blocks": blocks, "error": error, "unit": unit.value}


def _stacked(one: Stack, unit: Unit) -> str:
    wanted = f"{one.size / unit.scale:.7g} {unit.value}"
    if one.error == 0:
        return f"{wanted}: {_sum(one, unit)}"
    near = [f"{n.made / unit.scale:.7g} = {_sum(n, unit)}" for n in (one.below, one.above) if n]
    return f"{wanted}: this set cannot make it; the nearest are {' and '.join(near)}"


def _sum(one: Stack, unit: Unit) -> str:
    return " + ".join(f"{b / unit.scale:.6g}" for b in one.blocks)


@app.command()
@answering
def sine(
    angle: Annotated[str, typer.Argument(help="1.5, 1°30'", metavar="ANGLE")],
    bar: Bar = "100 mm",
    set_: Set = "112 piece",
    shop: Owned = None,
    height: Annotated[
        str | None, typer.Option("--stack", help="Instead: what this height gives.")
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Set a sine bar to an angle.

    The stack under one roller, the angle it gives, and by how much that is out.
    """
    if height is not None:
        found = api.sine_of(angle, height, bar)
    else:
        found = api.sine(angle, bar, set_, shop=shop)
    if as_json:
        figures = {"angle": found.angle, "made": found.made, "seconds out": found.error}
        _print({**figures, "blocks": list(found.stack.blocks)})
        return
    unit = Unit.MM if height is not None else api.blocks(set_, shop).unit
    tall = f"{found.stack.made / unit.scale:.4f} {unit.value}"
    typer.echo(f"blocks {tall} = {_sum(found.stack, unit)}")
    typer.echo(
        f"angle {found.made:.5f}°, {found.error:+.1f} seconds from the {found.angle:g}° wanted"
    )


@app.command(context_settings=SIGNED)
@answering
def close(
    want: Annotated[str, typer.Argument(help='With limits: "8.0 +0.05/0".', metavar="SIZE")],
    cuts: Annotated[
        list[str],
        typer.Argument(
            help="READING:MEASURED of each cut so far, with an s behind where it was taken again "
            "without feed: 0:7.8 0.055:7.905 0.055:7.91s",
            metavar="CUT",
        ),
    ],
    of: Annotated[Sort, typer.Option(help="What is cut.")] = Sort.INSIDE,
    down: Annotated[bool, typer.Option("--down", help="Feed makes readings smaller.")] = False,
    readout: Annotated[str, typer.Option(help="The readout's step; 0.005 mm without.")] = "",
    per_turn: Annotated[str, typer.Option(help="Instead: of a handwheel.")] = "",
    divisions: Annotated[int, typer.Option(help="On its dial.")] = 0,
    tilt: Annotated[float, typer.Option(help="Of the work [degrees].")] = 0.0,
    half: Annotated[bool, typer.Option("--half", help="The drawing gives half.")] = False,
    angle: Annotated[float, typer.Option(help="Of a countersink [degrees].")] = 90.0,
    as_json: AsJson = False,
) -> None:
    """Say the next cut towards a size.

    From what was measured after each cut: feed, when to stop roughing, when to take the same cut
    again, and at last the reading for the other copies. Bare figures are in the size's own unit.
    """
    advice = api.close(
        want,
        cuts,
        of,
        sums.axis(want, readout, per_turn, divisions),
        toward=-1 if down else 1,
        tilt=tilt,
        half=half,
        angle=angle,
    )
    if as_json:
        _print(asdict(advice))
    else:
        typer.echo(advice.words)


@app.command(context_settings=SIGNED)
@answering
def gauge(
    way: Annotated[str | None, typer.Argument(help="The way; all without it.")] = None,
    given: Annotated[
        list[str] | None, typer.Argument(help="What it needs: pin=6 lean=1.5", metavar="NAME=SIZE")
    ] = None,
    dimension: Annotated[str | None, typer.Option(help="Wanted, with limits if any.")] = None,
    reading: Annotated[str | None, typer.Option(help="Instead: what was read.")] = None,
    as_json: AsJson = False,
) -> None:
    """Measure by pins, balls, rollers or wires.

    What to read for a dimension, or the dimension of a reading, and how errors grow between them.
    """
    if way is None:
        ways = api.gauge_ways()
        if as_json:
            _print(ways)
            return
        for name, needs in ways.items():
            typer.echo(f"{name}: {', '.join(needs)}")
        return
    pairs = dict(part.partition("=")[::2] for part in given or [])
    found = api.gauge(way, pairs, dimension=dimension, reading=reading)
    if as_json:
        _print(asdict(found))
        return
    unit, scale = found.unit, 1.0 if found.angular else found.unit.scale
    read, low, high = (f"{mm / unit.scale:.4f}" for mm in (found.reading, found.low, found.high))
    made = f"{found.dimension / scale:.4f}" + "°" * found.angular
    typer.echo(f"read {read} {unit.value} for {made}")
    if found.low < found.high:
        typer.echo(f"within limits from {low} to {high} {unit.value}")
    step = 0.01 if unit is Unit.MM else 0.001
    grows = f"{abs(found.sensitivity) * step * unit.scale / scale:.4f}" + "°" * found.angular
    typer.echo(f"{step:g} {unit.value} in the reading is {grows} in the dimension")
