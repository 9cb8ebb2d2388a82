"""Swept cuts against an independent kernel, manifold3d, and against closed forms."""

import math
from itertools import pairwise

import manifold3d
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barstock.proving.placing import Datum
from barstock.proving.stock_cutting import runs
from barstock.proving.sweeps.plunging import touching
from barstock.proving.upright_run import Run
from barstock.route import Cutter, Does, Operation, Plunge, Process, Traverse
from barstock.solids.parting import part_off
from barstock.solids.shapes import box, cylinder
from barstock.workshop.shop import ToolKind

ROUND = 256  # sides of a polygon standing for a circle: 1e-4 of its area short
BLOCK = box((0, 0, 0), (40, 30, 12))


def cutter(kind: ToolKind, diameter: float, point: float = 180.0) -> Cutter:
    return Cutter(name=f"{diameter} mm {kind}", kind=kind, diameter=diameter, point=point)


def other_kernel(path, radius: float, tip: float, nose: float) -> float:
    """What is left of BLOCK after a cutter along `path`: hulls of the cutter at both ends."""
    work = manifold3d.Manifold.cube((40, 30, 12))
    body = manifold3d.Manifold.cylinder(30, radius, radius, ROUND).translate((0, 0, nose))
    if nose:
        body = body + manifold3d.Manifold.cylinder(nose, 0, radius, ROUND)
    for (ax, ay), (bx, by) in pairwise(path):
        ends = [body.translate((ax, ay, tip)), body.translate((bx, by, tip))]
        work = work - manifold3d.Manifold.batch_hull(ends)
    return work.volume()


PATHS = [
    ((5, 5), (35, 5)),
    ((-5, 8), (45, 21)),
    ((8, 8), (30, 8), (30, 20), (8, 20), (8, 8)),
    ((6, 6), (34, 6), (34, 9), (6, 9), (6, 12), (34, 12), (20, 25)),
]


@pytest.mark.parametrize("path", PATHS)
@pytest.mark.parametrize(
    ("kind", "point"), [(ToolKind.END_MILL, 180.0), (ToolKind.COUNTERSINK, 90.0)]
)
def test_a_traverse_leaves_what_an_independent_kernel_leaves(path, kind, point):
    tool = cutter(kind, 6, point)
    nose = 3.0 if point == 90 else 0.0
    move = Traverse(does=Does.FLOOR, points=path, z=7.0)
    operation = Operation(id="cut", does=Process.MILL, features=(), cutter=tool, moves=(move,))
    passes = runs(operation, Datum(0, 0, 0), BLOCK)
    left, taken = part_off(BLOCK, *(run.solid(13) for run in passes))
    assert left.volume == pytest.approx(other_kernel(path, 3.0, 7.0, nose), rel=2e-4)
    assert left.volume + taken.volume == pytest.approx(BLOCK.volume, rel=1e-9)


place = st.tuples(st.integers(-5, 45), st.integers(-5, 35))


@settings(max_examples=25, deadline=None)
@given(st.lists(place, min_size=2, max_size=5), st.integers(0, 11))
def test_any_traverse_leaves_what_an_independent_kernel_leaves(path, tip):
    path = [p for p, before in zip(path, [None, *path], strict=False) if p != before]
    if len(path) < 2:
        path = [path[0], (path[0][0] + 1, path[0][1])]
    passes = [
        Run(cutter(ToolKind.END_MILL, 5), a, b, float(tip), 2.5, False) for a, b in pairwise(path)
    ]
    left, _ = part_off(BLOCK, *(run.solid(13) for run in passes))
    assert left.volume == pytest.approx(other_kernel(path, 2.5, tip, 0.0), rel=3e-4)


def test_a_drilled_hole_has_its_point():
    """Full diameter 5 mm to 6 deep, 118 degree point below."""
    nose = 2.5 / math.tan(math.radians(59))
    run = Run(cutter(ToolKind.DRILL, 5, 118), (10, 10), (10, 10), 6 - nose, 2.5, True)
    expected = math.pi * 2.5**2 * (6 + nose / 3)
    assert part_off(BLOCK, run.solid(13))[1].volume == pytest.approx(expected)


def test_readings_add_to_the_zero_and_only_the_deepest_step_is_cut():
    steps = tuple(
        Traverse(does=Does.FLOOR, points=((0, 0), (20, 0)), z=z) for z in (-1.0, -3.0, -2.0)
    )
    operation = Operation(
        id="cut", does=Process.MILL, features=(), cutter=cutter(ToolKind.END_MILL, 6), moves=steps
    )
    (run,) = runs(operation, Datum(5, 7, 12), BLOCK)
    assert (run.start, run.end, run.tip) == ((5, 7), (25, 7), 9.0)


def test_a_countersink_is_measured_from_where_it_touches_the_hole():
    """90 degrees in a 4 mm hole: touching, the tip is 2 below the face; 1 deeper makes 6 mm."""
    drilled = BLOCK.cut(cylinder((10, 10, 0), (0, 0, 1), 2, 12))
    sink = cutter(ToolKind.COUNTERSINK, 12, 90)
    assert touching(drilled, (10, 10), sink) == pytest.approx(10)
    move = Plunge(does=Does.DRILL, x=10, y=10, z=-1.0, touch=True)
    operation = Operation(
        id="sink", does=Process.COUNTERSINK, features=(), cutter=sink, moves=(move,)
    )
    (run,) = runs(operation, Datum(0, 0, 0), drilled)
    cone = math.pi / 3 * (27 - 8) - math.pi * 4 * 1
    assert part_off(drilled, run.solid(13))[1].volume == pytest.approx(cone)
    with pytest.raises(ValueError, match="no hole here"):
        touching(drilled, (25, 15), sink)


def test_a_boring_head_sweeps_what_it_is_set_to():
    move = Plunge(does=Does.DRILL, x=10, y=10, z=-1.0, wide=16.0)
    operation = Operation(
        id="bore",
        does=Process.BORE,
        features=(),
        cutter=cutter(ToolKind.BORING_HEAD, 12),
        moves=(move,),
    )
    (run,) = runs(operation, Datum(0, 0, 0), BLOCK)
    assert run.radius == 8.0


@pytest.mark.parametrize(
    ("low", "high", "gap"),
    [
        ((10, -1), (12, 1), 0.0),
        ((0, 5), (4, 9), 5.0),
        ((23, 4), (30, 9), 5.0),
        ((5, 2), (6, 3), 2.0),
    ],
)
def test_gap_in_plan_from_a_path_to_a_rectangle(low, high, gap):
    run = Run(cutter(ToolKind.END_MILL, 6), (0, 0), (20, 0), 0.0, 3.0, False)
    assert run.gap(low, high) == pytest.approx(gap)


def test_thickness_and_distance_on_meshes():
    from barstock.proving.surface import thickness, to_skin
    from barstock.proving.walls import least

    points, corners = BLOCK.mesh()
    skin = points[corners]
    away = to_skin(np.array([[20.0, 15, 5], [20, 15, 15], [-3, -4, 5], [43, 34, 24]]), skin)
    assert away == pytest.approx([5, 3, 5, 13])
    down = thickness(np.array([[20.0, 15, 12]]), np.array([[0.0, 0, -1]]), skin)
    assert down == pytest.approx([12])
    walled = BLOCK.cut(box((0, 5, 4), (40, 12, 12)), box((0, 12.7, 4), (40, 20, 12)))
    wall = least(walled, [walled.bounds])
    assert wall
    assert wall.thick == pytest.approx(0.7)
