"""Where cuts touch, meet or lie flush, what is within the limits is as drawn, and no more is."""

import pytest

from barstock.proving.compare import compare
from barstock.proving.wanted import Wanted
from barstock.solids.parting import part_off
from barstock.solids.shapes import box, cone, cylinder

BLOCK = box((0, 0, 0), (32, 28, 22))
BORE = cylinder((15, 14, -1), (0, 0, 1), 5, 24)
TIGHT = 0.0075  # half of the limits of 10 H7


def oil_hole(depth, off=0.0, radius=1.0):
    """A drilling from the right end, which touches the bore with its full diameter at 12 deep."""
    along = (-1, 0, 0)
    shaft = cylinder((33, 14 + off, 11), along, radius, depth + 1)
    return shaft.fuse(cone((32 - depth, 14 + off, 11), along, radius, 0, 0.6 * radius))


def drawn(**features):
    return Wanted("axlebox", part_off(BLOCK, *features.values())[0], features)


def faults(want, *tools):
    return [v.what for v in compare(want, part_off(BLOCK, *tools)[0], []).violations]


@pytest.mark.parametrize("depth", [11.98, 12.0, 12.02])
@pytest.mark.parametrize(("deeper", "off"), [(0, 0), (-0.0007, 0), (0.0025, 0.0025), (0, -0.009)])
def test_a_drilling_that_touches_a_bore_may_be_the_dial_s_rounding_off(depth, deeper, off):
    """A rounding of microns leaves a film that reaches far along the bore, but is no deeper."""
    want = drawn(bore=BORE, oil=oil_hole(depth))
    assert faults(want, BORE, oil_hole(depth + deeper, off)) == []


@pytest.mark.parametrize(
    ("tool", "what"),
    [
        (oil_hole(11.95), "left on"),
        (oil_hole(12.05), "metal is missing"),
        (oil_hole(12, radius=1.05), "metal is missing"),
        (oil_hole(12, off=0.05), "left on"),
        (oil_hole(12, off=0.05), "metal is missing"),
    ],
)
def test_a_drilling_that_touches_a_bore_is_held_to_its_limits(tool, what):
    assert any(what in fault for fault in faults(drawn(bore=BORE, oil=oil_hole(12)), BORE, tool))


@pytest.mark.parametrize("depth", [15.0, 17.0, 17.0 - 1.190625])
def test_a_way_that_ends_in_a_port_of_its_size(depth):
    port = cylinder((15, -1, 11), (0, 1, 0), 1.190625, 30)
    way = oil_hole(depth, radius=1.190625)
    assert faults(drawn(port=port, way=way), way, port) == []
    assert faults(drawn(port=port, way=way), port) != []
    assert faults(drawn(port=port, way=way), way) != []


def bored(off=0.0, radius=5.0):
    return cylinder((15 + off, 14, -1), (0, 0, 1), radius, 24)


@pytest.mark.parametrize(
    ("off", "radius", "good"),
    [
        (0.009, 5.0, True),  # the dial's rounding both ways at .0005 in
        (0.009, 5.007, True),
        (0.0, 5.01, False),  # a reamer too wide, wherever it stands
        (0.009, 5.01, False),
        (0.009, 4.99, False),
        (0.03, 5.0, False),
    ],
)
def test_a_hole_is_judged_by_its_size_where_its_place_lets_it_stand(off, radius, good):
    want = Wanted("axlebox", BLOCK.cut(BORE), {"bore": BORE}, (), {"bore": TIGHT}, {"bore": 0.02})
    assert (faults(want, bored(off, radius)) == []) is good


def test_a_film_over_the_mouth_of_a_hole_is_seen():
    short = cylinder((15, 14, 0.025), (0, 0, 1), 5, 24)
    assert any("left on" in fault for fault in faults(drawn(bore=BORE), short))


@pytest.mark.parametrize(("short", "good"), [(0.01, True), (0.03, False)])
def test_flat_ends_that_lie_flush(short, good):
    """Two blind holes from both sides that meet in one plane: each is held to its own limits."""
    low = cylinder((15, 14, -1), (0, 0, 1), 3, 12)
    high = cylinder((15, 14, 11), (0, 0, 1), 3, 12)
    less = cylinder((15, 14, 11 + short), (0, 0, 1), 3, 12)
    assert (faults(drawn(low=low, high=high), low, less) == []) is good
