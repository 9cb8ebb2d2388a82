"""Names of alloys and lengths of drills, against tables published by others."""

from __future__ import annotations

import pytest

from barstock.handbook.cutter_lengths import DRILL, usual_flute
from barstock.handbook.materials import material

LEADED_BRASSES = [
    ("CuZn36Pb3", "CW603N", "CZ124"),
    ("CuZn39Pb3", "CW614N", "CZ121"),
    ("CuZn40Pb2", "CW617N", "CZ122"),
    ("CuZn39Pb2", "CW612N", "CZ120"),
]
"""EN symbol, EN number, nearest old BS number: Copper Development Association, Publication 120,
Copper and Copper Alloys, table 11, wrought copper-zinc-lead alloys."""


@pytest.mark.parametrize(("symbol", "number", "old"), LEADED_BRASSES)
def test_a_leaded_brass_is_one_metal_by_each_of_its_names(
    symbol: str, number: str, old: str
) -> None:
    assert {material(word).name for word in (symbol, number, old)} == {"brass"}


@pytest.mark.parametrize(("inches", "flutes"), [(1 / 8, 1 + 5 / 8), (1 / 2, 4 + 1 / 2)])
def test_a_drill_to_buy_is_no_longer_than_one_of_its_size_sold_in_inches(
    inches: float, flutes: float
) -> None:
    """Jobber flutes of ASME B94.11M, as often quoted: 13 diameters of 1/8, 9 of 1/2; a metric
    jobber drill may be shorter, so that what is planned to that depth goes with either."""
    assert usual_flute(DRILL, inches * 25.4) <= flutes * 25.4
    assert usual_flute(DRILL, inches * 25.4) >= 0.75 * flutes * 25.4
