"""A small part as a user writes it, planned in an ordinary shop and proved."""

from dataclasses import replace
from functools import cache
from pathlib import Path

from barstock.drawing.build import Build
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.methods.part_checks import check_part
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.route import Operation, Route
from barstock.workshop.shop import BarStock, Workshop
from barstock.workshop.shop_reading import read_workshop

SHOPS = Path(__file__).parents[1] / "drawings"


@cache
def shop(unit: str) -> Workshop:
    """The ordinary home shop of that unit, "mm" or "inch"."""
    name = {"mm": "metric_shop", "inch": "inch_shop"}[unit]
    found, faults = read_workshop(SHOPS / name / "workshop.yaml")
    assert found is not None, faults
    return found


def written(
    size: str, *features: str, unit: str = "mm", copies: int = 1, material: str = "brass"
) -> str:
    """A part with these features. size: its three sizes with an x between, or of a round one "round
    diameter x length"."""
    sizes = [one.strip() for one in size.removeprefix("round ").split(" x ")]
    axes = ("diameter", "length") if size.startswith("round") else ("length", "width", "height")
    lines = ["build: Small", f"unit: {unit}", "least wall: 0.3 mm", "parts:", "  part:"]
    lines += [f"    material: {material}", f"    copies: {copies}"]
    lines += [f"    {axis}: {mm}" for axis, mm in zip(axes, sizes, strict=True)]
    lines += ["    features:"] * bool(features)
    lines += [f"      f{n}: {{{feature}}}" for n, feature in enumerate(features, 1)]
    return "\n".join(lines) + "\n"


def read(text: str, folder: Path) -> Build:
    """The build, in which nothing is found wrong."""
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    reading = read_build(folder, KINDS)
    assert reading.build is not None, reading.faults
    for part in reading.build.parts:
        faults = [f for f in check_part(part, reading.build.least_wall) if f.grade == "error"]
        assert not faults, faults
    return reading.build


def planned(text: str, folder: Path, owned: Workshop | None = None) -> tuple[Build, Route]:
    """The build and its route, from a bar of the part's own section."""
    build = read(text, folder)
    part = build.parts[0]
    _, wide, high = part.size
    shape = "round" if part.round else "rectangle"
    bar = BarStock("the bar", part.material, shape, wide, high, 600.0)
    there = owned or shop("inch" if "unit: inch" in text else "mm")
    return build, plan_build(build, replace(there, rack=(bar,)), steps=150_000)


def proved(text: str, folder: Path, owned: Workshop | None = None) -> Route:
    """The route of a build, which proves."""
    build, route = planned(text, folder, owned)
    faults = [str(v) for v in prove(route, build).violations if v.severity == "error"]
    assert not faults, faults
    return route


def operations(route: Route, feature: str) -> list[Operation]:
    """What is done for a feature, in order."""
    return [o for s in route.setups for o in s.operations if feature in o.features]
