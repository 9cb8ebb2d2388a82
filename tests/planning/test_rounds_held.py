"""Round parts as a home shop holds them: in the V of a usual block, and between plain jaws."""

from pathlib import Path

from .small_part import proved, written


def test_a_round_of_32_mm_lies_in_the_v_of_a_usual_block(tmp_path: Path) -> None:
    # It touches the sides of a V of 24 mm 22.6 mm apart: 32 over the root of 2.
    hole = "kind: hole, face: top, at: {left: 25, width: centre}, diameter: 6, depth: through"
    route = proved(written("round 32 x 50", hole), tmp_path)
    assert {s.holding.way for s in route.setups if s.stage == "piece"} <= {
        "V-block, lying",
        "V-block, standing",
    }
