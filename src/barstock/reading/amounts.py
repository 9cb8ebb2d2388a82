"""Masses, forces, rates, moments, speeds and gradients are read here at their places."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from barstock.quantities import INCH, SizeError
from barstock.reading.faults import Place
from barstock.reading.nodes import Node, Text, sort

G = 9.80665
"""Standard gravity [m/s2]. ISO 80000-3."""

POUND = 0.45359237
"""[kg]. The international pound, exact."""


@dataclass(frozen=True)
class Amount:
    """A sort of amount. units: by name, in the internal unit; the first is that of bare figures."""

    called: str
    units: Mapping[str, float]
    example: str


MASS = Amount("mass", {"kg": 1.0, "g": 0.001, "lb": POUND, "oz": POUND / 16}, "2.4 kg or 5 lb")
FORCE = Amount(
    "force", {"N": 1.0, "kN": 1000.0, "kgf": G, "lbf": POUND * G, "lb": POUND * G}, "25 N or 6 lbf"
)
RATE = Amount(
    "rate",
    {"N/mm": 1.0, "lbf/in": POUND * G / INCH, "lb/in": POUND * G / INCH},
    "4.5 N/mm or 26 lbf/in",
)
MOMENT = Amount(
    "moment",
    {"N mm": 1.0, "N m": 1000.0, "lbf in": POUND * G * INCH},
    "120 N mm or 1 lbf in",
)
SPEED = Amount("speed", {"km/h": 1 / 3.6, "m/s": 1.0, "mph": 0.44704}, "8 km/h or 5 mph")

_FIGURE = re.compile(r"\s*(\d+(?:\.\d*)?|\.\d+)\s*(\D*)$", re.ASCII)
_SLOPE = re.compile(r"\s*1\s*in\s*(\d+(?:\.\d*)?)\s*$", re.ASCII)
_STEEPNESS = re.compile(r"\s*(\d+(?:\.\d*)?|\.\d+)\s*(‰|mm/m|%)\s*$", re.ASCII)


def parse_amount(text: str, of: Amount) -> float:
    """An amount read from a text, in its first unit (speeds in m/s). Raises SizeError.

    >>> parse_amount("1 lb", MASS), parse_amount("36 km/h", SPEED)
    (0.45359237, 10.0)
    """
    found = _FIGURE.match(text)
    mend = f"write it like {of.example}"
    if found is None:
        raise SizeError(f"'{text}' is no {of.called}", mend)
    unit = found[2].strip() or next(iter(of.units))
    if unit not in of.units:
        raise SizeError(f"'{unit}' is no unit of {of.called} read here", mend)
    return float(found[1]) * of.units[unit]


def parse_slope(text: str) -> float:
    """A gradient read from 1 in 60, 7 ‰ or 0.7 %, as a plain ratio. Raises SizeError.

    >>> parse_slope("1 in 50"), parse_slope("7 ‰")
    (0.02, 0.007)
    """
    found = _SLOPE.match(text)
    if found and float(found[1]) > 0:
        return 1 / float(found[1])
    found = _STEEPNESS.match(text)
    if found is None:
        raise SizeError(f"'{text}' is no gradient", "write it like 1 in 60 or 7 ‰")
    return float(found[1]) / (100 if found[2] == "%" else 1000)


def read_amount(
    node: Node, parse: Callable[[str], float], report: Callable[[Place, str, str], None]
) -> float | None:
    """The node's amount, or None after reporting its fault."""
    if not isinstance(node, Text):
        report(node.place, f"{sort(node)} stands where a figure is wanted", "write one figure")
        return None
    try:
        return parse(node.text)
    except SizeError as wrong:
        report(node.place, wrong.what, wrong.mend)
        return None
