"""A fabrication at the hearth: its page, its heats ticked, and what waits for it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from barstock.bench.entry import Kind
from barstock.drawing.build import Face
from barstock.drawing.part import Form
from barstock.pack.route_file import read_route, route_text
from barstock.route import (
    BathDip,
    Cleaning,
    Fabrication,
    HearthStep,
    HearthStepKind,
    Heat,
    HeatHolding,
    JointToMake,
    Melt,
    MeltKind,
    TorchCan,
)
from barstock.web.bench_state import BenchSnapshot

from .conftest import Bench, start

HEAT = Heat(
    number=1,
    joints=("cap joint",),
    holding=HeatHolding.FREE,
    on_fixture=False,
    attitude=(Face.TOP,),
    up=(0.0, 0.0, 1.0),
    working=680.0,
    held=("fork",),
    fluxed=("cap joint",),
    flame=("fork",),
    feeds={"cap joint": (Face.LEFT,)},
    melts=(Melt(at=630.0, kind=MeltKind.BEGINS, of="cap joint", metal="Ag 155"),),
    minutes=(1.0, 2.5),
    power=7700.0,
    can=TorchCan.YES,
)
JOINED = Fabrication(
    part="fork",
    copies=3,
    pieces=(),
    joints=(JointToMake(name="cap joint", pieces=("a", "b"), form=Form.LAP, at=(0, 0, 0),
                        low=(0, 0, 0), high=(1, 1, 0), side=Face.TOP,
                        alloy="Ag 155", gap_least=0.05, gap_most=0.1, rod=1.0, rod_length=30),),
    order=(HearthStep(kind=HearthStepKind.BRIGHTEN), HearthStep(kind=HearthStepKind.HEAT, heat=1)),
    heats=(HEAT, HEAT.model_copy(update={"number": 2})),
    cleaning=Cleaning(bath="citric acid", heated=True, temperature=55.0, minutes=(15.0, 40.0),
                      dips=(BathDip(things=(("fork", 3),)),)),
    minutes=90.0,
)  # fmt: skip


@pytest.fixture
def joined(folder: Path) -> Iterator[Bench]:
    """The small build, as if it were joined from pieces."""
    path = folder / "out" / "route.json"
    route = read_route(path).model_copy(update={"fabrications": (JOINED,)})
    path.write_text(route_text(route))
    yield from start(folder)


def test_the_heats_are_ticked_copy_by_copy(joined: Bench) -> None:
    text = joined.client.get("/hearth/1").text
    for words in ("Heat 1 of 2: cap joint", "Hot work looks like cold work.",
                  "Acid into water, never water into acid.", "680 °C", "Clean every joint",
                  "Heat 1: cap joint, top up, to 680 °C.", "cap joint: Ag 155 begins to melt",
                  "cap joint from the left", "3 × fork: citric acid, 55 °C",
                  "Clock: 3 min"):  # fmt: skip
        assert words in text
    # two heats and the cleaning of three
    assert text.count('<button class="box" aria-pressed="false"') == 9
    shown = joined.post("/hearth/1/tick", step="fork/heat 1", nth=2)
    assert shown.count('aria-pressed="true"') == 1
    (line,) = joined.state.log_state.lines
    assert (line.kind, line.operation, line.work, line.nth) == (Kind.HEAT, "fork/heat 1", "fork", 2)
    joined.post("/hearth/1/tick", step="fork/heat 1", nth=2, done="no")
    assert not joined.state.log_state.work.copies("fork/heat 1")
    for wrong in ({"step": "fork/heat 3", "nth": 1}, {"step": "fork/heat 1", "nth": 4}):
        assert joined.client.post("/hearth/1/tick", data=wrong).status_code == 404
    assert joined.client.get("/hearth/2").status_code == 404


def test_what_is_made_of_it_waits_for_the_hearth(joined: Bench) -> None:
    plan = joined.state.plan
    before = joined.client.get("/").text
    assert "0 of 3 done" in before
    assert not any(one.free for one in BenchSnapshot(joined.state).lefts)
    for step in ("fork/heat 1", "fork/heat 2", "fork/cleaning"):
        for nth in (1, 2, 3):
            joined.post("/hearth/1/tick", step=step, nth=nth)
    assert BenchSnapshot(joined.state).lefts[0].free
    text = joined.client.get("/").text
    assert "3 of 3 done" in text
    assert "waits for the hearth" not in text
    left = sum(one.minutes for one in BenchSnapshot(joined.state).lefts)
    assert left == pytest.approx(sum(s.minutes for s in plan.route.setups))
