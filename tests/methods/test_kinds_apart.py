"""A feature kind is one file: nothing outside `methods/` knows one by its name or its record."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import barstock
from barstock.methods import KINDS

SOURCE = Path(barstock.__file__).parent
OUTSIDE = [p for p in sorted(SOURCE.rglob("*.py")) if "methods" not in p.parent.parts]
MODULES = {type(kind).__module__ for kind in KINDS.values()}


def parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def strings(node: ast.expr) -> Iterator[str]:
    """The strings that an expression is compared by: itself, or those of a list of them."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.Tuple | ast.List | ast.Set):
        for each in node.elts:
            yield from strings(each)


def compared(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Line and text of every string a module compares something with.

    A name given to strings at the head of the module counts as these.
    """
    named = {
        target.id: list(strings(node.value))
        for node in tree.body
        if isinstance(node, ast.Assign)
        for target in node.targets
        if isinstance(target, ast.Name)
    }
    for node in ast.walk(tree):
        sides: list[ast.expr] = []
        if isinstance(node, ast.Compare):
            sides = [node.left, *node.comparators]
        elif isinstance(node, ast.MatchValue):
            sides = [node.value]
        for side in sides:
            found = named.get(side.id, []) if isinstance(side, ast.Name) else strings(side)
            yield from ((side.lineno, text) for text in found)


def test_no_name_of_a_kind_is_compared_with() -> None:
    found = [
        f"{path.relative_to(SOURCE)}:{line}: {text}"
        for path in OUTSIDE
        for line, text in compared(parsed(path))
        if text in KINDS
    ]
    assert not found


def test_no_record_of_a_kind_is_known() -> None:
    """`KIND` itself may be: parts that the program draws are made of known features."""
    found = [
        f"{path.relative_to(SOURCE)}:{node.lineno}: {alias.name}"
        for path in OUTSIDE
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.ImportFrom) and node.module in MODULES
        for alias in node.names
        if alias.name != "KIND"
    ]
    assert not found


def test_what_is_looked_for_is_found() -> None:
    text = "HOLLOWS = ('slot', 'pocket')\ndef f(x):\n    return x in HOLLOWS or x.kind == 'hole'\n"
    assert sorted(t for _, t in compared(ast.parse(text))) == ["hole", "pocket", "slot"]


def test_each_kind_has_a_file_of_its_own() -> None:
    assert len(MODULES) == len(KINDS)
    for name, kind in KINDS.items():
        assert import_module(type(kind).__module__).KIND is kind
        assert type(kind).__module__ == f"barstock.methods.{name}"
