"""Binding: the moments of a drawer, written out; and faces that wedge."""

from __future__ import annotations

from math import atan, degrees, radians, tan

import pytest

from barstock.mechanism.guides.binding import Binding
from barstock.mechanism.guides.guide_check import judge
from barstock.mechanism.guides.guide_sizes import variants

from .conftest import PLAIN, Written


@pytest.mark.parametrize(("length", "friction"), [(30.0, 0.15), (12.0, 0.4)])
def test_at_the_limit_friction_holds_all_of_the_push(length: float, friction: float) -> None:
    """Two bearing forces from moments about the middle, and their friction against the push."""
    push = 10.0
    off = Binding(length, friction).most_off_centre
    bears = push * off / length
    assert 2 * friction * bears == pytest.approx(push)
    assert Binding(length, friction, off * 1.01).binds
    assert not Binding(length, friction, off * 0.99).binds
    assert Binding(length, friction, off).least_length == pytest.approx(length)


def test_a_long_block_in_a_plain_guide_bears_on_its_length(written: Written) -> None:
    build = written(PLAIN + "      load off centre: 30\n      friction: 0.5\n")
    assert build.mechanism
    judged = judge(build.mechanism.guides[0], variants(build), samples=100)
    assert judged.binding
    # pitched until it touches, 40 long: the corners bear 40 cos t - 20 sin t apart, some 39.7
    assert judged.binding.length == pytest.approx(39.7, abs=0.15)
    # 39.7 / (2 x 0.5) is 39.7, more than 30
    assert not judged.binding.binds
    assert judged.wedge is None


WEDGE = """
build: wedge between leaning faces
parts:
  wedge:
    {material: brass, length: 30, width: 30, height: 12, features: {
      sides: {kind: slot, face: front, mirrored: true, along: length, position: {height: centre},
        width: 12, across wide end: 24, wide end: left, lean: LEAN}}}
  cheek:
    {material: brass, length: 40, width: 12, height: 30, features: {
      face: {kind: slot, face: top, along: length, position: {width: centre}, width: 12,
        depth: 1, depth at: left, wide end: left, lean: LEAN}}}
mechanism:
  guides:
    wedge:
      block: {part: wedge, up: right, ahead: front}
      pair: {part: cheek, up: left, inward: top, apart: APART}
"""


@pytest.mark.parametrize(("lean", "holds"), [(4.0, True), (12.0, False)])
def test_leaning_faces_hold_where_they_lean_less_than_friction(
    lean: float, holds: bool, written: Written
) -> None:
    # 15 under the middle the wedge is 24 wide; there, 35 under their tops, the cheeks are to be so
    # far apart that it can rise by 3
    apart = 24 - 2 * 1 - (2 * 35 - 2 * 3) * tan(radians(lean))
    build = written(WEDGE.replace("LEAN", str(lean)).replace("APART", f"{apart:.6f}"))
    assert build.mechanism
    judged = judge(build.mechanism.guides[0], variants(build), samples=100)
    assert judged.goes_in
    assert judged.freedoms["rise"].amount == pytest.approx(3.0, abs=1e-4)
    assert (lean < degrees(atan(0.15))) is holds
    if holds:
        assert judged.wedge == pytest.approx(lean, abs=0.01)
    else:
        assert judged.wedge is None
