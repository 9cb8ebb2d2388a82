"""Every figure to dial is read back from the pages and found in the moves that were proved, and
every move on the pages: in millimetres, in inches, and in turns of a handwheel."""

from __future__ import annotations

import importlib.util
import sys
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.methods.part_checks import check_part
from barstock.pack.compose import compose
from barstock.pack.pack_pages import Pack, SetupPage
from barstock.pack.webpage import html
from barstock.planning.plan import plan_build
from barstock.quantities import Unit
from barstock.route import (
    Does,
    FileLevel,
    Operation,
    Plunge,
    Route,
    SawOff,
    Setup,
    Shape,
    Traverse,
    Zero,
)
from barstock.workshop.shop import Axis, BarStock, Machine, Workshop
from barstock.workshop.shop_reading import find_workshop, read_workshop

from .printed_pages import INCH, Dialled, Row, dials, lengths, of_html, of_pack

ROOT = Path(__file__).parents[2]
SAMPLES = ROOT / "src" / "barstock" / "samples"
SCRIPT = ROOT / "benchmarks" / "random_parts.py"
SPEC = importlib.util.spec_from_file_location("drawn_by_chance", SCRIPT)
assert SPEC
assert SPEC.loader
script = importlib.util.module_from_spec(SPEC)
sys.modules[SPEC.name] = script
SPEC.loader.exec_module(script)

FLOAT = 1e-6
"""What arithmetic alone may be out [mm]."""
METRIC = {"per_turn": 2.0, "divisions": 100, "unit": Unit.MM}
ENGLISH = {"per_turn": 0.1 * INCH, "divisions": 100, "unit": Unit.INCH}
Told = tuple[Build, Workshop, Route]


# -- what is planned -------------------------------------------------------------------------------


def sample(name: str) -> tuple[Build, Workshop]:
    build = read_build(SAMPLES / name, KINDS).build
    shop, _ = read_workshop(find_workshop(SAMPLES / name))
    assert build
    assert shop
    return build, shop


def drawn(number: int, folder: Path) -> tuple[Build, Workshop]:
    """A part drawn by chance that `check` passes, and the wagon's shop with a bar for it."""
    draughtsman = script.Draughtsman(7, number)
    for _ in range(script.MOST_DRAWN):
        drawing = draughtsman.draw()
        (folder / "build.yaml").write_text(drawing.text, encoding="utf-8")
        reading = read_build(folder, KINDS)
        wrong = [fault for fault in reading.faults if fault.grade == "error"]
        if reading.build and not wrong:
            (part,) = reading.build.parts
            if not check_part(part, reading.build.least_wall):
                bar = BarStock(
                    "bar", part.material, "rectangle", drawing.width, drawing.height, 600.0
                )
                return reading.build, replace(sample("wagon")[1], rack=(bar,))
    raise AssertionError("no part passes the check")


def outlines() -> tuple[Build, Workshop]:
    """Two parts with milled outlines, and the wagon's shop with bars for them."""
    build = read_build(ROOT / "tests" / "planning" / "outlines", KINDS).build
    assert build
    bars = (
        BarStock("flat", "mild steel", "rectangle", 20, 6, 300),
        BarStock("plate", "brass", "rectangle", 30, 5, 300),
    )
    return build, replace(sample("wagon")[1], rack=bars)


def on_wheels(shop: Workshop, wheel: dict[str, object]) -> Workshop:
    """The shop, its readouts taken off and its slides read by such wheels."""

    def fitted(machine: Machine) -> Machine:
        axes: dict[str, Axis | None] = {"x": machine.x, "y": machine.y, "z": machine.z}
        wheels = {
            name: Axis(axis.travel, **wheel) if axis and axis.readout else axis  # type: ignore[arg-type]
            for name, axis in axes.items()
        }
        return replace(machine, **wheels)

    return replace(shop, machines=tuple(map(fitted, shop.machines)))


def planned(build: Build, shop: Workshop) -> Told:
    return build, shop, plan_build(build, shop, steps=150_000)


# -- reading back ----------------------------------------------------------------------------------


def read_back(told: Told, seen: set[Does]) -> None:
    """Read the pages of a plan in every unit, as data and as text, against its moves."""
    build, shop, route = told
    for unit in (None, *Unit):
        pack = compose(route, build, shop, {}, {}, unit=unit)
        for rows in (list(of_pack(pack)), of_html(html(pack, {}))):
            assert rows
            _all(pack, rows, told, seen)


def _all(pack: Pack, rows: Sequence[Row], told: Told, seen: set[Does]) -> None:
    _, shop, route = told
    machines = {machine.name: machine for machine in shop.machines}
    found: dict[tuple[str, int], list[Row]] = defaultdict(list)
    for row in rows:
        found[row.setup, row.operation].append(row)
    for page, setup in zip(pack.setups, route.setups, strict=True):
        machine = machines.get(setup.machine)
        read_in = dials(page.readings_in)
        half = {axis: _half(machine, axis) for axis in "XYZ"}
        _zeros(page, setup, read_in, half)
        _set_up(setup, found[setup.id, 0])
        for number, operation in enumerate(setup.operations, 1):
            mine = found.pop((setup.id, number), [])
            _dialled(operation, mine, read_in, half)
            _by_hand(operation, mine, route)
            seen |= {m.does for m in operation.moves if not isinstance(m, SawOff | FileLevel)}
    assert not [key for key in found if key[1]], "lines of an operation that is not in the route"


def _half(machine: Machine | None, name: str) -> float:
    """Half the least step that an axis can be set to [mm]."""
    axis: Axis | None = getattr(machine, name.lower(), None)
    if axis is None:
        return FLOAT
    step = axis.readout or axis.per_turn / (axis.divisions or 1) / 2
    return step / 2 + FLOAT


def _near(at: float, places: Sequence[float], within: float) -> bool:
    return any(abs(at - place) <= within for place in places)


def _places(operation: Operation) -> list[dict[str, list[float]]]:
    """The readings of each move of the cutter, by axis [mm]."""
    found = []
    for move in operation.moves:
        if isinstance(move, Traverse):
            xs, ys = ([p[i] for p in move.points] for i in (0, 1))
            found.append({"X": xs, "Y": ys, "Z": [move.z]})
        elif isinstance(move, Plunge) and not move.follow:
            found.append({"X": [move.x], "Y": [move.y], "Z": [move.z]})
    return found


def _dialled(
    operation: Operation, rows: Sequence[Row], read_in: dict[str, Dialled], half: dict[str, float]
) -> None:
    """Each printed reading is in the moves, each move in one printed line."""
    moves = _places(operation)
    tips = [m.tip for m in operation.moves if isinstance(m, Plunge) and m.tip is not None]
    told = [
        {axis: [read_in[axis].read(text) for text in texts] for axis, texts in row.axes.items()}
        for row in rows
    ]
    for line in told:
        for axis, readings in line.items():
            known = [at for move in moves for at in move[axis]] + (tips if axis == "Z" else [])
            for reading in readings:
                assert _near(reading, known, half[axis]), (operation.id, axis, reading, known)
    cuts = [int(row.words.split()[2]) for row in rows if row.words.startswith("Rough in")]
    assert sum(cuts) == sum(
        isinstance(m, Traverse) and m.does is Does.ROUGH for m in operation.moves
    )
    for move in moves:
        assert any(
            all(
                _near(at, line.get(axis, []), half[axis])
                for axis, ats in move.items()
                for at in ats
            )
            for line in told
        ), (operation.id, move, told)
    for tip in tips:
        assert any(_near(tip, line.get("Z", []), half["Z"]) for line in told), operation.id


def _by_hand(operation: Operation, rows: Sequence[Row], route: Route) -> None:
    """What is sawn, marked out and filed, and the sizes within the words."""
    set_to = [[lengths(text)[0] for text in row.others if lengths(text)] for row in rows]
    for move in operation.moves:
        if isinstance(move, SawOff):
            assert any(-FLOAT <= length - move.each <= SAWN for length in set_to[0])
            (bar,) = (b for b in route.bars if operation.id.startswith(f"{b.part}/"))
            pieces = bar.pieces * (bar.count - 1) + (bar.last_pieces or bar.pieces)
            assert sum(map(int, rows[1].others[0].split(" / "))) == pieces
        elif isinstance(move, FileLevel):
            assert set_to[0] == pytest.approx(move.at, abs=FINE)
            assert _near(move.proud, lengths(rows[0].words), FINE)
        elif isinstance(move, Shape):
            _marked(move, rows, set_to)
        elif move.does is Does.BEVEL:
            (row,) = (row for row in rows if row.words.startswith("Bevel"))
            assert _near(operation.size, lengths(row.words), FINE)


FINE, ROUGH = 0.00005 * INCH + FLOAT, 0.005 * INCH + FLOAT
"""Half the last digit printed of a length to measure, and of one to set a stop to [mm]."""
SAWN = 0.01 * INCH + FLOAT
"""The last digit printed of a length to saw, which is rounded up to it [mm]."""


def _set_up(setup: Setup, rows: Sequence[Row]) -> None:
    """What is set while setting up is of the bodies that hold the work, or of its tilt."""
    h = setup.holding
    known = [h.packing]
    for body in h.bodies:
        corners = [*body.low, *body.high, *body.middle, *body.size]
        known += [abs(at) for at in corners] + [body.high[2] - h.packing]
        for block in h.bodies[:1]:
            known += [at - low for at, low in zip(body.middle, block.low, strict=True)]
    if h.tilt_set:
        known += [h.tilt_set.height, h.tilt_set.rise]
    for row in rows:
        for text in row.others:
            for length in lengths(text):
                assert _near(length, known, ROUGH), (setup.id, row.words, length)


def _marked(move: Shape, rows: Sequence[Row], set_to: Sequence[Sequence[float]]) -> None:
    words = lengths(rows[0].words)
    if move.does is Does.FILE_EDGE:
        (_, (u, *_), _, (_, v, _), _) = move.outline
        assert sorted({round(w, 1) for w in words}) == sorted({round(u, 1), round(v, 1)})
        return
    if move.does is Does.FILE_LEFT:
        assert _near(move.most, words, FINE)
        return
    if move.leave:
        assert _near(move.leave, words, INCH / 64)
    points = move.marked or move.outline
    assert len(set_to[1:]) == len(points)
    for printed, (u, v, _) in zip(set_to[1:], points, strict=True):
        assert printed == pytest.approx([u, v], abs=FINE)


def _zeros(
    page: SetupPage, setup: Setup, read_in: dict[str, Dialled], half: dict[str, float]
) -> None:
    """What an axis is set to where its zero is found, or how far it is wound on to 0 from there."""
    zeros: dict[str, Zero] = {"X": setup.zero_x, "Y": setup.zero_y, "Z": setup.zero_z}
    assert [z.axis for z in page.zeros] == [a for a, zero in zeros.items() if zero.find != "none"]
    for printed in page.zeros:
        wanted, dial = zeros[printed.axis].set_to, read_in[printed.axis]
        at = dial.read(" ".join(run.text for run in printed.set_to))
        if "wind on " in printed.words:
            on = printed.words.partition("wind on ")[2]
            on, _, way = on.partition(" div ")
            rising = "to the right" in way or "away from you" in way
            assert at == 0.0
            at = dial.read(f"{on} div") * (-1 if rising else 1)
        assert at == pytest.approx(wanted, abs=half[printed.axis])


# -- the plans -------------------------------------------------------------------------------------

SHOPS: dict[str, Callable[[Workshop], Workshop]] = {
    "as it is": lambda shop: shop,
    "metric wheels": lambda shop: on_wheels(shop, METRIC),
    "English wheels": lambda shop: on_wheels(shop, ENGLISH),
}


@pytest.mark.parametrize(
    ("name", "shop"),
    [
        ("bracket", "as it is"),  # it has English wheels
        ("new", "as it is"),
        ("new", "metric wheels"),
        ("wagon", "as it is"),
        ("wagon", "metric wheels"),
    ],
)
def test_a_samples_pages_and_its_moves_say_the_same(name: str, shop: str) -> None:
    build, owned = sample(name)
    read_back(planned(build, SHOPS[shop](owned)), set())


def test_so_do_those_of_parts_drawn_by_chance(tmp_path: Path) -> None:
    seen: set[Does] = set()
    for number in range(1, 7):
        build, owned = drawn(number, tmp_path)
        for shop in ("as it is", "metric wheels" if number % 2 else "English wheels"):
            read_back(planned(build, SHOPS[shop](owned)), seen)
    cut = {Does.ROUGH, Does.FLOOR, Does.WALL, Does.CLEAN_UP, Does.FINISH, Does.BEVEL}
    sunk = {Does.SPOT, Does.DRILL, Does.FLAT, Does.COUNTERSINK}
    assert cut | sunk <= seen


def test_so_do_those_of_milled_outlines() -> None:
    build, owned = outlines()
    seen: set[Does] = set()
    for name in ("as it is", "metric wheels"):
        read_back(planned(build, SHOPS[name](owned)), seen)
    assert {Does.ROUGH_SIDE, Does.SIDE, Does.ARC, Does.SAW, Does.FILE_LEFT} <= seen
