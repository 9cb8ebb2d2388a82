"""The commands of silver soldering's small sums ask the library and print."""

from __future__ import annotations

import json
from dataclasses import asdict
from math import hypot
from typing import TYPE_CHECKING, Annotated

import typer

from barstock.api import soldering
from barstock.cli.answering import answering

if TYPE_CHECKING:
    from barstock.fabricating.joining_findings import Finding

app = typer.Typer()

AsJson = Annotated[bool, typer.Option("--json", help="As plain data.")]


@app.command()
@answering
def screw(
    thread: Annotated[str, typer.Argument(help="M3, 6 BA, …", metavar="THREAD")],
    grip: Annotated[str, typer.Argument(help="From under its head to the thread: 12 ±0.1.")],
    deep: Annotated[str, typer.Argument(help="Full thread, or the thickness if through.")],
    into: Annotated[str, typer.Option(help="Material that is tapped.")] = "mild steel",
    through: Annotated[bool, typer.Option("--through", help="The hole goes through.")] = False,
    out: Annotated[str, typer.Option(help="How far it may stand out behind.")] = "0",
    own: Annotated[list[str] | None, typer.Option(help="A length on hand; once for each.")] = None,
    as_json: AsJson = False,
) -> int:
    """Say how long a fixing screw must be.

    In far enough, not bottoming, not proud: the length to take, and what to saw off.
    """
    found = soldering.screw(thread, grip, into, deep, through=through, out=out, owned=own or ())
    if as_json:
        typer.echo(json.dumps(asdict(found) | {"saw_off": found.saw_off}, indent=1))
        return _code(found.findings)
    if found.most >= found.least:
        typer.echo(f"{found.least:.1f} to {found.most:.1f} mm will do")
    if found.stock:
        cut = f", sawn to {found.cut_to:g} mm" if found.saw_off else ""
        buy = " (to buy)" if found.to_buy else ""
        typer.echo(f"take {thread} x {found.stock:g} mm{buy}{cut}")
        typer.echo(f"it holds by {found.engaged:.1f} mm of thread, {found.wanted:.1f} wanted")
    _print_findings(found.findings)
    return _code(found.findings)


def _print_findings(findings: tuple[Finding, ...]) -> None:
    for finding in findings:
        typer.echo(f"{'error' if finding.stops else 'warning'}: {finding.what}; {finding.mend}")


def _code(findings: tuple[Finding, ...]) -> int:
    return 1 if any(finding.stops for finding in findings) else 0


@app.command()
@answering
def filler(
    line: Annotated[str, typer.Argument(help="Length of the edge it is fed along.")],
    depth: Annotated[str, typer.Argument(help="How far it runs in.")],
    gap: Annotated[str, typer.Argument(help="Between the faces: 0.1, 0.05 to 0.12.")],
    fillet: Annotated[str, typer.Option(help="Leg of the fillet left.")] = "0",
    alloy: Annotated[str, typer.Option(help="By ISO 17672.")] = "Ag 155",
    rod: Annotated[str, typer.Option(help="Its diameter.")] = "1.5 mm",
    as_json: AsJson = False,
) -> int:
    """Say how much rod a soldered joint takes, and whether the alloy fills its gap."""
    found = soldering.filler(line, depth, gap, fillet=fillet, alloy=alloy, rod=rod)
    wrong = soldering.filled(gap, alloy)
    if as_json:
        figures = asdict(found) | {"findings": [str(finding) for finding in wrong]}
        typer.echo(json.dumps(figures, indent=1, ensure_ascii=False))
        return _code(wrong)
    typer.echo(f"gap {found.gap:.1f} mm³, fillet {found.fillet:.1f} mm³")
    typer.echo(f"{found.length:g} mm of {found.rod:g} mm {found.alloy} rod, a third of it to spare")
    _print_findings(wrong)
    return _code(wrong)


@app.command()
@answering
def gap(
    outside: Annotated[str, typer.Argument(help='Hole or slot: "20.2 +0.05/0".')],
    inside: Annotated[str, typer.Argument(help='What goes in: "20 +0/-0.02".')],
    alloy: Annotated[str, typer.Option(help="By ISO 17672.")] = "Ag 155",
    metals: Annotated[
        tuple[str, str] | None, typer.Option(help="Of hole and spigot, if they differ.")
    ] = None,
    heat: Annotated[float, typer.Option(help="Working temperature [°C].")] = 680.0,
    as_json: AsJson = False,
) -> int:
    """Say what gap a spigot leaves for filler.

    On each side, worst case by the limits, cold and at heat, against what the alloy can fill.
    """
    found, wrong = soldering.gap(outside, inside, alloy=alloy, metals=metals, heat=heat)
    if as_json:
        named = ("least", "most", "least_hot", "most_hot")
        figures: dict[str, object] = {name: getattr(found, name) for name in named}
        figures["findings"] = [str(finding) for finding in wrong]
        typer.echo(json.dumps(figures, indent=1, ensure_ascii=False))
        return _code(wrong)
    typer.echo(f"{found.least:.3f} to {found.most:.3f} mm cold on each side")
    typer.echo(f"{found.least_hot:.3f} to {found.most_hot:.3f} mm at heat")
    _print_findings(wrong)
    return _code(wrong)


@app.command()
@answering
def growth(
    of: Annotated[str, typer.Argument(help="Material of the piece.", metavar="MATERIAL")],
    length: Annotated[str, typer.Argument(help="From the hole that locates it to this one.")],
    fixture: Annotated[str, typer.Option(help="Material of the fixture.")] = "mild steel",
    heat: Annotated[float, typer.Option(help="Working temperature [°C].")] = 680.0,
    thread: Annotated[str, typer.Option(help="Of the screw in the hole.")] = "M3",
    as_json: AsJson = False,
) -> None:
    """Say how far a hole shifts at heat.

    Of a piece against its fixture, and the hole that its screw needs to stay free.
    """
    from barstock.fabricating.growth import LAG
    from barstock.handbook.heat import SPREAD

    found = soldering.growth(of, length, fixture, heat, screw=thread)
    shift = hypot(*found.shift)
    if as_json:
        typer.echo(json.dumps({"shift": shift, "needs": found.needs}, indent=1))
        return
    typer.echo(f"shifts {shift:.2f} mm; a {thread} screw needs a {found.needs:.1f} mm hole there")
    typer.echo(
        f"counted: a fixture up to {LAG:g} K behind the work, growth of the work {SPREAD:.0%} off "
        "either way unless both are of one metal; in the hole also "
        f"{found.hold.error:g} mm that the holes may be out of line"
    )
