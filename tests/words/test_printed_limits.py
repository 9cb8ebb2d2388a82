"""Limits as printed: with the digits they need, and never wider than they are."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barstock.handbook.look import look
from barstock.quantities import INCH, Unit, show, show_limits
from barstock.words.size_figures import limits

FLOAT = 1e-6
"""What a figure may be out by the arithmetic of floats alone, in the unit printed."""


def figures(text: str) -> list[float]:
    """The figures printed in a text."""
    return [float(found.replace("−", "-")) for found in re.findall(r"[−-]?\d+(?:\.\d+)?", text)]


@pytest.mark.parametrize(
    ("mm", "shown"), [(7.9955, "7.9955 mm"), (1.5875, "1.5875 mm"), (7.9, "7.9 mm"), (8, "8 mm")]
)
def test_half_a_micrometre_is_told(mm: float, shown: str) -> None:
    assert show(mm, Unit.MM) == shown


def test_half_a_tenth_of_a_thou_is_told() -> None:
    assert show(INCH / 32, Unit.INCH) == "0.03125 in"
    assert show(INCH / 16, Unit.INCH) == "0.0625 in"


def test_a_js_shafts_limits_lie_as_far_on_either_side() -> None:
    # ISO 286-1: IT6 of 8 mm is 9 µm, of which js has half on each side.
    (found,) = look("8 js6")
    shown = dict(found.rows)
    assert figures(shown["low limit"]) == [8 - 0.0045]
    assert figures(shown["high limit"]) == [8 + 0.0045]
    assert limits(8 - 0.0045, 8 + 0.0045, Unit.MM) == "7.9955 to 8.0045 mm"


@given(
    low=st.floats(0.01, 300),
    band=st.floats(2e-4, 2),
    unit=st.sampled_from(Unit),
)
def test_no_printed_zone_is_wider_than_the_drawings(low: float, band: float, unit: Unit) -> None:
    high = low + band
    for text in (limits(low, high, unit), " to ".join(show_limits(low, high, unit))):
        least, *most = figures(text)
        assert least >= low / unit.scale - FLOAT
        assert (most or [least])[0] <= high / unit.scale + FLOAT
        assert (most or [least])[0] >= least


@given(low=st.floats(0, 90), band=st.floats(0.01, 5))
def test_nor_is_that_of_an_angle(low: float, band: float) -> None:
    least, *most = figures(limits(low, low + band, Unit.MM, angle=True))
    assert least >= low - FLOAT
    assert (most or [least])[0] <= low + band + FLOAT
