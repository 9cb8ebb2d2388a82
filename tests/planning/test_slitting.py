"""Narrow deep slots are sawn by the slitting saws that the shop owns, and proven with the disc."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import pi
from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.errors import UnplannableError
from barstock.handbook.slitting_saws import deepest_slot
from barstock.planning.plan import plan_build
from barstock.proving.proof_record import PartProof
from barstock.proving.prove import Job, prove_part, works_of
from barstock.proving.wanted import wanted
from barstock.route import Cutter, Operation, Route, Setup, Traverse
from barstock.words.cautions import of_operation
from barstock.words.operation_lines import lines as operation_lines
from barstock.words.reader import Reader
from barstock.workshop.shop import BarStock, Holder, Tool, ToolKind, Workshop
from barstock.workshop.shop_reading import read_workshop

from .conftest import bought, built, dialled, find, sample

BLOCK = """
build: Clamp block
unit: mm
parts:
  block: {material: mild steel, length: 50, width: 25, height: 40, bar: flat,
    as bought: [front, back, top, bottom], features: {
    slit: {kind: slot, face: FACE, along: ALONG, position: {PLACE}, width: WIDTH, depth: 8}}}
"""
SLIT = "block/slit/slit"
SAWS = ((63, 1.0, 31.5), (63, 1.6, 31.5), (80, 3.0, 40))


def shop(saws: tuple[tuple[float, float, float], ...] = SAWS) -> Workshop:
    """The wagon's shop with slitting saws of a diameter, a thickness and a collar each."""
    made = tuple(
        Tool(f"slitting saw {d:g}, {t:g} thick", ToolKind.SLITTING_SAW, d, t, 40.0, collar,
             holder=Holder.ARBOR, teeth=64, centre_cutting=False)
        for d, t, collar in saws
    )  # fmt: skip
    owned = sample("wagon")[1]
    bar = BarStock("flat", "mild steel", "rectangle", 25, 40, 500)
    return replace(owned, rack=(bar,), tools=(*owned.tools, *made))


def planned(
    folder: Path, face: str = "top", along: str = "length", place: str = "width: centre",
    width: str = "1.6", owned: Workshop | None = None,
) -> tuple[Build, Route]:  # fmt: skip
    text = BLOCK.replace("FACE", face).replace("ALONG", along).replace("PLACE", place)
    build = built(folder, text.replace("WIDTH", width))
    return build, plan_build(build, owned or shop(), steps=150_000)


@pytest.fixture(scope="module")
def block(tmp_path_factory: pytest.TempPathFactory) -> tuple[Build, Route]:
    return planned(tmp_path_factory.mktemp("block"))


def proof(
    block: tuple[Build, Route], change: Callable[[Operation], Operation] = lambda o: o
) -> PartProof:
    """The proof of the part with the sawing of its slot changed."""
    build, route = block
    bars, setups = works_of(route, build.parts[0])

    def changed(setup: Setup) -> Setup:
        done = tuple(change(o) if o.id == SLIT else o for o in setup.operations)
        return setup.model_copy(update={"operations": done})

    job = Job(wanted(build.parts[0]), bars, tuple(map(changed, setups)), 1, build.least_wall)
    return prove_part(job)


def refusals(block: tuple[Build, Route], change: Callable[[Operation], Operation]) -> str:
    return "\n".join(str(v) for v in proof(block, change).violations if v.severity == "error")


def runs(operation: Operation) -> list[Traverse]:
    return [move for move in operation.moves if isinstance(move, Traverse)]


@pytest.mark.parametrize(
    ("face", "along", "place"),
    [
        ("top", "length", "width: centre"),
        ("front", "length", "height: centre"),
        ("right", "width", "height: centre"),
        ("left", "height", "width: centre"),
        ("top", "width", "length: centre"),
    ],
)
def test_it_comes_out_as_drawn_from_any_side(
    tmp_path: Path, face: str, along: str, place: str
) -> None:
    made = planned(tmp_path, face, along, place)
    setup, sawn = find(made[1], SLIT)
    assert (sawn.cutter.diameter, sawn.cutter.flute) == (63, 1.6)
    assert face in (setup.holding.fixed_jaw.opposite, "left", "right")
    found = proof(made)
    assert [str(v) for v in found.violations] == []
    assert found.deviation < 0.01
    assert bought(made[1]) == []


def test_it_goes_in_a_little_at_each_pass_and_past_both_ends(block: tuple[Build, Route]) -> None:
    sawn = runs(find(block[1], SLIT)[1])
    # 8 deep by a saw 1.6 thick, three times its thickness at a pass: 4, then 8.
    depths = [abs(move.points[0][1] - sawn[0].points[0][1]) for move in sawn]
    assert depths == pytest.approx([0, 4])
    for move in sawn:
        (x, _), (x1, _) = move.points
        # Fed to the right in front of the work, against a cutter that turns clockwise from above.
        assert x < 0 < 50 < x1


def test_its_speed_and_cautions(block: tuple[Build, Route]) -> None:
    _, sawn = find(block[1], SLIT)
    # Surface speed is pi times diameter times turns.
    assert sawn.surface_speed == pytest.approx(pi * 63 * sawn.rpm / 1000, abs=0.1)
    assert "jams bursts" in " ".join(of_operation(sawn, Reader()))


def test_it_is_told(block: tuple[Build, Route]) -> None:
    _, sawn = find(block[1], SLIT)
    lines = list(operation_lines(sawn, Reader()))
    assert [line.words.split(";")[0] for line in lines] == ["Saw, pass 1 of 2", "Saw, pass 2 of 2"]
    for line, move in zip(lines, runs(sawn), strict=True):
        assert float(dialled(line)["Z"].replace("−", "-").split()[0]) == move.z


@pytest.mark.parametrize(
    ("width", "thick", "heights"),
    [("3 ±0.05", 3.0, 1), ("2.4 ±0.05", 1.6, 2), ("1 ±0.05", 1.0, 1)],
)
def test_the_saw_that_suits_the_width(
    tmp_path: Path, width: str, thick: float, heights: int
) -> None:
    owned = shop()
    none = replace(owned, tools=tuple(t for t in owned.tools if t.kind is not ToolKind.END_MILL
                                      or t.diameter > 5))  # fmt: skip
    made = planned(tmp_path, width=width, owned=none)
    _, sawn = find(made[1], SLIT)
    assert sawn.cutter.flute == thick
    assert len({move.z for move in runs(sawn)}) == heights
    assert proof(made).ok


def test_a_collar_may_leave_too_little_of_the_saw(tmp_path: Path) -> None:
    assert deepest_slot(63, 50) == 6.5  # half of what the saw is larger than its collar
    made = planned(tmp_path, owned=shop(((63, 1.6, 50),)))
    assert find(made[1], SLIT)[1].cutter.shank < 50  # it is not the one that is owned
    assert any("slitting saw" in line for line in bought(made[1]))


def test_an_end_mill_that_is_owned_is_taken_first(tmp_path: Path) -> None:
    mill = Tool("slot drill 1.6", ToolKind.END_MILL, 1.6, 9, 15, 3)
    owned = shop()
    made = planned(tmp_path, owned=replace(owned, tools=(*owned.tools, mill)))
    assert find(made[1], "block/slit/mill")[1].cutter.name == "slot drill 1.6"


def cutter(**new: float) -> Callable[[Operation], Operation]:
    def change(o: Operation) -> Operation:
        changed: Cutter = o.cutter.model_copy(update=new)
        return o.model_copy(update={"cutter": changed})

    return change


def moved(x: float = 0.0, y: float = 0.0, z: float = 0.0, short: float = 0.0) -> Callable[
    [Operation], Operation
]:  # fmt: skip
    """The sawing with every reading wrong by so much, or stopped short of the far end."""

    def change(o: Operation) -> Operation:
        new = []
        for m in runs(o):
            (a, b), (c, d) = m.points
            ends = ((a + x, b + y), (c + x - short, d + y))
            new.append(m.model_copy(update={"points": ends, "z": m.z + z}))
        return o.model_copy(update={"moves": tuple(new)})

    return change


@pytest.mark.parametrize(
    ("change", "words"),
    [
        # Stopped 30 mm before it runs out, the disc leaves its own radius at that end.
        (moved(short=30), "0.800 mm is left by a cutter of 63 mm"),
        (moved(z=0.3), "cut away that the drawing keeps"),
        (moved(y=-0.4), "0.400 mm left on"),
        (cutter(flute=2.0), "cut away that the drawing keeps"),
        (cutter(shank=50), "the arbor of slitting saw 63"),
        (moved(z=-9), "jaw"),
    ],
)
def test_mistakes_are_refused(
    block: tuple[Build, Route], change: Callable[[Operation], Operation], words: str
) -> None:
    assert words in refusals(block, change)


def test_the_workshop_says_how_wide_the_collar_is(tmp_path: Path) -> None:
    written = tmp_path / "workshop.yaml"
    written.write_text(
        "workshop: Shed\nunit: mm\ntools:\n  slitting saws: "
        "[{size: 63, thickness: 1}, {size: 80, thickness: 2, collar: 36}]\n",
        encoding="utf-8",
    )
    found, faults = read_workshop(written)
    assert found is not None, faults
    # Where nothing is said, half of the saw's diameter.
    assert [(t.flute, t.shank) for t in found.tools] == [(1, 31.5), (2, 36)]


CLAMP = """
build: Split clamp
unit: mm
parts:
  clamp: {material: mild steel, length: 50, width: 25, height: 40, bar: flat,
    as bought: [front, back, top, bottom], features: {
    bore: {kind: hole, face: FACE, at: {left: 14, MIDDLE: centre}, diameter: 8, depth: through,
      breaks into: slit},
    slit: {kind: slot, face: FACE, along: length, position: {MIDDLE: centre}, width: 1.6,
      open at: left, length: 13, depth: through}}}
"""


@pytest.mark.parametrize(("face", "middle"), [("top", "width"), ("front", "height")])
def test_a_slit_into_a_bore_is_sawn_from_its_open_end(
    tmp_path: Path, face: str, middle: str
) -> None:
    build = built(tmp_path, CLAMP.replace("FACE", face).replace("MIDDLE", middle))
    route = plan_build(build, shop(), steps=150_000)
    setup, sawn = find(route, "clamp/slit/slit")
    assert sawn.cutter.kind is ToolKind.SLITTING_SAW
    assert setup.holding.stop == "left"
    bars, setups = works_of(route, build.parts[0])
    found = prove_part(Job(wanted(build.parts[0]), bars, setups, 1, build.least_wall))
    assert [str(v) for v in found.violations] == []


def test_a_saw_is_bought_where_no_end_mill_is_sold(tmp_path: Path) -> None:
    made = planned(tmp_path, width="1.6", owned=shop(()))
    _, sawn = find(made[1], SLIT)
    # 8 deep beside collars of half its diameter: the least saw sold leaves 15.75.
    assert (sawn.cutter.diameter, sawn.cutter.flute) == (63, 1.6)
    assert any("slitting saw 63 mm, 1.6 thick" in line for line in bought(made[1]))
    assert proof(made).ok


def test_nothing_is_bought_where_no_saw_goes_so_deep(tmp_path: Path) -> None:
    # Half of what the largest saw sold is larger than its collars is 31.25.
    deep = BLOCK.replace("depth: 8", "depth: 33").replace("FACE", "top").replace("ALONG", "length")
    build = built(tmp_path, deep.replace("PLACE", "width: centre").replace("WIDTH", "1.6"))
    with pytest.raises(UnplannableError, match="end mill of"):
        plan_build(build, shop(()))
