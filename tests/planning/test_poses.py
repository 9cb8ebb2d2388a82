"""The arithmetic between the part's frame and the table's."""

from itertools import product
from math import cos, hypot, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barstock.drawing.build import Face
from barstock.planning.holding.way import Need
from barstock.planning.holding.ways import poses_for, usual
from barstock.planning.tasks.pose import Pose, corners, cross, dot, lay

UPRIGHT = [
    Pose("piece", up, jaw, usual(Need.CUT, up))
    for up, jaw in product(Face, Face)
    if up.axis != jaw.axis
]


@pytest.mark.parametrize("pose", UPRIGHT, ids=lambda p: p.name)
def test_every_pose_is_a_proper_turn(pose: Pose) -> None:
    # A proper turn keeps lengths and hands: x cross y is still z (not mirrored).
    x, y, z = (pose.turn(v) for v in ((1.0, 0, 0), (0, 1.0, 0), (0, 0, 1.0)))
    assert cross(x, y) == pytest.approx(z)
    assert pose.turn(pose.up.normal) == pytest.approx((0, 0, 1))
    assert pose.turn(pose.fixed_jaw.normal) == pytest.approx((0, 1, 0))
    assert pose.turn(pose.right.normal) == pytest.approx((1, 0, 0))


def test_positive_tilt_lifts_the_right_hand_end() -> None:
    pose = Pose("piece", Face.TOP, Face.BACK, usual(Need.CUT, Face.TOP), 10.0)
    assert pose.right is Face.RIGHT
    assert pose.turn((1.0, 0, 0)) == pytest.approx((cos(radians(10)), 0, sin(radians(10))))


@given(
    angle=st.floats(0.2, 40),
    size=st.tuples(*[st.floats(3, 90)] * 3),
    up=st.sampled_from([Face.TOP, Face.BOTTOM, Face.FRONT, Face.BACK]),
)
def test_a_leaning_floor_lies_level_once_tilted(
    angle: float, size: tuple[float, float, float], up: Face
) -> None:
    # The floor falls towards the right end: its normal leans to the right by the same angle.
    lean = radians(angle)
    n = up.normal
    normal = (sin(lean), n[1] * cos(lean), n[2] * cos(lean))
    across = cross((1.0, 0, 0), n)
    poses = poses_for(normal, across, "piece")
    assert sorted(p.tilt for p in poses) == pytest.approx([-angle, angle], abs=1e-6)
    for pose in poses:
        assert pose.turn(normal) == pytest.approx((0, 0, 1), abs=1e-9)
        lie = lay(pose, ((0, 0, 0), size), 14.0)
        low, high = lie.extent
        assert low[0] == pytest.approx(0, abs=1e-9)
        assert high[1] == pytest.approx(0, abs=1e-9)
        assert low[2] == pytest.approx(14)
        # A box tilted about one axis: its height is l sin + h cos (plane geometry).
        tall = size[0] * sin(lean) + size[up.axis] * cos(lean)
        assert high[2] - low[2] == pytest.approx(tall)


@given(size=st.tuples(*[st.floats(1, 100)] * 3), pose=st.sampled_from(UPRIGHT))
def test_laying_keeps_distances(size: tuple[float, float, float], pose: Pose) -> None:
    lie = lay(pose, ((0, 0, 0), size), 5.0)
    points = [lie.at(c) for c in corners(((0, 0, 0), size))]
    diagonal = max(
        hypot(*(a - b for a, b in zip(p, q, strict=True))) for p in points for q in points
    )
    assert diagonal == pytest.approx(hypot(*size))
    assert dot(pose.turn((0, 0, 1.0)), pose.turn((1.0, 0, 0))) == pytest.approx(0, abs=1e-12)
