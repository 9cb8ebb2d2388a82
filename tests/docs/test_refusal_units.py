"""What refuses a part words its lengths in the part's unit: by `Length`, or `show` with a unit."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from .pages import ROOT

SOURCE = ROOT / "src" / "barstock"
REFUSING = ("drawing", "fabricating", "methods", "planning", "proving", "stocking")
MODULES = sorted(path for package in REFUSING for path in (SOURCE / package).rglob("*.py"))
FOR_DEVELOPERS = {"mutation.py"}


def in_bare_mm(tree: ast.Module) -> Iterator[int]:
    """The lines of figures in sentences that "mm" follows."""
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            for figure, after in zip(node.values, node.values[1:], strict=False):
                words = after.value if isinstance(after, ast.Constant) else ""
                if isinstance(figure, ast.FormattedValue) and str(words).startswith((" mm", "mm")):
                    yield figure.lineno


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_no_figure_is_followed_by_millimetres(path: Path) -> None:
    found = list(in_bare_mm(ast.parse(path.read_text(encoding="utf-8"))))
    assert found == [] or path.name in FOR_DEVELOPERS
