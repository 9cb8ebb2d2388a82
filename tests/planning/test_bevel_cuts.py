"""Which way milled bevels are cut, and in how many cuts."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from barstock.quantities import Unit
from barstock.route import Does, Traverse
from barstock.words.operation_lines import lines
from barstock.words.reader import Reader

from .conftest import mill_of
from .small_part import operations, proved, shop, written

SIZE = (60.0, 40.0, 20.0)
BLOCK = "60 x 40 x 20"


@pytest.mark.parametrize("unit", ["mm", "inch"])
@pytest.mark.parametrize("around", ["top", "bottom", "left", "right", "front", "back"])
def test_the_work_is_on_the_left_hand_as_the_cutter_goes(
    around: str, unit: str, tmp_path: Path
) -> None:
    # So the feed is against a cutter's turning that turns clockwise from above: common practice.
    bevels = f"kind: edges, around: {around}, bevel: 1.5 mm"
    size = BLOCK if unit == "mm" else "60 mm x 40 mm x 20 mm"
    route = proved(written(size, bevels, unit=unit), tmp_path)
    cut = 0
    for setup in route.setups:
        found = [m for o in setup.operations if "f1" in o.features for m in o.moves]
        if not found:
            continue
        # the work reaches from 0 to the right, and from the fixed jaw to the front
        assert (setup.zero_x.find, setup.zero_y.find) == ("left", "fixed jaw")
        jaw = setup.holding.fixed_jaw
        assert jaw is not None
        middle = SIZE[3 - setup.holding.up.axis - jaw.axis] / 2, -SIZE[jaw.axis] / 2
        for move in found:
            assert isinstance(move, Traverse)
            (x0, y0), (x1, y1) = move.points
            assert (x1 - x0) * (middle[1] - y0) > (y1 - y0) * (middle[0] - x0)
            cut += move.does is Does.BEVEL
    assert cut == 4


@pytest.mark.parametrize(
    ("material", "share", "many"), [("mild steel", 0.25, 3), ("brass", 0.5, 2)]
)
def test_a_wide_bevel_is_roughed_in_steps(
    material: str, share: float, many: int, tmp_path: Path
) -> None:
    """A cone that passes 1 beside the edge is 2 x 1 + 4.8 = 6.8 wide half-way up the bevel: a cut
    of a quarter of that in mild steel, of half in brass, and 0.2 for the last.
    """
    edge = "kind: edge, between: [front, top], bevel: 4.8"
    route = proved(written(BLOCK, edge, material=material), tmp_path)
    (bevel,) = operations(route, "f1")
    assert [m.does for m in bevel.moves] == [Does.ROUGH] * many + [Does.BEVEL]
    # the cone touches the edge when its point is as far below it as beside it
    depths = [-1.0, *(m.z for m in bevel.moves if isinstance(m, Traverse))]
    steps = [a - b for a, b in pairwise(depths)]
    assert depths[-1] == pytest.approx(-5.8, abs=0.005)
    assert steps[-1] == pytest.approx(0.2, abs=0.01)
    assert all(0 < step <= share * 6.8 + 0.01 for step in steps)
    told = lines(bevel, Reader(Unit.MM, mill_of(shop("mm"))))
    words = [str(one.words) for one in told]
    assert any(f"Rough in {many} cuts" in one for one in words)
    assert any("Bevel 4.8" in one and "last light cut" in one for one in words)


def test_a_small_bevel_is_one_cut(tmp_path: Path) -> None:
    edge = "kind: edge, between: [front, top], bevel: 1"
    route = proved(written(BLOCK, edge, material="tough stainless steel"), tmp_path)
    (bevel,) = operations(route, "f1")
    assert [m.does for m in bevel.moves] == [Does.BEVEL]
