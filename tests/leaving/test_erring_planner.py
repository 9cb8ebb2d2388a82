"""A planner that errs, in each way of holding there is: its proof finds it out, and what then comes
is another plan that the proof passes, or the feature left, never an end of it all."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from barstock import api
from barstock.planning import part_plan
from barstock.planning.holding.ways import WAYS
from barstock.route import Cutter, FileSquare, Move, Operation, Process, SawOff, Setup, Shape

SHOP = (Path(__file__).parents[2] / "src/barstock/samples/wagon/workshop.yaml").read_text("utf-8")
SMALL_VISE = {
    "jaw depth: 28, opening: 75": "jaw depth: 12, opening: 60",
    "[6 to 24 by 2, 28, 32]": "[3, 4, 5, 6, 8]",
}
SLOW = {"speeds: 100 to 2500            # stepless": "speeds: [100, 200, 300]"}


def rack(bar: str, **of: str) -> dict[str, str]:
    """The change of the shop that puts a bar on its rack."""
    return {"    - 12 x 3 x 600\n": f"    - 12 x 3 x 600\n    - {bar}\n"} | of


def part(length: float, width: float, height: float, features: str, more: str = "") -> str:
    """A build of one part from bar as it comes."""
    return (
        f"build: Tried\nunit: mm\nparts:\n  piece: {{material: brass, length: {length}, "
        f"width: {width}, height: {height}, as bought: [front, back, top, bottom], "
        f"features: {{{features}}}{more}}}\n"
    )


HOLE = "hole: {kind: hole, face: top, at: {left: 9, front: 6}, depth: through, diameter: 4}"
END_HOLE = "hole: {kind: hole, face: right, diameter: 3, depth: 10, at: {front: 6, bottom: 5}}"
SIEVE = ", ".join(f"{{left: {x}, front: 10}}" for x in range(10, 48, 4))
RAMP = (
    "ramp: {kind: slot, face: top, along: width, position: {length: centre}, width: 10, "
    "depth: 6, lean: 8, wide end: front, depth at: back}"
)
LUG = """\
eye: {kind: hole, face: top, at: {left: 10, front: 10}, depth: through, diameter: 6},
foot: {kind: hole, face: top, at: {left: 42, front: 10}, depth: through, diameter: 4.5},
round: {kind: outline, face: top, finish: milled, start: {left: 10, front: 0}, path: [
  {to: {left: 50, front: 4}}, {to: {left: 50, front: 16}}, {to: {left: 10, front: 20}},
  {to: {left: 10, front: 0}, arc: 10, turn: left}]}"""
PIN = """\
build: Tried
unit: mm
parts:
  piece:
    material: brass
    length: 48
    diameter: 16
    features:
"""
FLAT = """\
      flat: {kind: step, face: top, edge: left, width: 12, depth: 2.5}
"""
CROSS = """\
      across: {kind: hole, face: top, at: {right: 2, width: centre}, depth: through, diameter: 1}
"""
CENTRE = """\
      centre: {kind: hole, face: right, at: {width: centre, height: centre}, depth: 8, diameter: 3}
"""
TRIED: dict[str, tuple[str, dict[str, str]]] = {
    "vise": (part(30, 12, 12, HOLE), {}),
    "saw vise": (part(30, 12, 12, HOLE), {}),
    "on end": (part(30, 12, 10, END_HOLE), rack("12 x 10 x 300")),
    "clamp block": (
        part(50, 12, 10, END_HOLE),
        rack("12 x 10 x 300") | SMALL_VISE | {"clamps: true": "clamp block: {high: 35}"},
    ),
    "angle plate": (
        part(140, 40, 20, END_HOLE),
        rack("40 x 20 x 500", **{"angle plate: true": "angle plate: {wide: 150, high: 120}"}),
    ),
    "straps on the table": (part(150, 100, 10, HOLE), rack("100 x 10 x 500")),
    "drill press": (
        part(
            60,
            20,
            6,
            f"holes: {{kind: hole, face: top, diameter: 1.5, depth: through, at: [{SIEVE}]}}",
            ", copies: 2",
        ),
        rack("20 x 6 x 300") | SLOW,
    ),
    "tilted table": (
        part(120, 40, 12, RAMP),
        rack("40 x 12 x 500", **{"clamps: true": "clamps: true\n  tilting table: 45"}),
    ),
    "fixture block": (part(50, 20, 5, LUG), {}),
    "V-block, lying": (PIN + FLAT, rack("round 16 x 400")),
    "V-block, standing": (PIN + FLAT + CENTRE, rack("round 16 x 400")),
    "vise, round work": (
        PIN.replace("length: 48", "length: 14").replace("diameter: 16", "diameter: 8") + CROSS,
        rack("round 8 x 400"),
    ),
    "bench vise": (
        part(30, 12, 12, HOLE + ", edge: {kind: edge, between: [left, top], radius: 3}"),
        {},
    ),
}


def wrong(setup: Setup) -> Setup:
    """The setup with a mistake in it: its zeros half a millimetre out, a wrong cutter or line."""
    if setup.zero_x.find != "none":
        zeros = {"zero_x": setup.zero_x, "zero_z": setup.zero_z}
        out = {n: z.model_copy(update={"set_to": z.set_to + 0.5}) for n, z in zeros.items()}
        return setup.model_copy(update=out)
    return setup.model_copy(update={"operations": tuple(map(wrongly_done, setup.operations))})


def wrongly_done(operation: Operation) -> Operation:
    thick: Cutter = operation.cutter.model_copy(
        update={"diameter": operation.cutter.diameter + 1.0}
    )
    moves = tuple(map(wrongly_moved, operation.moves))
    return operation.model_copy(update={"moves": moves, "cutter": thick})


def wrongly_moved(move: Move) -> Move:
    if isinstance(move, SawOff):
        return move.model_copy(update={"each": move.each - 6.0})
    if isinstance(move, FileSquare):
        return move.model_copy(update={"leaves": move.leaves - 2.0})
    if isinstance(move, Shape):
        return move.model_copy(update={"outline": tuple((u + 1, v, b) for u, v, b in move.outline)})
    return move


def folder(place: Path, way: str) -> Path:
    build, changes = TRIED[way]
    shop = SHOP
    for was, now in changes.items():
        assert was in shop
        shop = shop.replace(was, now)
    (place / "build.yaml").write_text(build, encoding="utf-8")
    (place / "workshop.yaml").write_text(shop, encoding="utf-8")
    return place


def planted(
    monkeypatch: pytest.MonkeyPatch, way: str, mistake: Callable[[Setup], Setup]
) -> list[str]:
    """Have the planner make a mistake in every setup held in a way; the operations it spoils."""
    spoilt: list[str] = []
    for name in ("make_setup", "_sawing"):
        honest = getattr(part_plan, name)

        def erring(*given: object, honest: Callable[..., Setup] = honest) -> Setup:
            setup = honest(*given)
            if setup.holding.way != way:
                return setup
            spoilt.extend(operation.id for operation in setup.operations)
            return mistake(setup)

        monkeypatch.setattr(part_plan, name, erring)
    return spoilt


def ids(setup: Setup) -> list[str]:
    return [operation.id for operation in setup.operations]


def test_each_way_of_holding_is_tried() -> None:
    assert set(TRIED) == set(WAYS)


@pytest.mark.parametrize("way", TRIED)
def test_a_planner_that_errs_ends_in_a_proof_or_in_what_is_left(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, way: str
) -> None:
    spoilt = planted(monkeypatch, way, wrong)
    made = api.plan(folder(tmp_path, way), pictures=False)
    assert spoilt, "the way was never taken"
    assert made.proof.ok
    assert made.left or all(s.holding.way != way for s in made.route.setups)
    assert (made.folder / "pack.pdf").exists()
    done = {o.id.rpartition("/")[0] for s in made.route.setups for o in s.operations}
    lacking = [one for one in spoilt if one.rpartition("/")[0] not in done]
    assert not lacking or made.left
    assert all(one.tried and all(t.refusal for t in one.tried) for one in made.left)


def test_where_one_vise_is_misjudged_another_is_taken(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place = folder(tmp_path, "vise")
    shop, vise = place / "workshop.yaml", "{jaw width: 80, jaw depth: 28, opening: 75}\n"
    text = shop.read_text(encoding="utf-8")
    assert vise in text
    shop.write_text(text.replace(vise, f"{vise}    other vise: {vise}"), encoding="utf-8")
    spoilt = planted(
        monkeypatch, "vise", lambda s: wrong(s) if s.holding.device == "machine vise" else s
    )
    made = api.plan(place, pictures=False)
    assert made.proof.ok
    assert not made.left
    held = {s.holding.device for s in made.route.setups if "piece/hole/drill" in ids(s)}
    assert "piece/hole/drill" in spoilt
    assert held == {"other vise"}


def test_a_grip_that_is_not_there_is_found_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def loose(setup: Setup) -> Setup:
        more = setup.holding.grip - 1.0
        held = {"packing": setup.holding.packing + more}
        held["parallels"] = (*setup.holding.parallels, more)
        return setup.model_copy(update={"holding": setup.holding.model_copy(update=held)})

    assert planted(monkeypatch, "vise", loose) == []
    made = api.plan(folder(tmp_path, "vise"), pictures=False)
    assert made.proof.ok
    assert made.left
    assert any("grip" in t.refusal for one in made.left for t in one.tried)


def test_a_planner_that_breaks_leaves_what_it_breaks_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(setup: Setup) -> Setup:
        if any("/edge/" in operation.id for operation in setup.operations):
            raise RuntimeError("a slip of the pen")
        return setup

    planted(monkeypatch, "bench vise", broken)
    made = api.plan(folder(tmp_path, "bench vise"), pictures=False)
    assert made.proof.ok
    assert [one.features for one in made.left] == [("edge",)]
    assert "a slip of the pen" in made.left[0].tried[0].refusal
    assert any("/hole/" in o.id for s in made.route.setups for o in s.operations)


def test_a_feature_that_spoils_the_ends_of_the_bar_is_left_and_not_the_part(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    honest = part_plan.make_setup

    def erring(*given: Any) -> Setup:
        setup, features = honest(*given), [f.name for f in given[3].part.features]
        if "notch" not in features:
            return setup
        made = (wrongly_done(o) if o.does is Process.SQUARE else o for o in setup.operations)
        return setup.model_copy(update={"operations": tuple(made)})

    monkeypatch.setattr(part_plan, "make_setup", erring)
    place = folder(tmp_path, "vise")
    notch = ", notch: {kind: step, face: top, edge: right, width: 5, depth: 3}"
    (place / "build.yaml").write_text(part(30, 12, 12, HOLE + notch), encoding="utf-8")
    made = api.plan(place, pictures=False)
    assert made.proof.ok
    assert [one.features for one in made.left] == [("notch",)]
    assert any("/hole/" in o.id for s in made.route.setups for o in s.operations)
