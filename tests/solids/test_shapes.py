"""Solids against closed-form volumes; motions against their own algebra."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from barstock.solids.bores import bores, upright_bores
from barstock.solids.brep_files import load, save
from barstock.solids.parting import part_off
from barstock.solids.shapes import (
    Placement,
    box,
    cone,
    cylinder,
    nothing,
    prism,
    profile,
    together,
)
from barstock.solids.step_files import write_step
from tests.solids.step_reading import read_step

UP = (0.0, 0.0, 1.0)
BLOCK = box((0, 0, 0), (10, 20, 30))
TURN = Placement(((0, -1, 0), (1, 0, 0), (0, 0, 1)), (1, 2, 3))


@pytest.mark.parametrize(
    ("solid", "volume"),
    [
        (BLOCK, 6000),
        (cylinder((1, 2, 3), UP, 2, 5), math.pi * 4 * 5),
        (cone((0, 0, 0), UP, 3, 0, 5), math.pi * 9 * 5 / 3),
        (cone((0, 0, 0), UP, 3, 1, 6), math.pi * 6 / 3 * (9 + 3 + 1)),
        (cone((0, 0, 0), UP, 2, 2, 5), math.pi * 4 * 5),
        (prism([(0, 0, 0), (4, 0, 0), (0, 3, 0)], (0, 0, 2)), 12),
        (prism([(0, 0, 0), (0, 3, 0), (4, 0, 0)], (0, 0, -2)), 12),
    ],
)
def test_volumes_of_single_bodies(solid, volume):
    assert solid.volume == pytest.approx(volume, rel=1e-9)


@pytest.mark.parametrize(("along", "sign"), [(5, 1), (-5, -1)])
def test_a_bulge_turns_counter_clockwise_about_the_sweep(along, sign):
    """A half circle of radius 5 on a 10 x 10 square: added seen from above, cut from below."""
    corners = [((10, 0, 0), 0.0), ((10, 10, 0), 1.0), ((0, 10, 0), 0.0), ((0, 0, 0), 0.0)]
    swept = profile((0, 0, 0), corners, (0, 0, along))
    assert swept.volume == pytest.approx(5 * (100 + sign * math.pi * 25 / 2))


def test_an_open_outline_is_refused():
    with pytest.raises(ValueError, match=r"starts at .* but ends at"):
        profile((0, 0, 0), [((1, 0, 0), 0.0), ((1, 1, 0), 0.0)], (0, 0, 1))


def test_an_outline_that_is_swept_nowhere_is_refused():
    with pytest.raises(ArithmeticError, match="could not build"):
        prism([(0, 0, 0), (1, 0, 0), (1, 1, 0)], (0, 0, 0))


def test_cut_fuse_common_and_part_off():
    pin = cylinder((5, 10, -1), UP, 3, 50)
    inside = math.pi * 9 * 30
    assert BLOCK.cut(pin).volume == pytest.approx(6000 - inside)
    assert BLOCK.common(pin).volume == pytest.approx(inside)
    assert BLOCK.fuse(pin).volume == pytest.approx(6000 + math.pi * 9 * 20)
    left, taken = part_off(BLOCK, pin, box((-1, -1, 25), (11, 21, 31)))
    assert left.volume == pytest.approx(10 * 20 * 25 - math.pi * 9 * 25)
    assert taken.volume == pytest.approx(6000 - left.volume)


def test_empty_solids():
    far = box((100, 0, 0), (101, 1, 1))
    assert BLOCK.cut(BLOCK).empty
    assert BLOCK.common(far).empty
    assert BLOCK.cut(far) is BLOCK
    assert nothing().fuse(BLOCK).volume == pytest.approx(6000)
    assert nothing().volume == 0.0
    assert math.isinf(nothing().distance(BLOCK))
    with pytest.raises(ValueError, match="no bounds"):
        _ = nothing().bounds


def test_lumps_distance_and_points():
    halves = BLOCK.cut(box((-1, -1, 10), (11, 21, 12)))
    assert sorted(lump.volume for lump in halves.lumps()) == pytest.approx([2000, 3600])
    assert together(halves.lumps()).volume == pytest.approx(5600)
    assert BLOCK.distance(box((13, 24, 0), (14, 25, 1))) == pytest.approx(5)
    assert BLOCK.contains((10, 1, 1))
    assert not BLOCK.contains((10.01, 1, 1))


def test_a_mesh_is_closed_and_looks_outward():
    """The divergence theorem over the triangles gives the volume, edges meet in pairs."""
    solid = BLOCK.cut(cylinder((5, 10, -1), UP, 3, 50))
    points, corners = solid.mesh(0.01)
    a, b, c = (points[corners[:, i]] for i in range(3))
    assert np.einsum("ij,ij->", a, np.cross(b, c)) / 6 == pytest.approx(solid.volume, rel=1e-3)
    edges = {(i, j) for t in corners.tolist() for i, j in zip(t, (*t[1:], t[0]), strict=True)}
    assert edges == {(j, i) for i, j in edges}


def test_bounds_of_a_turned_block():
    low, high = BLOCK.moved(TURN).bounds
    assert low == pytest.approx((-19, 2, 3))
    assert high == pytest.approx((1, 12, 33))


number = st.floats(-50, 50)
angle = st.floats(-3.2, 3.2)


@given(st.tuples(number, number, number), angle, angle)
def test_motions_undo_and_follow_each_other(p, first, second):
    c, s = math.cos(first), math.sin(first)
    a = Placement(((c, -s, 0), (s, c, 0), (0, 0, 1)), (1, 2, 3))
    c, s = math.cos(second), math.sin(second)
    b = Placement(((c, 0, -s), (0, 1, 0), (s, 0, c)), (-4, 5, 6))
    assert a.then(b).apply(p) == pytest.approx(b.apply(a.apply(p)), abs=1e-9)
    assert a.inverse().apply(a.apply(p)) == pytest.approx(p, abs=1e-9)
    assert a.turn((0, 0, 1)) == (0, 0, 1)


def test_bores_are_found_and_pins_are_not():
    """A blind hole with a 118 degree point, beside an upright pin."""
    nose = 2.5 / math.tan(math.radians(59))
    hole = cylinder((5, 5, 20), UP, 2.5, 20).fuse(cone((5, 5, 20), (0, 0, -1), 2.5, 0, nose))
    solid = BLOCK.cut(hole).fuse(cylinder((5, 15, 30), UP, 2, 5))
    found = sorted(bores(solid), key=lambda bore: bore.low[2])
    assert [bore.conical for bore in found] == [True, False]
    assert (found[0].radius_low, found[0].radius_high) == pytest.approx((0, 2.5), abs=1e-6)
    assert found[0].low == pytest.approx((5, 5, 20 - nose))
    assert (found[1].radius_low, found[1].low[2], found[1].high[2]) == pytest.approx((2.5, 20, 30))
    assert len(upright_bores(solid, 5.03, 5, 0.05)) == 2
    assert upright_bores(solid, 5.2, 5, 0.05) == []


def test_kept_and_exchanged_solids_come_back(tmp_path):
    solid = BLOCK.cut(cylinder((5, 10, -1), UP, 3, 50))
    write_step(tmp_path / "part.step", solid)
    save(tmp_path / "part.solid", solid)
    save(tmp_path / "empty.solid", nothing())
    assert read_step(tmp_path / "part.step").volume == pytest.approx(solid.volume)
    assert load(tmp_path / "part.solid").volume == pytest.approx(solid.volume)
    assert load(tmp_path / "empty.solid").empty
    with pytest.raises(ValueError, match="nothing to write"):
        write_step(tmp_path / "none.step", nothing())


def test_surfaces_that_nearly_meet_may_be_taken_for_one():
    pin = cylinder((0, 0, 0), (0, 0, 1), 3, 10)
    beside = cylinder((0.002, 0, -1), (0, 0, 1), 3, 12)
    assert pin.cut(beside, within=0.003).empty
    # so much further off the two rounds leave a crescent: the circle less the lens of both,
    # 2 r2 acos(d / 2r) - d / 2 sqrt(4 r2 - d2)
    d, r = 0.5, 3.0
    lens = 2 * r**2 * math.acos(d / (2 * r)) - d / 2 * math.sqrt(4 * r**2 - d**2)
    away = cylinder((d, 0, -1), (0, 0, 1), 3, 12)
    assert pin.cut(away, within=0.003).volume == pytest.approx(
        10 * (math.pi * r**2 - lens), rel=1e-4
    )
