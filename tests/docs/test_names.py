"""Files have names of their own, and all that is public says what it is."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from .pages import ROOT

SOURCE = ROOT / "src" / "barstock"
MODULES = sorted(SOURCE.rglob("*.py"))
Definition = ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef


def public(tree: ast.Module | ast.ClassDef, of: str = "") -> Iterator[tuple[str, Definition]]:
    """All public classes and functions; of a class derived from another not its methods, which may
    answer what that one has described."""
    for node in tree.body:
        if isinstance(node, Definition) and not node.name.startswith("_"):
            yield of + node.name, node
            if isinstance(node, ast.ClassDef) and not node.bases:
                yield from public(node, f"{node.name}.")


def says_something(text: str | None) -> bool:
    """Does it begin like a sentence, and go on for three words at least?"""
    return bool(text) and text[0].isupper() and len(text.split()) >= 3


def test_no_two_modules_share_a_file_name() -> None:
    names = Counter(path.name for path in MODULES if path.name != "__init__.py")
    assert [name for name, count in names.items() if count > 1] == []


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_all_that_is_public_says_what_it_is(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    silent = [name for name, node in public(tree) if not says_something(ast.get_docstring(node))]
    assert says_something(ast.get_docstring(tree)), "the module"
    assert silent == []
