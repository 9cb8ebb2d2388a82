"""Cuts whose faces touch, cross on one line or lie in one another, against closed forms."""

from math import pi

import pytest

from barstock.solids.parting import part_off
from barstock.solids.shapes import box, cone, cylinder

R = 1.190625  # 3/32 in wide
BLOCK = box((0, 0, 0), (31.75, 12.7, 12.7))
PORT = cylinder((12.7, -1, 6.35), (0, 1, 0), R, 14.7)


def way(depth, radius=R):
    """A drilling from the left end, with the point of a drill."""
    tip = radius * 0.6008606
    hole = cylinder((-1, 6.35, 6.35), (1, 0, 0), radius, 1 + depth)
    return hole.fuse(cone((depth, 6.35, 6.35), (1, 0, 0), radius, 0, tip))


@pytest.mark.parametrize("depth", [12.7 - R, 12.7 - 0.5, 12.7, 12.7 + R, 20.0])
@pytest.mark.parametrize("order", [1, -1])
def test_a_way_that_ends_in_a_port(depth, order):
    """The skin of what is left lies in no tool, that of what goes in no metal beside the tool."""
    left, drillings = BLOCK, (PORT, way(depth))[::order]
    for tool in drillings:
        before, (left, taken) = left, part_off(left, tool)
        assert left.volume + taken.volume == pytest.approx(before.volume, abs=2e-3)
        assert tool.deep(taken.mesh(0.01)[0]).min() > -2e-3
    assert all(tool.deep(left.mesh(0.01)[0]).max() < 2e-3 for tool in drillings)


def test_crossing_drillings_of_one_size():
    """Two cylinders of one radius whose axes cross have 16/3 r^3 in common."""
    cross = cylinder((12.7, 6.35, -1), (0, 0, 1), R, 14.7)
    left, taken = part_off(BLOCK, PORT, cross)
    both = 2 * pi * R * R * 12.7 - 16 / 3 * R**3
    assert taken.volume == pytest.approx(both, rel=1e-6)
    assert left.volume == pytest.approx(BLOCK.volume - both, rel=1e-6)


@pytest.mark.parametrize("order", [1, -1])
def test_a_drill_s_point_in_a_port_of_its_size_is_no_metal(order):
    """The point of a 4 mm drill that ends on the axis of a 4 mm port lies in the port's hollow."""
    block = box((0, 0, 0), (56.5, 15.5, 10.5))
    port = cylinder((35.5, -1, 5.25), (0, 1, 0), 2, 17.5)
    shaft = cylinder((-1, 7.75, 5.25), (1, 0, 0), 2, 36.5)
    drill = shaft.fuse(cone((35.5, 7.75, 5.25), (1, 0, 0), 2, 0, 1.2))
    left = block
    for tool in (port, drill)[::order]:
        left, _ = part_off(left, tool)
    assert len(left.lumps()) == 1
    # the port, and the drilling as far as its axis, less half of what two crossed ones share
    gone = pi * 4 * 15.5 + pi * 4 * 35.5 - 8 / 3 * 2**3
    assert left.volume == pytest.approx(block.volume - gone, abs=2e-3)
