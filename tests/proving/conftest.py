"""A small block made by hand-written readings: the proof's own ground, no planner involved.

The block is 30 x 20 x 12 mm: a slot 8 wide and 4 deep along the middle of its top, and a 5 mm hole
through the middle of the slot's floor. Two come from one 65 mm bar of 20 x 12. The slot is cut in
the bar; the pieces are sawn 31 mm long, milled 0.5 mm at each end, spotted and drilled.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import pytest

from barstock.drawing.build import Face
from barstock.proving.proof_record import PartProof, Violation
from barstock.proving.prove import Job, prove_part
from barstock.proving.wanted import Wanted
from barstock.route import (
    BarPiece,
    Cutter,
    Does,
    Holding,
    Operation,
    Plunge,
    Process,
    SawOff,
    Setup,
    Traverse,
    Zero,
)
from barstock.solids.shapes import Solid, box, cylinder
from barstock.workshop.shop import MachineKind, ToolKind

MILL = Cutter(name="6 mm end mill", kind=ToolKind.END_MILL, diameter=6, flute=13, reach=25, shank=6)
WIDE = Cutter(
    name="10 mm end mill", kind=ToolKind.END_MILL, diameter=10, flute=22, reach=35, shank=10
)
SPOT = Cutter(
    name="spot drill", kind=ToolKind.SPOT_DRILL, diameter=6, flute=20, reach=30, shank=6, point=90
)
DRILL = Cutter(
    name="5 mm drill",
    kind=ToolKind.DRILL,
    diameter=5,
    flute=52,
    reach=60,
    shank=5,
    point=118,
    holder="chuck",
)
BLADE = Cutter(name="saw", kind=ToolKind.SAW_BLADE, diameter=0)

HOLDING = Holding(
    way="vise",
    device="vise",
    up=Face.TOP,
    fixed_jaw=Face.BACK,
    packing=25,
    parallels=(25,),
    jaws_from=0,
    jaws_to=100,
    jaw_top=32,
    opening=20,
    largest_opening=80,
)


def operation(id_: str, cutter: Cutter, *moves: Any, features: tuple[str, ...] = ()) -> Operation:
    return Operation(id=id_, does=Process.MILL, features=features, cutter=cutter, moves=moves)


def setup(id_: str, *operations: Operation, stage: str = "piece", **changes: Any) -> Setup:
    """A mill setup of the block: X on the left edge, Y on the fixed jaw, Z on top."""
    holding = {k: changes.pop(k) for k in list(changes) if k in Holding.model_fields}
    record: dict[str, Any] = {
        "id": id_,
        "work": "bar 1" if stage == "bar" else "block",
        "stage": stage,
        "copies": 2,
        "machine": "mill",
        "machine_kind": MachineKind.MILL,
        "holding": HOLDING.model_copy(update=holding),
        "zero_x": Zero(find="left", finder=6),
        "zero_y": Zero(find="fixed jaw", finder=6),
        "zero_z": Zero(find="top"),
        "operations": operations,
    }
    return Setup(**(record | changes))


@dataclass(frozen=True)
class Shop(Job):
    """A part as wanted and a route for it; every change makes another."""

    def proof(self) -> PartProof:
        return prove_part(self)

    def faults(self) -> list[Violation]:
        return [v for v in self.proof().violations if v.severity == "error"]

    def with_setup(self, id_: str, **changes: Any) -> Shop:
        """The setup changed; a key of Holding changes how it is held."""
        found = next(s for s in self.setups if s.id == id_)
        holding = {k: changes.pop(k) for k in list(changes) if k in Holding.model_fields}
        changes["holding"] = found.holding.model_copy(update=holding)
        new = found.model_copy(update=changes)
        return replace(self, setups=tuple(new if s is found else s for s in self.setups))

    def with_operation(self, id_: str, **changes: Any) -> Shop:
        setups = []
        for s in self.setups:
            ops = tuple(o.model_copy(update=changes) if o.id == id_ else o for o in s.operations)
            setups.append(s.model_copy(update={"operations": ops}))
        return replace(self, setups=tuple(setups))

    def without(self, id_: str) -> Shop:
        """Leave out a setup or an operation."""
        setups = [s for s in self.setups if s.id != id_]
        kept = (
            s.model_copy(update={"operations": tuple(o for o in s.operations if o.id != id_)})
            for s in setups
        )
        return replace(self, setups=tuple(kept))

    def draw(self, drawn: Solid) -> Shop:
        return replace(self, want=replace(self.want, drawn=drawn))


@pytest.fixture
def block() -> Shop:
    """The block and a sound route for it."""
    slot = box((0, 6, 8), (30, 14, 12))
    hole = cylinder((15, 10, 0), (0, 0, 1), 2.5, 8)
    want = Wanted(
        "block", box((0, 0, 0), (30, 20, 12)).cut(slot, hole), {"slot": slot, "hole": hole}
    )
    bar = BarPiece(
        id="bar 1",
        part="block",
        material="brass",
        stock="20 x 12",
        shape="rectangle",
        width=20,
        height=12,
        length=65,
        pieces=2,
        start=(-0.5, 0, 0),
    )
    walls = [Traverse(does=Does.FLOOR, points=((-6, y), (76, y)), z=-4) for y in (-8, -6)]
    face_z = {"zero_z": Zero(find="rest")}
    return Shop(
        want,
        (bar,),
        (
            setup("bar slot", operation("slot", MILL, *walls, features=("slot",)), stage="bar"),
            setup(
                "saw",
                operation("saw", BLADE, SawOff(each=31, pieces=2, kerf=1.5)),
                stage="bar",
                machine_kind=MachineKind.SAW,
            ),
            setup(
                "left end",
                operation(
                    "left",
                    WIDE,
                    Traverse(does=Does.FLOOR, points=((-1.5, -26), (-1.5, 12)), z=-0.5),
                ),
                jaws_from=6,
                **face_z,
            ),
            setup(
                "right end",
                operation(
                    "right", WIDE, Traverse(does=Does.FLOOR, points=((1.5, -26), (1.5, 12)), z=-0.5)
                ),
                stop="right",
                jaws_from=-80,
                jaws_to=-6,
                zero_x=Zero(find="right", finder=6),
                **face_z,
            ),
            setup(
                "drill",
                operation(
                    "spot", SPOT, Plunge(does=Does.DRILL, x=18, y=-7, z=-5.5), features=("hole",)
                ),
                operation(
                    "hole", DRILL, Plunge(does=Does.DRILL, x=18, y=-7, z=-14), features=("hole",)
                ),
            ),
        ),
        copies=2,
    )


@pytest.fixture
def make():
    """Make a further setup of the block with one operation, `<setup>/cut`."""

    def further(id_: str, *, steps: Any, cutter: str = "wide", **changes: Any) -> Setup:
        tool = {"wide": WIDE, "mill": MILL}[cutter]
        features = changes.pop("features", ())
        return setup(id_, operation(f"{id_}/cut", tool, *steps, features=features), **changes)

    return further
