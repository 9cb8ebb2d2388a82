"""Holes on one axis: what leads what, and no step that would cut nothing."""

from pathlib import Path

import pytest

from barstock.route import Route

from .small_part import operations, proved, written

AT = "at: {length: centre, width: centre}"


def steps(route: Route, feature: str) -> list[str]:
    """The steps a feature is made in, in order."""
    return [o.id.split("/")[-1] for o in operations(route, feature)]


@pytest.mark.parametrize(
    ("smaller", "larger"),
    [
        ("face: top, diameter: 3, depth: through", "face: top, thread: M6, depth: 8"),
        ("face: top, diameter: 3, depth: through", "face: bottom, thread: M6, depth: 8"),
        ("face: top, diameter: 3, depth: through", "face: top, diameter: 8, depth: 6"),
        ("face: top, diameter: 8, depth: through", "face: top, diameter: 10, depth: 6"),
        (
            "face: top, diameter: 8, depth: through",
            "face: bottom, diameter: 10, depth: 6, bottom: flat",
        ),
        (
            "face: top, diameter: 5, depth: through",
            "face: top, diameter: 10, depth: 6, bottom: flat",
        ),
        (
            "face: top, diameter: 5, depth: through",
            "face: bottom, diameter: 20, depth: 6, bottom: flat",
        ),
        (
            "face: top, diameter: 4 H7, finish: reamed, depth: through",
            "face: top, thread: M8, depth: 8",
        ),
        (
            "face: top, thread: M3, depth: through",
            "face: top, diameter: 6, depth: 8, bottom: flat",
        ),
        ("face: top, diameter: 5, depth: through", "face: top, thread: M6, depth: 8"),
        (
            "face: top, diameter: 3, depth: 14",
            "face: top, diameter: 8 H7, finish: reamed, depth: 6",
        ),
        ("face: top, diameter: 3, depth: 6, starts below: 8", "face: top, diameter: 8, depth: 8"),
        (
            "face: top, thread: M3, depth: 5, starts below: 8",
            "face: top, diameter: 8, depth: 8, bottom: flat",
        ),
        ("face: bottom, diameter: 3, depth: 14", "face: top, diameter: 8, depth: 8"),
        ("face: top, diameter: 19, depth: 10", "face: top, thread: M20 x 1, depth: 7"),
    ],
)
@pytest.mark.parametrize("order", [1, -1])
def test_two_holes_on_one_axis(smaller: str, larger: str, order: int, tmp_path: Path) -> None:
    features = [f"kind: hole, {AT}, {hole}" for hole in (smaller, larger)][::order]
    proved(written("30 x 30 x 20", *features), tmp_path)


def test_the_smaller_hole_leads_and_the_larger_is_not_spotted(tmp_path: Path) -> None:
    holes = ("diameter: 3, depth: through", "thread: M6, depth: 8", "diameter: 10, depth: 4")
    features = [f"kind: hole, face: top, {AT}, {hole}" for hole in holes]
    route = proved(written("30 x 30 x 20", *features), tmp_path)
    assert steps(route, "f1") == ["spot", "drill"]
    assert steps(route, "f2") == ["drill", "tap"]
    assert steps(route, "f3") == ["drill"]


def test_a_hole_of_tapping_size_is_tapped_and_not_drilled_again(tmp_path: Path) -> None:
    holes = ("diameter: 5, depth: through", "thread: M6, depth: 8")
    features = [f"kind: hole, face: top, {AT}, {hole}" for hole in holes]
    route = proved(written("30 x 30 x 20", *features), tmp_path)
    assert steps(route, "f2") == ["tap"]


def test_three_steps_of_a_bore_from_both_ends_of_a_round(tmp_path: Path) -> None:
    at = "at: {width: centre, height: centre}"
    features = [
        f"kind: hole, face: left, {at}, diameter: 4, depth: through",
        f"kind: hole, face: left, {at}, diameter: 8, depth: 10",
        f"kind: hole, face: right, {at}, thread: M6, depth: 8",
    ]
    proved(written("30 x 20 x 20", *features), tmp_path)


@pytest.mark.parametrize("hole", ["diameter: 19, depth: 8", "thread: M20 x 1, depth: 7"])
def test_a_blind_hole_wider_than_the_drills_owned_is_bored(hole: str, tmp_path: Path) -> None:
    route = proved(written("30 x 30 x 20", f"kind: hole, face: top, {AT}, {hole}"), tmp_path)
    assert "bore" in steps(route, "f1")


def test_a_thread_in_a_wider_drilling_needs_no_drill_of_its_own(tmp_path: Path) -> None:
    holes = ("diameter: 19, depth: 10", "thread: M20 x 1, depth: 7")
    features = [f"kind: hole, face: top, {AT}, {hole}" for hole in holes]
    route = proved(written("30 x 30 x 20", *features), tmp_path)
    assert steps(route, "f2") == ["tap"]


def test_a_thread_over_a_bore_with_a_flat_bottom(tmp_path: Path) -> None:
    """The bore leads the thread's drill, which is wider: its own flat is not waited for."""
    end = "kind: hole, face: right, at: {width: centre, height: centre}"
    bore = f"{end}, diameter: 8 H7, depth: 16, bottom: flat, finish: bored"
    proved(written("40 x 20 x 20", bore, f"{end}, thread: M10 x 1, depth: 7"), tmp_path)
