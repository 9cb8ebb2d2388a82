"""Every piece of YAML in the pages, and every way of writing a size, is read without a fault."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from barstock.drawing.build_reading import read_build
from barstock.drawing.general_tolerance import read_general
from barstock.methods import KINDS
from barstock.quantities import Tables, Unit, parse_angle, parse_dimension
from barstock.reading.nodes import read_nodes
from barstock.workshop.shop_reading import read_workshop

from .pages import PAGES, ROOT, blocks, text

BUILD = ROOT / "docs" / "build-file.md"

SNIPPETS = [
    (page, piece) for page in PAGES if page.name != "README.md" for piece in blocks(page, "yaml")
]


@pytest.mark.parametrize(("page", "piece"), SNIPPETS, ids=lambda given: str(given)[-24:])
def test_yaml_in_the_pages_is_read(page: Path, piece: str, tmp_path: Path) -> None:
    top: dict[str, Any] = YAML(typ="safe").load(piece)
    name = "workshop.yaml" if page.name == "workshop-file.md" or "workshop" in top else "build.yaml"
    (tmp_path / name).write_text(_whole(name, top, piece), encoding="utf-8")
    if name == "workshop.yaml":
        shop, faults = read_workshop(tmp_path / name)
        assert (faults, shop is not None) == ((), True)
    else:
        reading = read_build(tmp_path, KINDS)
        assert [str(f) for f in reading.faults if f.grade == "error"] == []
        assert reading.build


def _whole(name: str, top: dict[str, Any], piece: str) -> str:
    """A piece of a file as a whole file."""
    if name == "workshop.yaml":
        return piece if "workshop" in top else f"workshop: From the pages\n{piece}"
    if "parts" in top or "build" in top:
        return piece
    if all("material" in part for part in top.values()):
        return "build: From the pages\nparts:\n" + _indented(piece, 2)
    assert all("kind" in feature for feature in top.values()), "what is this a piece of?"
    part = "material: brass\nlength: 60\nwidth: 30\nheight: 20\nfeatures:\n"
    whole = "build: From the pages\nparts:\n  part:\n"
    return whole + _indented(part, 4) + _indented(piece, 6)


def _indented(piece: str, by: int) -> str:
    return "".join(" " * by + line for line in piece.splitlines(keepends=True))


def written(heading: str) -> list[str]:
    """What stands in backticks in the first column of the table under a heading."""
    section = re.split(rf"^## {heading}$", text(BUILD), flags=re.M)[1].split("\n## ")[0]
    firsts = [row.split(" | ")[0] for row in section.splitlines() if row.startswith("| `")]
    return [form for first in firsts for form in re.findall(r"`([^`]+)`", first)]


@pytest.mark.parametrize("form", [*written("Lengths"), *written("Limits")])
def test_sizes_are_read_as_the_page_says(form: str) -> None:
    from barstock.handbook.drills import drill
    from barstock.handbook.iso_fits import limits

    size = parse_dimension(form, Unit.MM, Tables(drill, limits, lambda _: 0.1))
    assert size.low <= size.nominal <= size.high
    assert size.nominal > 0


@pytest.mark.parametrize("form", written("Angles"))
def test_angles_are_read_as_the_page_says(form: str) -> None:
    assert 0 < parse_angle(form).nominal < 4


@pytest.mark.parametrize("form", written("General tolerance"))
def test_general_tolerances_are_read_as_the_page_says(form: str, tmp_path: Path) -> None:
    (tmp_path / "one.yaml").write_text(f"general tolerance: {form}\n", encoding="utf-8")
    table, faults = read_nodes(tmp_path / "one.yaml")
    assert table is not None
    general, found = read_general(table.entries["general tolerance"], Unit.MM)
    assert (list(faults), found, general is not None) == ([], [], True)
