"""Edges bevelled alike by one feature are each made, and proven."""

from pathlib import Path

import pytest

from .small_part import operations, proved, written


@pytest.mark.parametrize(("around", "many"), [("right", 4), ("all", 12)])
def test_every_one_of_the_edges_is_made(around: str, many: int, tmp_path: Path) -> None:
    route = proved(written("40 x 20 x 12", f"kind: edges, around: {around}, bevel: 0.5"), tmp_path)
    assert len({operation.id for operation in operations(route, "f1")}) == many


def test_an_edge_that_steps_take_away_is_not_filed(tmp_path: Path) -> None:
    """Of the four round the front, two lie where the ends are stepped back."""
    steps = "kind: step, face: front, edge: right, width: 7, depth: 5, mirrored: true"
    edges = "kind: edges, around: front, radius: 1"
    route = proved(written("50 x 16 x 25", edges, steps), tmp_path)
    assert len({operation.id for operation in operations(route, "f1")}) == 2


def test_an_edge_that_reaches_below_a_step_is_made(tmp_path: Path) -> None:
    """The bevel goes 2.5 down the right face, the step only 2."""
    step = "kind: step, face: top, edge: right, width: 4, depth: 2"
    bevel = "kind: edge, between: [right, top], bevel: {right: 2.5, top: 2}"
    assert operations(proved(written("40 x 20 x 12", bevel, step), tmp_path), "f1")


def test_an_edge_that_is_bevelled_wider_by_itself_is_not_filed_besides(tmp_path: Path) -> None:
    alike = "kind: edges, around: right, radius: 0.5"
    one = "kind: edge, between: [right, front], bevel: 1.5"
    route = proved(written("40 x 20 x 12", alike, one), tmp_path)
    assert len({operation.id for operation in operations(route, "f1")}) == 3
