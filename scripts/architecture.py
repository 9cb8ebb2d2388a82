"""Draws docs/pictures/packages.svg from the code: the packages, and what each imports.

    python scripts/architecture.py            # draw it
    python scripts/architecture.py --check    # exit 1 where the picture is not of this code

An arrow that follows from others (a package it imports imports that one too) is left out.
"""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator, Mapping
from functools import cache
from html import escape
from pathlib import Path

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "barstock"
PICTURE = ROOT / "docs" / "pictures" / "packages.svg"
WIDE, HIGH = 196, 46  # of a box
APART, BELOW = 14, 44  # between boxes, between rows

Graph = Mapping[str, frozenset[str]]


def packages() -> list[str]:
    """The names of all packages that hold code."""
    return sorted(p.parent.name for p in SOURCE.glob("*/__init__.py"))


def imports() -> Graph:
    """What each package imports of the others."""
    names = set(packages())
    return {name: frozenset(_imported(SOURCE / name) & names - {name}) for name in names}


def _imported(folder: Path) -> set[str]:
    return {name for file in folder.rglob("*.py") for name in _named(file)}


def _named(file: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            pieces = node.module.split(".")
            if pieces == ["barstock"]:
                yield from (alias.name for alias in node.names)
            elif pieces[0] == "barstock":
                yield pieces[1]
        elif isinstance(node, ast.Import):
            for alias in node.names:
                if alias.name.startswith("barstock."):
                    yield alias.name.split(".")[1]


def caption(name: str) -> str:
    """What a package is, by the beginning of its docstring."""
    told = ast.get_docstring(ast.parse((SOURCE / name / "__init__.py").read_text("utf-8"))) or ""
    return re.split(r"[.:;,?]", told, maxsplit=1)[0]


def direct(graph: Graph) -> Graph:
    """The graph without arrows that follow from others."""

    @cache
    def below(name: str) -> frozenset[str]:
        return graph[name].union(*map(below, graph[name]))

    return {
        name: frozenset(
            one for one in to if not any(one in below(other) for other in to if other != one)
        )
        for name, to in graph.items()
    }


def floors(graph: Graph) -> dict[str, int]:
    """How high each package stands: one above the highest that it imports."""

    @cache
    def floor(name: str) -> int:
        return 1 + max(map(floor, graph[name]), default=-1)

    return {name: floor(name) for name in graph}


def drawn(graph: Graph) -> str:
    """The picture."""
    stands, arrows = floors(graph), direct(graph)
    rows = [
        [n for n in sorted(graph) if stands[n] == f] for f in range(max(stands.values()), -1, -1)
    ]
    most = max(map(len, rows))
    wide = most * WIDE + (most + 1) * APART
    high = len(rows) * HIGH + (len(rows) + 1) * BELOW
    at: dict[str, tuple[float, float]] = {}
    for n, row in enumerate(rows):
        row.sort(key=lambda name: (_pull(name, arrows, at, wide), name))
        gap = (wide - len(row) * WIDE) / (len(row) + 1)
        for i, name in enumerate(row):
            at[name] = (gap + i * (WIDE + gap), BELOW + n * (HIGH + BELOW))
    lines = [_arrow(at[name], at[to]) for name in sorted(arrows) for to in sorted(arrows[name])]
    boxes = [_box(name, *place) for name, place in sorted(at.items())]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" '
        'font-family="sans-serif" font-size="14">\n'
        '<rect width="100%" height="100%" fill="white"/>\n'
        '<defs><marker id="head" viewBox="0 0 8 8" refX="7" refY="4" markerWidth="7" '
        'markerHeight="7" orient="auto"><path d="M0 0L8 4L0 8z" fill="#555"/></marker></defs>\n'
        + "\n".join([*lines, *boxes])
        + "\n</svg>\n"
    )


def _pull(name: str, arrows: Graph, at: Mapping[str, tuple[float, float]], wide: float) -> float:
    """Where the packages that import it stand, across: it is best below them."""
    above = [at[one][0] for one in at if name in arrows[one]]
    return sum(above) / len(above) if above else wide / 2


def _arrow(start: tuple[float, float], end: tuple[float, float]) -> str:
    x0, y0 = start[0] + WIDE / 2, start[1] + HIGH
    x1, y1 = end[0] + WIDE / 2, end[1]
    bend = max(BELOW * 0.6, (y1 - y0) / 2)
    return (
        f'<path d="M{x0:.0f} {y0:.0f}C{x0:.0f} {y0 + bend:.0f} {x1:.0f} {y1 - bend:.0f} '
        f'{x1:.0f} {y1 - 2:.0f}" fill="none" stroke="#555" marker-end="url(#head)"/>'
    )


def _box(name: str, x: float, y: float) -> str:
    return (
        f'<rect x="{x:.0f}" y="{y:.0f}" width="{WIDE}" height="{HIGH}" rx="3" fill="white" '
        f'stroke="black"/><text x="{x + WIDE / 2:.0f}" y="{y + 19:.0f}" font-weight="bold" '
        f'text-anchor="middle">{escape(name)}</text>'
        f'<text x="{x + WIDE / 2:.0f}" y="{y + HIGH - 9:.0f}" text-anchor="middle" '
        f'font-size="10">{escape(caption(name))}</text>'
    )


def main() -> int:
    picture = drawn(imports())
    if "--check" in sys.argv[1:]:
        same = PICTURE.is_file() and PICTURE.read_text(encoding="utf-8") == picture
        if not same:
            print(f"{PICTURE.name} is not of this code: run {Path(__file__).name}", file=sys.stderr)
        return 0 if same else 1
    PICTURE.write_text(picture, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
