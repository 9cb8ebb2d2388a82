"""An outline that is filed is marked out from sides that are still there."""

from pathlib import Path

import pytest

from .small_part import operations, proved, written

ROUNDED = (
    "kind: outline, face: top, finish: filed, start: {left: 0, front: 0}, path: ["
    "{to: {right: 8, front: 0}}, {to: {right: 8, back: 0}, arc: 8, turn: left}, "
    "{to: {left: 0, back: 0}}, {to: {left: 0, front: 0}}]"
)


@pytest.mark.parametrize(("face", "side"), [("front", "back"), ("back", "front")])
def test_no_outline_is_marked_out_from_a_side_that_a_ridge_takes(
    face: str, side: str, tmp_path: Path
) -> None:
    ridge = f"kind: ridge, face: {face}, peak along: height, position: {{right: 25}}, angle: 2"
    text = written("60 x 16 x 6", ROUNDED, f"{ridge}, depth at peak: 0.5")
    (filed,) = operations(proved(text, tmp_path), "f1")
    (move,) = filed.moves
    assert move.from_v == side
