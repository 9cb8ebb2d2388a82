"""Small plans to follow dimensions through."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from barstock.drawing.build import Build, Fault
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.planning.plan import plan_build
from barstock.route import Route
from barstock.tolerancing.fits_of_build import Mated, mated
from barstock.tolerancing.guarantee import Guarantee, guarantees
from barstock.workshop.shop import Workshop
from barstock.workshop.shop_reading import read_workshop

SAMPLES = Path(__file__).parents[2] / "src" / "barstock" / "samples"


PART = """\
    copies: 2
    material: mild steel
    length: 60
    width: 20
    height: 12
    bar: 20 x 12
    as bought: [front, back, top, bottom]
    features:
"""
KINDS_LACKING = f"""\
build: Kinds
parts:
  slots:
{PART}\
      closed: {{kind: slot, face: top, along: length, position: {{width: centre +3}}, width: 4,
        depth: 2, length: 20, end from: {{left: 8}}}}
      round: {{kind: slot, face: bottom, along: length, position: {{front: 6}}, width: 4, depth: 2,
        between centres: 12, middle: {{length: centre}}}}
      open: {{kind: slot, face: top, along: length, wall from: {{front: 1.5}}, width: 4, depth: 2,
        length: 15, open at: right}}
  ridged:
{PART}\
      ridge: {{kind: ridge, face: top, peak along: width, position: {{left: 18}}, angle: 2,
        peak height: 11.5}}
      hollow: {{kind: pocket, face: bottom, at: {{left: 12, width: centre}}, diameter: 8, depth: 3}}
  tongues:
{PART}\
      rail: {{kind: step, face: top, edge: front, mirrored: true, wall from: {{width: centre -5}},
        depth: 3}}
      well: {{kind: pocket, face: top, at: {{right: 20, width: centre}}, diameter: 8,
        floor from: {{bottom: 5}}}}
"""


@dataclass(frozen=True)
class Shop:
    """A build, its workshop and the route of it."""

    build: Build
    workshop: Workshop
    route: Route

    def judged(self, **changed: float) -> dict[str, Guarantee]:
        """What the route guarantees, by "part/feature/dimension", in the shop so changed."""
        found = guarantees(self.route, self.build, replace(self.workshop, **changed))  # type: ignore[arg-type]
        return {f"{g.asked.part}/{g.asked.check.name}": g for g in found}


Written = Callable[..., tuple[Build | None, Workshop, tuple[Fault, ...]]]
Planned = Callable[..., Shop]


@pytest.fixture(scope="session")
def written(tmp_path_factory: pytest.TempPathFactory) -> Written:
    """A sample as read, with some of its text changed."""

    def read(
        name: str, *changes: tuple[str, str]
    ) -> tuple[Build | None, Workshop, tuple[Fault, ...]]:
        text = (SAMPLES / name / "build.yaml").read_text(encoding="utf-8")
        for old, new in changes:
            assert old in text
            text = text.replace(old, new)
        folder = tmp_path_factory.mktemp(name)
        (folder / "build.yaml").write_text(text, encoding="utf-8")
        workshop, _ = read_workshop(SAMPLES / name / "workshop.yaml")
        assert workshop is not None
        reading = read_build(folder, KINDS)
        return reading.build, workshop, reading.faults

    return read


@pytest.fixture(scope="session")
def planned(written: Written) -> Planned:
    """A sample planned, or some of its parts, with some of its text changed."""

    def plan(name: str, *changes: tuple[str, str], parts: tuple[str, ...] = ()) -> Shop:
        build, workshop, faults = written(name, *changes)
        assert build is not None, faults
        if parts:
            build = replace(build, parts=tuple(p for p in build.parts if p.name in parts))
        return Shop(build, workshop, plan_build(build, workshop, steps=150_000))

    return plan


@pytest.fixture(scope="session")
def kinds(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    """Kinds of features and ways of dimensioning that the samples lack."""
    folder = tmp_path_factory.mktemp("kinds")
    (folder / "build.yaml").write_text(KINDS_LACKING, encoding="utf-8")
    build = read_build(folder, KINDS).build
    workshop, _ = read_workshop(SAMPLES / "wagon" / "workshop.yaml")
    assert build is not None
    assert workshop is not None
    return Shop(build, workshop, plan_build(build, workshop, steps=150_000))


@pytest.fixture
def fitted(written: Written) -> Callable[..., dict[str, Mated]]:
    """The fits of a sample, by name."""

    def fits(name: str, *changes: tuple[str, str]) -> dict[str, Mated]:
        build, workshop, faults = written(name, *changes)
        assert build is not None, faults
        return {m.wanted.name: m for m in mated(build, workshop)}

    return fits
