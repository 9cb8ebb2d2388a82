"""Reads the figures of a table by name: lengths, angles, masses, forces, gradients, each at its
place.

A wrong figure is reported and 0 given in its stead: a build with a fault is not used.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from barstock.quantities import Dimension, Unit
from barstock.reading.amounts import Amount, parse_amount, parse_slope, read_amount
from barstock.reading.faults import Place, nearest
from barstock.reading.nodes import Node, Table, Text, inside
from barstock.reading.sizes import Sizes

Report = Callable[[Place, str, str], None]
"""Takes the place of a fault, what is wrong, and how to mend it."""


@dataclass(frozen=True)
class Figures:
    """Reads what is written in one table. unit: of bare lengths."""

    node: Node
    unit: Unit
    report: Report

    def has(self, name: str) -> bool:
        """Is a figure written under the name?"""
        return self._node(name) is not None

    def text(self, name: str) -> str:
        """The word under a name; "" where nothing is written."""
        node = self._node(name)
        return node.text if isinstance(node, Text) else ""

    def size(self, name: str) -> Dimension | None:
        """The length with limits under a name [mm]."""
        node = self._node(name)
        return None if node is None else Sizes(self.unit, self.report).size(node)

    def length(self, name: str, usual: float = 0.0) -> float:
        """The bare length under a name, which may be below 0 [mm]."""
        node = self._node(name)
        return usual if node is None else Sizes(self.unit, self.report).length(node) or 0.0

    def positive(self, name: str, usual: float = 0.0) -> float:
        """The bare length under a name, which must be more than 0 [mm]."""
        return self._positive(name, self.length(name, usual))

    def angle(self, name: str, usual: float = 0.0) -> float:
        """The bare angle under a name [degrees]."""
        node = self._node(name)
        found = None if node is None else Sizes(self.unit, self.report).angle(node)
        return usual if node is None else found.nominal if found else 0.0

    def amount(self, name: str, of: Amount, usual: float = 0.0) -> float:
        """The mass, force, rate, moment or speed under a name, more than 0, in its first unit."""
        node = self._node(name)
        if node is None:
            return usual
        found = read_amount(node, lambda text: parse_amount(text, of), self.report)
        return 0.0 if found is None else self._positive(name, found)

    def slope(self, name: str, usual: float = 0.0) -> float:
        """The gradient under a name as a plain ratio."""
        node = self._node(name)
        return usual if node is None else read_amount(node, parse_slope, self.report) or 0.0

    def inside(self, name: str) -> Figures:
        """The table written under a name; an empty one where there is none."""
        node = self._node(name)
        empty = Table(self.node.place, {})
        return Figures(node if isinstance(node, Table) else empty, self.unit, self.report)

    def each(self, name: str) -> Iterable[tuple[str, Figures]]:
        """The tables written by name under a name."""
        for title, node in inside(self.node, name).items():
            yield title, Figures(node, self.unit, self.report)

    def known(self, name: str, valid: Iterable[str], what: str) -> None:
        """Report the word under a name where it is not one of those valid."""
        valid = list(valid)
        word = self.text(name)
        if self.has(name) and word not in valid:
            mend = nearest(word, valid) or f"the mechanism has no {what}s"
            self.fault(name, f"there is no {what} '{word}'", mend)

    def fault(self, name: str, what: str, mend: str = "") -> None:
        """Report a fault at what is written under a name, or at the table."""
        self.report((self._node(name) or self.node).place, what, mend)

    def _positive(self, name: str, value: float) -> float:
        if self.has(name) and value <= 0:
            self.fault(name, f"'{name}' must be more than 0", "check the figure")
        return value

    def _node(self, name: str) -> Node | None:
        entry = self.node.entries.get(name) if isinstance(self.node, Table) else None
        return None if entry is None else entry.value
