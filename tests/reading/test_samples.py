"""The samples read without a fault, and the schemas admit them."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock.drawing.bars_wanted import check_against
from barstock.drawing.build import Build
from barstock.drawing.build_reading import read_build
from barstock.drawing.build_schema import build_schema
from barstock.methods import KINDS
from barstock.quantities import Unit
from barstock.workshop.shop import MachineKind, ToolKind, Workshop
from barstock.workshop.shop_reading import find_workshop, read_workshop
from barstock.workshop.shop_schema import workshop_schema

SAMPLES = Path(__file__).parents[2] / "src" / "barstock" / "samples"


def build_of(name: str) -> Build:
    reading = read_build(SAMPLES / name, KINDS)
    assert reading.build is not None, reading.faults
    return reading.build


def workshop_of(name: str) -> Workshop:
    workshop, faults = read_workshop(find_workshop(SAMPLES / name))
    assert workshop is not None, faults
    return workshop


@pytest.mark.parametrize("name", ["wagon", "bracket", "new"])
def test_a_sample_is_whole(name: str) -> None:
    assert check_against(build_of(name), workshop_of(name)) == ()


def test_the_wagon_is_as_many_kinds_and_pieces_as_promised() -> None:
    build = build_of("wagon")
    assert len(build.parts) >= 6
    assert sum(part.copies for part in build.parts) >= 24
    kinds = {feature.kind for part in build.parts for feature in part.features}
    assert kinds == {"step", "slot", "hole", "pocket", "ridge", "edge", "outline", "flush"}


def test_inch_and_millimetre_stand_side_by_side_in_one_file() -> None:
    build = build_of("wagon")
    assert build.part("axlebox").size == (32, 28, 22)
    hanger = build.part("brake hanger bracket")
    assert hanger.unit is Unit.INCH
    assert hanger.size == pytest.approx((1.375 * 25.4, 0.75 * 25.4, 0.25 * 25.4))


def test_the_bracket_is_all_inches_and_its_mill_has_handwheels_only() -> None:
    assert {part.unit for part in build_of("bracket").parts} == {Unit.INCH}
    mill = workshop_of("bracket").machine(MachineKind.MILL)
    assert mill is not None
    assert mill.x is not None
    assert mill.x.readout is None
    # a tenth of an inch a turn on a hundred divisions: a thou each
    assert mill.x.per_turn / mill.x.divisions == pytest.approx(0.0254)
    assert mill.x.unit is Unit.INCH


def test_the_wagon_shop_owns_what_its_drawing_asks_for() -> None:
    tools = workshop_of("wagon").tools
    reamers = {tool.diameter for tool in tools if tool.kind is ToolKind.REAMER}
    assert reamers == {4.0, 10.0, 4.7625}
    taps = {tool.thread for tool in tools if tool.kind is ToolKind.TAP}
    assert taps == {"M2", "M2.5", "M3", "M4", "6 BA"}


def test_names_of_tools_and_bars_are_told_apart() -> None:
    for name in ("wagon", "bracket", "new"):
        shop = workshop_of(name)
        names = [tool.name for tool in shop.tools]
        assert len(set(names)) == len(names)


def test_the_schemas_name_what_may_be_written() -> None:
    schema = build_schema(KINDS)
    hole = schema["$defs"]["hole feature"]
    assert "clearance for" in hole["properties"]
    assert "kind" in hole["required"]
    features = schema["$defs"]["PartFields"]["properties"]["features"]
    assert len(features["additionalProperties"]["oneOf"]) == len(KINDS)
    assert "end mills" in workshop_schema()["$defs"]["ToolChestFields"]["properties"]


def refs(node: object) -> set[str]:
    if isinstance(node, dict):
        own = {str(node["$ref"])} if "$ref" in node else set()
        return own.union(*(refs(value) for value in node.values()))
    return set().union(*(refs(item) for item in node)) if isinstance(node, list) else set()


@pytest.mark.parametrize("schema", [build_schema(KINDS), workshop_schema()])
def test_every_reference_in_a_schema_is_defined(schema: dict[str, object]) -> None:
    defined = {f"#/$defs/{name}" for name in schema["$defs"]}  # type: ignore[attr-defined]
    assert refs(schema) <= defined


def test_a_bar_that_is_not_on_the_rack(tmp_path: Path) -> None:
    text = (SAMPLES / "new" / "build.yaml").read_text(encoding="utf-8")
    changed = text.replace("bar: 20 x 12 ", "bar: 20 x 13 ").replace("length: 1-1/4", "length: 14")
    (tmp_path / "build.yaml").write_text(changed, encoding="utf-8")
    shop, _ = read_workshop(SAMPLES / "new" / "workshop.yaml")
    build = read_build(tmp_path, KINDS).build
    assert shop is not None
    assert build is None  # front and back cannot stay as bought then
    changed = changed.replace("as bought: [front, back, top, bottom]", "as bought: [front, back]")
    (tmp_path / "build.yaml").write_text(changed, encoding="utf-8")
    build = read_build(tmp_path, KINDS).build
    assert build is not None
    assert [fault.what for fault in check_against(build, shop)] == [
        "the rack has no mild steel bar '20 x 13'",
        "the longest brass bar '3/4 x 1/8', 11.8110 in, is too short for it",
    ]


def test_a_shared_workshop_is_found_where_the_build_names_it(tmp_path: Path) -> None:
    shared = tmp_path / "shop.yaml"
    shared.write_text("workshop: Shared\n", encoding="utf-8")
    folder = tmp_path / "build"
    folder.mkdir()
    assert find_workshop(folder, "../shop.yaml").resolve() == shared
    own = folder / "workshop.yaml"
    own.write_text("workshop: Own\n", encoding="utf-8")
    assert find_workshop(folder, "../shop.yaml") == own
