"""A way of holding that the program does not know: a class for the plan, one for the proof.

Small work on end against a plate, pressed on it by a screw from the front.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from barstock.drawing.build import Build, Part
from barstock.errors import UnplannableError
from barstock.pack.setup_pictures import setup_picture
from barstock.planning.holding.grip import Grip
from barstock.planning.holding.metal import Needed, Seat
from barstock.planning.holding.table_held import OnTable as PlannedOnTable
from barstock.planning.holding.way import Way
from barstock.planning.holding.ways import WAYS as PLANNED
from barstock.planning.plan import plan_build
from barstock.planning.tasks.pose import Box, Lie, Pose, lay
from barstock.planning.tasks.task import Task
from barstock.proving.held_work import Held
from barstock.proving.holding import WAYS as PROVEN
from barstock.proving.holding.on_table import OnTable as ProvenOnTable
from barstock.proving.placing import SKIN
from barstock.proving.proof_record import PartProof, Violation
from barstock.proving.prove import Job, prove_part, works_of
from barstock.proving.wanted import wanted
from barstock.route import Body, BodyKind, Route, Setup
from barstock.solids.shapes import Solid, box
from barstock.words.holding import held_words, setting_up
from barstock.words.reader import Reader
from barstock.words.zeros import zero_lines
from barstock.workshop.shop import BarStock, Vise, Workshop

from .conftest import built, find, sample

PILLAR = """
build: Pillar
unit: mm
parts:
  pillar: {material: brass, length: 50, width: 12, height: 10, bar: flat, copies: 2,
    as bought: [front, back, top, bottom], features: {
    hole: {kind: hole, face: right, diameter: 3, depth: 10, at: {front: 6, bottom: 5}}}}
"""
HIGH, LEVEL, ACROSS = 35.0, 15.0, 6.0  # of plate and lug, of the screw, and its diameter [mm]


@dataclass(frozen=True)
class BehindScrew(PlannedOnTable):
    """Work on end between a plate and a screw."""

    name = "plate and screw"
    seat = "plate"

    @classmethod
    def instead(cls, pose: Pose, part: Part, shop: Workshop) -> Sequence[Way]:
        """Where an end is up."""
        return [cls()] if pose.up.axis == 0 and pose.stage == "piece" else ()

    def seat_top(self, lie: Lie) -> float:
        return HIGH

    def bodies(self, lie: Lie, thickness: float) -> tuple[Body, ...]:
        (x, y, _), (x1, _, _) = lie.extent
        middle, half = (x + x1) / 2, ACROSS / 2
        plate, lug = (
            Body(kind=BodyKind.PLAIN, called=called, bears=bears, low=low, high=high)
            for called, bears, low, high in (
                ("back plate", "front", (x, 0.0, 0.0), (x1, 12.0, HIGH)),
                ("screw lug", "back", (x, y - 25.0, 0.0), (x1, y - 15.0, HIGH)),
            )
        )
        low, high = (middle - half, y - 30.0, LEVEL - half), (middle + half, y, LEVEL + half)
        screw = Body(kind=BodyKind.SCREW, bears="back", low=low, high=high, diameter=ACROSS)
        return plate, lug, screw

    def hold(
        self,
        pose: Pose,
        box: Box,
        tasks: Sequence[Task],
        shop: Workshop,
        wanted: Sequence[float] = (),
    ) -> Grip:
        lie = lay(pose, box, 0.0)
        if not HIGH < lie.extent[1][2] < HIGH / 0.6:
            raise UnplannableError("the plate is too high or too low for the work")
        return self.grip(lie, (0.0,), shop)

    def needs(self, pose: Pose, box: Box, part: Part) -> Needed:
        """Metal at the screw and behind it."""
        lie = lay(pose, box, 0.0)
        (x, y, _), (x1, y1, _) = lie.extent
        points = tuple(lie.of_part(((x + x1) / 2, at, LEVEL)) for at in (y + 0.02, y1 - 0.02))
        return Seat((points, ()), (), frozenset())


class PressedOnPlate(ProvenOnTable):
    """Does the screw press the work on the plate?"""

    name = "plate and screw"

    def faults(self, held: Held, work: Solid, fresh: Solid) -> Iterator[Violation]:
        h = held.setup.holding
        (plate, _), (screw,) = h.of(BodyKind.PLAIN), h.of(BodyKind.SCREW)
        (x, _, z), (x1, front, z1) = screw.low, screw.high
        for name, y, y1, wide in (
            ("screw", front, front + SKIN, (x, x1)),
            ("plate", plate.low[1] - SKIN, plate.low[1], (plate.low[0], plate.high[0])),
        ):
            if work.common(box((wide[0], y, z), (wide[1], y1, z1))).empty:
                yield Violation(f"the {name} does not touch the work", "plan it anew")


@pytest.fixture
def known() -> Iterator[None]:
    """Both halves of the way, known while a test runs."""
    PLANNED[BehindScrew.name], PROVEN[PressedOnPlate.name] = BehindScrew, PressedOnPlate()
    yield
    del PLANNED[BehindScrew.name], PROVEN[PressedOnPlate.name]


def planned(folder: Path) -> tuple[Build, Route]:
    """The pillar planned where the only vise is too low to hold it firmly on end."""
    bar = BarStock("flat", "brass", "rectangle", 12, 10, 500)
    vises = (Vise("small vise", 80, 12, 60),)
    owned = replace(
        sample("wagon")[1], rack=(bar,), vises=vises, parallels=(3.0, 4.0, 5.0, 6.0, 8.0), kits=()
    )
    build = built(folder, PILLAR)
    return build, plan_build(build, owned, steps=150_000)


def proof(build: Build, route: Route, change: Setup | None = None) -> PartProof:
    """The proof of the pillar, with one setup changed."""
    bars, setups = works_of(route, build.parts[0])
    changed = tuple(change if change and s.id == change.id else s for s in setups)
    return prove_part(Job(wanted(build.parts[0]), bars, changed, 2, build.least_wall))


@pytest.mark.usefixtures("known")
def test_two_classes_make_a_way_that_is_planned_proved_and_printed(tmp_path: Path) -> None:
    build, route = planned(tmp_path)
    setup = find(route, "pillar/hole/drill")[0]
    assert setup.holding.way == "plate and screw"
    found = proof(build, route)
    assert [str(v) for v in found.violations] == []
    assert found.deviation < 0.01

    held = dict(held_words(setup, Reader()))
    assert (held["Held in"], held["Back"]) == ("plate and screw", setup.holding.fixed_jaw)
    told = " ".join(line.words for line in setting_up(setup, Reader()))
    assert "Set the back plate" in told
    assert "jaw" not in told
    zeros = {line.axis: line.words for line in zero_lines(setup, Reader())}
    assert "the back plate's face" in zeros["Y"]
    stage = next(s for s in found.stages if s.setup == setup.id)
    picture = setup_picture(setup, stage.solid, stage.fresh)
    assert "back plate" in picture
    assert "screw lug" in picture

    away = tuple(
        body.model_copy(update={"high": (body.high[0], body.high[1] - 2.0, body.high[2])})
        if body.kind is BodyKind.SCREW
        else body
        for body in setup.holding.bodies
    )
    holding = setup.holding.model_copy(update={"bodies": away})
    spoilt = proof(build, route, setup.model_copy(update={"holding": holding}))
    assert any("screw does not touch the work" in str(v) for v in spoilt.violations)


def test_without_them_the_vise_holds_it(tmp_path: Path) -> None:
    _, route = planned(tmp_path)
    assert find(route, "pillar/hole/drill")[0].holding.way == "on end"
