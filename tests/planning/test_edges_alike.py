"""Edges bevelled alike by one feature are each made, and proven."""

from pathlib import Path

import pytest

from .small_part import operations, proved, written


@pytest.mark.parametrize(("around", "many"), [("right", 4), ("all", 12)])
def test_every_one_of_the_edges_is_made(around: str, many: int, tmp_path: Path) -> None:
    route = proved(written("40 x 20 x 12", f"kind: edges, around: {around}, bevel: 0.5"), tmp_path)
    assert len({operation.id for operation in operations(route, "f1")}) == many
