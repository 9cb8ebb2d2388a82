"""A build all in inches tells no length in millimetres, whatever is left of it or refused."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest
from typer.testing import CliRunner

from barstock import api
from barstock.cli.commands import app
from barstock.proving.prove import prove
from barstock.route import Route

SHOP = Path(__file__).parents[1] / "drawings" / "inch_shop" / "workshop.yaml"
RACK = "brass: [3/4 x 1/2 x 12, 6 x 1/2 x 12, round 4 x 6, "
BUILD = """\
build: Inches
unit: inch
fits: {pin: {inside: bracket/hole/bore, outside: {size: .155 ±.0005}, clearance: {least: 0}}}
parts:
  bracket:
    material: brass
    length: 1-1/2
    width: 3/4
    height: 1/2
    bar: 3/4 x 1/2
    as bought: [front, back, top, bottom]
    features:
      hole: {kind: hole, face: top, at: {left: .4 ±.0005, width: centre}, diameter: 5/32,
        depth: through}
      narrow: {kind: pocket, face: top, at: {left: .8, width: centre}, length: .1, width: .2,
        depth: .45, corner radius: .01}
      deep: {kind: hole, face: left, at: {front: 3/16, top: 1/4}, depth: through, thread: 8 BA}
      shallow: {kind: hole, face: right, at: {front: 9/16, top: 1/4}, depth: .2, diameter: .1,
        finish: by hand}
  slab: {material: brass, length: 1-1/2, width: 9, height: 1/2}
  plate: {material: brass, length: 5, width: 6, height: 1/2, bar: 6 x 1/2,
    as bought: [front, back, top, bottom], features: {
    eye: {kind: hole, face: top, at: {left: 2, width: centre}, diameter: 1/8, depth: 1/4}}}
  wheel: {material: brass, length: 1, diameter: 4, bar: round 4, features: {
    eye: {kind: hole, face: right, at: {width: centre, height: centre}, diameter: 1/8,
    depth: 1/2}}}
  pin: {made: bought, copies: 2, material: brass, length: 1/2, diameter: 1/4}
  faulty: {material: brass, length: 2, width: 3/4, height: 1/2, bar: 3/4 x 1/2, features: {
    wide: {kind: hole, face: top, at: {left: .1, width: centre}, diameter: 3/8, depth: through}}}
"""
IN_MM = re.compile(r".*\d ?mm[23³]?\b.*|.*millimetre.*")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The build in a shop without clamps, planned."""
    folder = tmp_path_factory.mktemp("inches")
    shop = SHOP.read_text(encoding="utf-8").replace("  clamps: true\n", "").replace("80 mm", "3")
    shop = shop.replace("brass: [", RACK)
    (folder / "workshop.yaml").write_text(shop, encoding="utf-8")
    (folder / "build.yaml").write_text(BUILD, encoding="utf-8")
    api.plan(folder, pictures=False)
    return folder


def test_what_is_refused_is_told_in_inches(folder: Path) -> None:
    told: dict[str, str] = {}
    for left in api.route(folder).left:
        told[left.part] = " ".join((told.get(left.part, ""), *(one.refusal for one in left.tried)))
    for part, words in (
        ("bracket", "it wants an end mill of 0.0100 to 0.0200 in"),
        ("bracket", "the tap 8 BA does not reach 1.5"),
        ("slab", "no brass bar holds 9 x 1/2 in"),
        ("plate", "no vise opens 6.000 in"),
        ("faulty", "runs 0.0875 in out"),  # 3/16 less .1
    ):
        assert words in told[part]
    for words in told.values():
        assert not IN_MM.search(words)


@pytest.mark.parametrize("command", ["check", "plan", "limits", "fits", "prove"])
def test_no_command_tells_millimetres(folder: Path, command: str) -> None:
    told = CliRunner().invoke(app, [command, str(folder)]).output
    assert " in" in told
    assert IN_MM.findall(told) == []


def test_the_pack_tells_no_millimetres(folder: Path) -> None:
    page = (folder / "out" / "pack.html").read_text(encoding="utf-8")
    page = re.sub(r"<(style|script).*?</\1>", "", page, flags=re.S)
    told = html.unescape(re.sub(r"<[^>]*>", "\n", page))
    assert "Not guaranteed: bracket, hole" in told
    assert IN_MM.findall(told) == []


def test_the_proof_refuses_in_inches(folder: Path) -> None:
    build, _, _ = api.readable(folder)
    route = api.route(folder)
    held = [
        s.model_copy(
            update={"holding": s.holding.model_copy(update={"grip": 3.0, "opening": 30.0})}
        )
        for s in route.setups
    ]
    spoilt = Route.model_validate(route.model_dump() | {"setups": held})
    told = [violation.what for violation in prove(spoilt, build).violations]
    assert any("where the route says 1.1811 in" in what for what in told)  # 30 mm
    assert not any(IN_MM.search(what) for what in told)
