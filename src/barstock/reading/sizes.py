"""Sizes and angles are read here at their places, words in them looked up in the handbook."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from barstock.quantities import (
    HOW_LENGTH,
    Dimension,
    Figure,
    SizeError,
    Tables,
    Unit,
    parse_angle,
    parse_dimension,
)
from barstock.reading.faults import Place
from barstock.reading.nodes import Node, Text, sort

Rule = Callable[[Figure], float | tuple[float, float]]
"""A general tolerance: a figure -> its tolerance to either side, or its lower and upper deviation;
LookupError where it has none."""


@dataclass(frozen=True)
class Sizes:
    """Reads sizes and angles written in `unit` where none stands beside them.

    report: takes the place of a fault, what is wrong, and how to mend it.
    """

    unit: Unit
    report: Callable[[Place, str, str], None]
    general: Rule | None = None
    general_angle: Rule | None = None

    def size(self, node: Node) -> Dimension | None:
        """The node as a dimension [mm], or None after reporting its fault."""
        return self._read(node, self._parse(self.general))

    def length(self, node: Node) -> float | None:
        """The node as a bare length [mm], or None after reporting its fault."""
        size = self._read(node, self._parse(None))
        return None if size is None else size.nominal

    def angle(self, node: Node) -> Dimension | None:
        """The node as an angle [degrees], or None after reporting its fault."""
        return self._read(node, lambda text: parse_angle(text, self.general_angle))

    def _parse(self, general: Rule | None) -> Callable[[str], Dimension]:
        from barstock.handbook.drills import drill
        from barstock.handbook.iso_fits import limits

        return lambda text: parse_dimension(text, self.unit, Tables(drill, limits, general))

    def _read(self, node: Node, parse: Callable[[str], Dimension]) -> Dimension | None:
        if not isinstance(node, Text):
            self.report(node.place, f"{sort(node)} stands where a size is wanted", HOW_LENGTH)
            return None
        try:
            return parse(node.text)
        except SizeError as wrong:
            self.report(node.place, wrong.what, wrong.mend)
        except LookupError as wrong:
            self.report(node.place, str(wrong.args[0]), "")
        return None
