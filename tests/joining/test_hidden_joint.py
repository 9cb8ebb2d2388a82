"""A joint that lies on its fixture: the block is cut out under it for the flame."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock import api
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove

from .test_fabrication_at_heat import RAIL

SMALL = Path(__file__).parent / "small"


def test_the_block_is_cut_out_under_the_joint_and_proved_so(tmp_path: Path) -> None:
    """Two bars end to end meet 30 mm from the left of the whole. The block is 60 + 2 x 6 long, so
    that the joint lies at 36 mm of it; the cut-out is 5 mm to either side and deep."""
    text = RAIL.replace("GAP", "0.15").replace("METAL", "mild steel")
    (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
    shop = (SMALL / "workshop.yaml").read_text(encoding="utf-8")
    shop = shop.replace("taps: [M2,", "taps: [M2, M3,")
    shop = shop.replace("20 x 12 x 500", "4 of 20 x 12 x 500")
    (tmp_path / "workshop.yaml").write_text(shop, encoding="utf-8")
    build, workshop = api.read(tmp_path)
    block = build.part("rail fixture")
    slot = next(f for f in block.features if f.kind == "slot").spec
    assert slot.walls == (pytest.approx(31, abs=0.6), pytest.approx(41, abs=0.6))
    assert slot.floor.depth_as.value == pytest.approx(5)
    proof = prove(plan_build(build, workshop), build)
    assert [str(v) for v in proof.violations] == []
    assert "rail fixture" in {part.part for part in proof.parts}
