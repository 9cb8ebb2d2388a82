"""Imports run downward only, the CAD kernel has one door, and planning and proof stay apart."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from .pages import ROOT, text

SOURCE = ROOT / "src" / "barstock"
MODULES = sorted(SOURCE.rglob("*.py"))
KERNEL = ("OCP", "build123d")
FREE = ("errors", "__init__")  # may be imported from anywhere


def layers(of: str = "Imports run downward only:") -> list[tuple[str, ...]]:
    """The layers as CONTRIBUTING.md has them under a line, the highest first."""
    found = re.search(re.escape(of) + r"\n\n((?:    .*\n)+)", text(ROOT / "CONTRIBUTING.md"))
    assert found
    names = " ".join(found[1].split()).split(" > ")
    return [tuple(name.split(", ")) for name in names]


def layer_of(path: Path) -> str:
    """The folder under src/barstock a module lies in, or its own name."""
    first, *rest = path.relative_to(SOURCE).parts
    return first if rest else path.stem


def imported(path: Path) -> Iterator[tuple[int, str]]:
    """Line and full name of everything a module imports, wherever in it."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module == "barstock":
            yield from ((node.lineno, f"barstock.{alias.name}") for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert not node.level, f"{path}:{node.lineno}: imports are written in full"
            yield node.lineno, node.module or ""


def ours(path: Path) -> Iterator[tuple[int, str, list[str]]]:
    """The imports of barstock's own modules: line, layer, full name in pieces."""
    for line, name in imported(path):
        pieces = name.split(".")
        if pieces[0] == "barstock" and len(pieces) > 1:
            yield line, pieces[1], pieces


def test_every_folder_has_its_layer() -> None:
    known = {name for layer in layers() for name in layer} | set(FREE)
    assert {layer_of(path) for path in MODULES} <= known


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_imports_run_downward_only(path: Path) -> None:
    height = {name: -n for n, layer in enumerate(layers()) for name in layer}
    here = layer_of(path)
    if here in FREE:
        return
    for line, layer, _ in ours(path):
        if layer == here or layer in FREE:
            continue
        assert height[layer] < height[here], f"{path.name}:{line}: {here} imports {layer}"


def test_imports_run_downward_only_inside_planning() -> None:
    names = [name for layer in layers("and inside planning likewise:") for name in layer]
    height = {name: -n for n, name in enumerate(names)}
    for path in (SOURCE / "planning").rglob("*.py"):
        first, *rest = path.relative_to(SOURCE / "planning").parts
        here = first if rest else path.stem
        if here == "__init__":
            continue
        for line, layer, pieces in ours(path):
            if layer == "planning" and len(pieces) > 2 and pieces[2] != here:
                assert height[pieces[2]] < height[here], f"{path.name}:{line}: imports {pieces[2]}"


def test_no_modules_import_each_other_in_a_circle() -> None:
    named = {
        ".".join(path.relative_to(SOURCE).with_suffix("").parts).removesuffix(".__init__"): path
        for path in MODULES
    }
    graph = {
        name: {full for _, _, pieces in ours(path) if (full := ".".join(pieces[1:])) in named}
        for name, path in named.items()
    }
    left = set(graph)
    while free := {name for name in left if not graph[name] & left}:
        left -= free
    assert not left, "each of these imports another of them"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_the_kernel_has_one_door(path: Path) -> None:
    if layer_of(path) != "solids":
        assert not [name for _, name in imported(path) if name.split(".")[0] in KERNEL]


def test_planning_and_proving_are_two_roads() -> None:
    for path in MODULES:
        found = {layer for _, layer, _ in ours(path)}
        if layer_of(path) == "planning":
            assert not found & {"proving", "solids"}, path
        if layer_of(path) == "proving":
            assert "planning" not in found, path
