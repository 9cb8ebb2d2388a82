"""Features called like faces, centre lines and dimensions are measured and judged as any other."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.planning.plan import plan_build
from barstock.quantities import Unit
from barstock.tolerancing.first_off_limits import with_working_limits
from barstock.tolerancing.fits_of_build import mated
from barstock.tolerancing.guarantee import guarantees
from barstock.words.checks import check_line
from barstock.words.reader import Reader
from barstock.workshop.shop_reading import read_workshop

from .conftest import SAMPLES

PLAIN = ("a groove", "b recess", "c bore", "d hollow", "e rebate", "f ridge")
LIKE_DATUMS = {
    "a groove": "from left",
    "b recess": "face recess",
    "c bore": "centre from back",
    "d hollow": "depth",
    "e rebate": "face top",
    "f ridge": "from the centre of width",
}
BUILD = """\
build: Named
parts:
  block:
    copies: 2
    material: mild steel
    length: 60
    width: 20
    height: 12
    bar: 20 x 12
    as bought: [front, back, top, bottom]
    features:
      {a groove}: {{kind: slot, face: top, along: length, wall from: {{back: 5 ±0.1}}, width: 4,
        depth: 2, length: 20, open at: right}}
      {b recess}: {{kind: slot, face: bottom, along: width, position: {{right: 20 ±0.05}}, width: 6,
        floor from: {{top: 9.5 ±0.1}}}}
      {c bore}: {{kind: hole, face: top, diameter: 5 H7, finish: reamed, depth: through,
        at: {{left: 12, width: centre +2 ±0.05}}}}
      {d hollow}: {{kind: pocket, face: top, at: {{left: 25, front: 7}}, diameter: 8 +0.1/0,
        depth: 3}}
      {e rebate}: {{kind: step, face: front, edge: top, mirrored: true, leaves: 9 ±0.1, depth: 1}}
  roof:
    copies: 2
    material: mild steel
    length: 60
    width: 20
    height: 12
    bar: 20 x 12
    as bought: [front, back, top, bottom]
    features:
      {f ridge}: {{kind: ridge, face: top, peak along: width, position: {{left: 18}}, angle: 2,
        peak height: 11.5}}
fits:
  pin in bore: {{inside: block/{c bore}/bore, outside: {{size: 5 h6}}, clearance: {{least: 0.005}}}}
  tongue: {{inside: {{size: 9.5 ±.1}}, outside: block/{e rebate}/leaves, clearance: {{least: 0.1}}}}
"""


def _measured(folder: Path, names: dict[str, str]) -> dict[str, tuple[object, ...]]:
    """By plain name: what each check is printed with, and what its dimension comes out at."""
    (folder / "build.yaml").write_text(BUILD.format(**names), encoding="utf-8")
    reading = read_build(folder, KINDS)
    shop, _ = read_workshop(SAMPLES / "wagon" / "workshop.yaml")
    assert reading.build is not None, reading.faults
    assert shop is not None
    route = plan_build(reading.build, shop)
    judged = guarantees(route, reading.build, shop)
    chained = {(g.asked.operation.id, g.asked.check.name): (g.low, g.high) for g in judged}
    plain = {odd: name for name, odd in names.items()}
    found: dict[str, tuple[object, ...]] = {}
    for setup in with_working_limits(route, judged, shop.instruments).setups:
        for operation in setup.operations:
            for check in operation.checks:
                feature, _, word = check.name.partition("/")
                line = check_line(check, Reader(Unit.MM))
                said = (line.size, line.limits, line.how, line.gauges, line.note, line.hold)
                made = chained.get((operation.id, check.name), ())
                found[f"{plain.get(feature, feature)}/{word}"] = (*said, made)
    for one in mated(reading.build, shop):
        found[one.wanted.name] = one.fit.clearance()
    return found


@pytest.fixture(scope="module")
def usual(tmp_path_factory: pytest.TempPathFactory) -> dict[str, tuple[object, ...]]:
    return _measured(tmp_path_factory.mktemp("usual"), {name: name for name in PLAIN})


def test_no_name_is_taken_for_a_datum(usual: dict[str, tuple[object, ...]], tmp_path: Path) -> None:
    assert _measured(tmp_path, LIKE_DATUMS) == usual


def test_each_is_given_from_what_the_drawing_says(usual: dict[str, tuple[object, ...]]) -> None:
    given = {name: str(said[2]).partition(",")[0] for name, said in usual.items() if "/" in name}
    assert given["a groove/wall"] == "near wall from the back"
    assert given["b recess/floor"] == "from the top"
    assert given["c bore/from centre of width"] == "centre from the centre of width"
    assert given["d hollow/from front"] == "centre from the front"
    assert given["f ridge/peak height"] == "from the bottom face to the peak"
