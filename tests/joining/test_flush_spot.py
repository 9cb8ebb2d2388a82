"""Where a face that is filed flush lies bare, to be measured and filed level with."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock.drawing.build_reading import read_build
from barstock.machines.workbench import strip
from barstock.methods import KINDS
from barstock.methods.places import in_face

SMALL = Path(__file__).parent / "small" / "build.yaml"
FIXING = "      fixing: {kind: hole, face: left"


def _spot(folder: Path, extra: str) -> tuple[float, float]:
    """The spot on the stand's left, along its width and height, with another hole in its cheeks."""
    text = SMALL.read_text(encoding="utf-8")
    (folder / "build.yaml").write_text(text.replace(FIXING, f"{extra}{FIXING}"), encoding="utf-8")
    reading = read_build(folder, KINDS)
    assert reading.build is not None, reading.faults
    (end,) = (f for f in reading.build.part("stand").features if f.name == "left end")
    spot: tuple[float, float] = end.spec.spot
    return spot


def test_what_is_to_be_filed_is_what_stands_out_and_takes_as_long_as_that() -> None:
    """Of 100 mm by 5 mm, half a millimetre: one strip. The same as four ends of 20.8 mm2, 3 off."""
    assert strip(100 * 5 * 0.5) == pytest.approx(100)
    assert strip(4 * 20.83 * 3) == pytest.approx(100, rel=0.01)
    reading = read_build(SMALL.parent, KINDS)
    assert reading.build is not None, reading.faults
    whole = reading.build.part("stand")
    assert whole.joined is not None
    for one in (f.spec for f in whole.features if f.kind == "flush"):
        u, v = in_face(one.face.axis)
        low, high = whole.raw
        most = one.proud * (high[u] - low[u]) * (high[v] - low[v])
        assert 0 < one.metal < 0.9 * most


def test_the_spot_is_the_middle_of_the_side_that_lies_bare(tmp_path: Path) -> None:
    """The cheek stands 30 high, 16 wide; the bridge lies over it."""
    assert _spot(tmp_path, "") == pytest.approx((8, 15))


def test_the_spot_is_not_taken_where_a_hole_is(tmp_path: Path) -> None:
    """A hole 6 across in the middle of the side: the spot lies on metal beside it."""
    hole = "kind: hole, face: bottom, at: {length: centre, width: centre}, diameter: 6, depth: 3"
    wide, high = _spot(tmp_path, f"      oil: {{{hole}, bottom: flat}}\n")
    assert ((wide - 8) ** 2 + (high - 15) ** 2) ** 0.5 > 3
    assert 0 < wide < 16
    assert 0 < high < 30
