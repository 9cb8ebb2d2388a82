"""A small build with a route written by hand: a bar sawn, a tilted slot, handwheels in inches."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock.drawing.build import Build, Face, Part, Place
from barstock.drawing.dimension_runs import CheckSort, EndKind, between, from_face
from barstock.quantities import INCH, Dimension, Unit
from barstock.route import (
    BarPiece,
    Cutter,
    Does,
    Expect,
    Holding,
    Made,
    Operation,
    Plunge,
    Process,
    Route,
    SawOff,
    Setup,
    Summary,
    TiltBy,
    TiltSetting,
    Traverse,
    Zero,
)
from barstock.route.statements import (
    Caution,
    CautionKind,
    Item,
    ItemKind,
    Mark,
    MarkKind,
    ReasonKind,
    because,
)
from barstock.workshop.shop import Axis, Machine, MachineKind, ToolKind, Workshop

PICTURE = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 160 110">'
    '<rect x="10" y="60" width="140" height="40" fill="none" stroke="black"/>'
    '<rect x="50" y="20" width="60" height="70" fill="none" stroke="black" stroke-width="2"/></svg>'
)

SLOT = ((-4.0, -11.0), (36.0, -11.0))
READOUT = Axis(300, readout=0.005)
WHEEL = Axis(300, per_turn=0.1 * INCH, divisions=100, unit=Unit.INCH)


def _part(name: str, size: tuple[float, float, float], copies: int, unit: Unit) -> Part:
    length, width, height = (Dimension(s) for s in size)
    return Part(
        name, "phosphor bronze", copies, length, width, height, (), Place("build.yaml", 1, 1), unit
    )


@pytest.fixture(scope="session")
def build() -> Build:
    """Two parts, one in inches."""
    parts = (
        _part("axlebox", (32, 28, 22), 4, Unit.MM),
        _part("hanger", (34.925, 19.05, 6.35), 2, Unit.INCH),
    )
    return Build("Quarry wagon, running gear", Path("wagon"), parts)


@pytest.fixture(scope="session")
def workshop() -> Workshop:
    """A mill with a readout, and one with inch handwheels only."""
    machines = (
        Machine("bench mill", MachineKind.MILL, (100, 2000), True, READOUT, READOUT, READOUT, 200),
        Machine("old mill", MachineKind.MILL, (100, 2000), True, WHEEL, WHEEL, WHEEL, 200),
    )
    return Workshop("shop", machines, (), (), (), (), ())


def _saw() -> Setup:
    none = Zero(find="none")
    return Setup(
        id="1",
        pieces=4,
        work="bar for axlebox",
        stage="bar",
        copies=1,
        machine="bandsaw",
        machine_kind=MachineKind.SAW,
        holding=Holding(
            way="saw vise", device="saw vise", up=Face.TOP, fixed_jaw=Face.BACK, stop="right"
        ),
        zero_x=none,
        zero_y=none,
        zero_z=none,
        operations=(
            Operation(
                id="axlebox/saw/off",
                does=Process.SAW_OFF,
                features=(),
                cutter=Cutter(name="saw blade", kind=ToolKind.SAW_BLADE, diameter=0),
                moves=(SawOff(each=33, pieces=4, kerf=1.5),),
                cautions=(Caution(kind=CautionKind.SAWN_OFF),),
            ),
        ),
        minutes=20,
    )


def _slot() -> Setup:
    cutter = Cutter(
        name="6 mm end mill", kind=ToolKind.END_MILL, diameter=6, flute=13, reach=30, shank=6
    )
    drill = Cutter(name="9.8 mm drill", kind=ToolKind.DRILL, diameter=9.8, point=118)
    return Setup(
        id="2",
        work="axlebox",
        stage="piece",
        copies=4,
        machine="bench mill",
        machine_kind=MachineKind.MILL,
        holding=Holding(
            way="vise",
            device="80 mm vise",
            up=Face.FRONT,
            fixed_jaw=Face.TOP,
            stop="left",
            tilt=1.5,
            tilt_set=TiltSetting(by=TiltBy.SINE_BAR, height=2.618, blocks=(1.118, 1.5)),
            packing=15,
            parallels=(10, 5),
            parallels_out=True,
            grip=14.2,
            stick_up=13.8,
            jaw_top=30,
            opening=22,
        ),
        zero_x=Zero(find="left", set_to=-2.5, finder=5),
        zero_y=Zero(find="fixed jaw", set_to=-2.5, finder=5),
        zero_z=Zero(find="top"),
        operations=(
            Operation(
                id="axlebox/guide slots/mill",
                does=Process.MILL,
                features=("guide slots",),
                cutter=cutter,
                moves=(
                    Traverse(does=Does.ROUGH, points=SLOT, z=-1.0),
                    Traverse(does=Does.ROUGH, points=SLOT, z=-2.0),
                    Traverse(does=Does.FLOOR, points=SLOT, z=-2.5),
                    Traverse(
                        does=Does.WALL,
                        wall="back",
                        points=((36.0, -10.0), (-4.0, -10.0)),
                        z=-2.5,
                    ),
                ),
                rpm=1500,
                feed=120,
                surface_speed=28,
                speed_share=0.8,
                checks=(
                    Expect(
                        name="guide slots/width",
                        sort=CheckSort.INSIDE,
                        runs=between(EndKind.WALL, EndKind.WALL),
                        with_="gauge blocks",
                        with_kind="gauge blocks",
                        low=8.0,
                        nominal=8.0,
                        high=8.05,
                        text="8.0 +0.05/0",
                        stack_low=(1.0, 7.0),
                        stack_high=(1.05, 7.0),
                    ),
                ),
            ),
            Operation(
                id="axlebox/axle bore/drill",
                does=Process.DRILL,
                features=("axle bore",),
                cutter=drill,
                moves=(Plunge(does=Does.DRILL, x=15, y=-14, z=-25.445, through=True),),
                rpm=900,
                feed=90,
                cautions=(Caution(kind=CautionKind.BREAKS_THROUGH),),
            ),
        ),
        passes=(("axlebox/guide slots/mill",), ("axlebox/axle bore/drill",)),
        marks=(
            Mark(kind=MarkKind.TO_THE_STOP, names={"end": "left", "up": "front", "right": "right"}),
        ),
        cautions=(Caution(kind=CautionKind.PARALLELS_OUT),),
        why=(because(ReasonKind.TILTED, tilt=1.5),),
        minutes=75,
    )


def _wheels() -> Setup:
    drill = Cutter(name="No 43 drill", kind=ToolKind.DRILL, diameter=2.2606, point=118)
    return Setup(
        id="3",
        work="hanger",
        stage="piece",
        copies=2,
        machine="old mill",
        machine_kind=MachineKind.MILL,
        holding=Holding(
            way="vise",
            device="3 inch vise",
            up=Face.TOP,
            fixed_jaw=Face.BACK,
            packing=28.575,
            parallels=(25.4, 3.175),
            grip=3.175,
            stick_up=3.175,
            opening=19.05,
        ),
        zero_x=Zero(find="left", set_to=-2.54, finder=5.08),
        zero_y=Zero(find="fixed jaw", set_to=-2.54, finder=5.08),
        zero_z=Zero(find="rest", set_to=10, gauge=10),
        operations=(
            Operation(
                id="hanger/fixing holes/drill",
                does=Process.DRILL,
                features=("fixing holes",),
                cutter=drill,
                moves=(Plunge(does=Does.DRILL, x=30.1625, y=-4.7625, z=-8),),
                rpm=1800,
                feed=50.8,
                checks=(
                    Expect(
                        name="fixing holes/position",
                        sort=CheckSort.POSITION,
                        runs=from_face(Face.RIGHT, EndKind.HOLE),
                        with_="caliper",
                        with_kind="caliper",
                        low=4.6355,
                        nominal=4.7625,
                        high=4.8895,
                        text="3/16",
                    ),
                ),
            ),
        ),
        minutes=25,
    )


@pytest.fixture(scope="session")
def route() -> Route:
    """Three setups."""
    return Route(
        build="Quarry wagon, running gear",
        bars=(
            BarPiece(
                id="bar for axlebox",
                part="axlebox",
                material="phosphor bronze",
                stock="28 x 22",
                shape="rectangle",
                width=28,
                height=22,
                length=140,
                pieces=4,
                to_buy=True,
            ),
        ),
        setups=(_saw(), _slot(), _wheels()),
        index=(
            Made(
                part="axlebox",
                dimension="guide slots/width",
                operation="axlebox/guide slots/mill",
                setup="2",
            ),
        ),
        summary=Summary(
            hours=2.0,
            buy=(
                Item(
                    kind=ItemKind.BAR,
                    names={"material": "phosphor bronze", "bar": "28 x 22"},
                    lengths={"total": 140.0},
                    pieces=(140.0,),
                ),
            ),
            bound_hours=1.9,
            one_part_at_a_time_hours=3.5,
        ),
    )
