"""What is measured, told by what it runs between."""

from __future__ import annotations

import pytest

from barstock.drawing.build import AXES, Face
from barstock.drawing.dimension_runs import (
    CheckSort,
    End,
    EndKind,
    Runs,
    between,
    from_face,
    over,
)
from barstock.route import Expect
from barstock.words.checks import check_line, checked_with, named
from barstock.words.reader import Reader


def _check(sort: CheckSort, runs: Runs | None, name: str = "slot/size", nth: int = 0) -> Expect:
    return Expect(
        name=name, nth=nth, sort=sort, runs=runs, low=9.9, nominal=10.0, high=10.1, text="10 ±0.1"
    )


@pytest.mark.parametrize("face", Face)
@pytest.mark.parametrize(
    "to",
    [
        EndKind.HOLE,
        EndKind.MIDDLE,
        EndKind.CORNER,
        EndKind.SURFACE,
        EndKind.NEAR_WALL,
        EndKind.NEAR_END,
        EndKind.FLOOR,
        EndKind.WALL,
    ],
)
def test_what_is_given_from_a_face_names_it(face: Face, to: EndKind) -> None:
    said = checked_with(_check(CheckSort.DEPTH, from_face(face, to)))
    assert f"the {face}" in said


@pytest.mark.parametrize("axis", range(3))
def test_a_centre_line_and_a_size_over_all_name_their_axis(axis: int) -> None:
    middle = End(EndKind.CENTRE_LINE, axis=axis), End(EndKind.HOLE)
    for runs in (middle, over(axis), over(axis, EndKind.FILED_FACE)):
        assert AXES[axis] in checked_with(_check(CheckSort.POSITION, runs))


@pytest.mark.parametrize(
    ("sort", "one", "said"),
    [
        (CheckSort.INSIDE, EndKind.WALL, "inside"),
        (CheckSort.OUTSIDE, EndKind.WALL, "between the walls"),
        (CheckSort.OUTSIDE, EndKind.FLOOR, "from floor to floor"),
        (CheckSort.INSIDE, EndKind.ROUND_END, "centres of the round ends"),
        (CheckSort.COUNTERSINK, EndKind.RIM, "across the top"),
        (CheckSort.ANGLE, EndKind.CUTTER, "by the cutter"),
    ],
)
def test_one_pair_of_ends_is_told_by_the_sort_of_size(
    sort: CheckSort, one: EndKind, said: str
) -> None:
    assert said in checked_with(_check(sort, between(one, one)))


def test_what_runs_between_no_ends_is_told_by_its_sort() -> None:
    thread = _check(CheckSort.THREAD, None).model_copy(update={"text": "M3", "with_": "M3 screw"})
    assert checked_with(thread) == "M3 screw or plug gauge, M3 screw"
    assert checked_with(_check(CheckSort.BEVEL, None)) == "leg of the bevel"
    assert checked_with(_check(CheckSort.RADIUS, None)) == "radius"


def test_a_number_that_tells_two_of_one_name_apart_is_not_printed() -> None:
    assert named(_check(CheckSort.POSITION, None, "studs/from left (2)", 2)) == "studs: from left"
    assert named(_check(CheckSort.POSITION, None, "studs (2)/from left")) == "studs (2): from left"
    radius = _check(CheckSort.RADIUS, None, "shape/radius 4", 4)
    assert named(radius) == "shape: radius at point 4 of the outline"


def test_an_instrument_stands_behind_what_is_measured() -> None:
    check = _check(CheckSort.DEPTH, from_face(Face.TOP, EndKind.FLOOR))
    line = check_line(check.model_copy(update={"with_": "caliper"}), Reader())
    assert line.how == "below the top face, caliper"
    assert (line.size, line.limits) == ("10 ±0.1", "9.90 to 10.10 mm")
