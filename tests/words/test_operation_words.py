"""Every process, every move and every way of holding has its words, in either unit."""

from __future__ import annotations

import re
from typing import Any

import pytest

from barstock.drawing.build import Face
from barstock.proving.holding import WAYS
from barstock.quantities import Unit
from barstock.route import (
    Body,
    BodyKind,
    Cutter,
    Does,
    FileLevel,
    Holding,
    Operation,
    Plunge,
    Process,
    SawOff,
    Setup,
    Shape,
    TiltBy,
    TiltSetting,
    Traverse,
    Turned,
    Zero,
)
from barstock.words.bench_lines import LINES
from barstock.words.holding import held_words, setting_up
from barstock.words.lines import Line
from barstock.words.operation_lines import lines
from barstock.words.operation_titles import title
from barstock.words.plunge_lines import BESIDE, ROUND
from barstock.words.reader import Reader
from barstock.words.traverse_lines import RUNS
from barstock.workshop.shop import MachineKind, ToolKind

IN_MM, IN_INCHES = re.compile(r"\d ?mm\b|millimetre"), re.compile(r"\d ?in\b")
TOOL = Cutter(name="the tool", kind=ToolKind.TAP, diameter=6, thread="M6 fine")
EDGE = ((-1, -1, 0), (3, -1, 0), (3, 0, 0), (0, 2, 0), (-1, 2, 0))
SQUARE = ((0, 0, 0), (10, 0, 0), (10, 10, 0), (0, 10, 0))
RUN = ((0.0, 5.0), (40.0, 5.0))


def moved(does: Does) -> list[Any]:
    """Moves that do it."""
    found: list[Any] = []
    if does in RUNS:
        found.append(Traverse(does=does, points=RUN, z=-2, wall="left", point=1))
    if does in ROUND or does in BESIDE:
        found.append(Plunge(does=does, x=1, y=2, z=-3, point=1, touch=True))
    if does in LINES:
        outline = EDGE if does is Does.FILE_EDGE else SQUARE
        sides = {"face": Face.TOP, "from_u": Face.LEFT, "from_v": Face.FRONT}
        shape = Shape(does=does, outline=outline, marked=SQUARE, leave=0.6, most=0.2, **sides)
        found.append(shape)
    return found


def operation(does: Process = Process.MILL, *moves: Any) -> Operation:
    return Operation(
        id="lug/slot/mill",
        does=does,
        features=("slot",),
        face=Face.TOP,
        size=1.5,
        cutter=TOOL,
        moves=moves,
    )


def texts(told: tuple[Line, ...]) -> str:
    """All that is printed of the lines."""
    words = [one.words for one in told]
    for one in told:
        for reading in (*one.axes.values(), *one.other):
            words += [reading.label, *(run.text for value in reading.values for run in value)]
    return " ".join(words)


def check_units(mm: str, inches: str) -> None:
    """No millimetre stands where inches are read, nor an inch where millimetres are."""
    assert not IN_MM.search(inches), inches
    assert not IN_INCHES.search(mm), mm


@pytest.mark.parametrize("does", Process)
def test_every_process_has_a_title(does: Process) -> None:
    one = operation(does, SawOff(each=33.5, pieces=3, kerf=1.5))
    mm, inches = (title(one, Reader(unit)) for unit in Unit)
    assert mm.split()[0] in {*str(does).split(), "mill"}
    check_units(mm, inches)
    assert (mm != inches) == (does is Process.SAW_OFF)


@pytest.mark.parametrize("does", Does)
def test_all_that_a_move_does_has_its_line(does: Does) -> None:
    (move,) = moved(does)
    mm, inches = (texts(lines(operation(Process.MILL, move), Reader(unit))) for unit in Unit)
    assert mm
    if not isinstance(move, Plunge | Traverse):  # whose axes are read as the machine shows them
        check_units(mm, inches)


def test_filing_level_has_its_line() -> None:
    move = FileLevel(face=Face.TOP, from_u=Face.LEFT, from_v=Face.FRONT, at=(3, 4), proud=0.5)
    mm, inches = (texts(lines(operation(Process.FILE_FLUSH, move), Reader(unit))) for unit in Unit)
    assert "0.5 mm" in mm
    check_units(mm, inches)


# -- how work is held ------------------------------------------------------------------------------


def body(kind: BodyKind, **more: Any) -> Body:
    return Body(kind=kind, **({"low": (1, -20, 2), "high": (41, -3, 12), "bears": "up"} | more))


def held(way: str, **more: Any) -> Setup:
    """Work held that way, with one of every body about it."""
    bodies = tuple(body(kind, over="left", thread="M6", mouth=20.0) for kind in BodyKind)
    none = Zero(find="none")
    return Setup(
        id="1",
        work="lug",
        stage="piece",
        copies=1,
        machine="mill",
        machine_kind=MachineKind.MILL,
        holding=Holding(
            way=way,
            device="the vise",
            up=Face.TOP,
            fixed_jaw=Face.BACK,
            packing=12.7,
            parallels=(12.7,),
            grip=8,
            stick_up=6.5,
            opening=25,
            bodies=bodies,
            **more,
        ),
        zero_x=none,
        zero_y=none,
        zero_z=none,
        operations=(),
    )


@pytest.mark.parametrize("way", [*WAYS, "a way of another day"])
def test_every_way_of_holding_has_its_words(way: str) -> None:
    told = []
    for unit in Unit:
        setup = held(way, turned=Turned(feature="bore", looks="up", flat=False))
        words = [" ".join(pair) for pair in held_words(setup, Reader(unit))]
        told.append(" ".join([*words, texts(setting_up(setup, Reader(unit)))]))
    check_units(*told)


def test_a_way_without_words_of_its_own_tells_where_its_bodies_stand() -> None:
    told = setting_up(held("a way of another day"), Reader())
    assert len(told) == len(BodyKind)
    assert all(any(str(kind) in line.words for line in told) for kind in BodyKind)
    assert [run.text for run in told[0].other[0].values[0]] == ["1.0", "mm"]


@pytest.mark.parametrize("by", TiltBy)
def test_every_way_to_set_a_tilt_has_its_words(by: TiltBy) -> None:
    told = []
    for unit in Unit:
        tilt = TiltSetting(by=by, height=5.25, over=25.0, rise=1.3)
        (line,) = setting_up(held("vise", tilt=3.0, tilt_set=tilt), Reader(unit))[-1:]
        assert by in line.words or by.split()[0] in line.words
        told.append(texts((line,)))
    check_units(*told)
