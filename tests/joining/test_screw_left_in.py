"""A fixing screw left in the work leads no drill: where a hole takes its place it is spotted."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock import api
from barstock.planning.plan import plan_build
from barstock.route import Process

from .test_planted_mistakes import SMALL


@pytest.mark.parametrize("left_in", [True, False])
def test_a_hole_over_a_screw_left_in_is_spotted(tmp_path: Path, left_in: bool) -> None:
    text = (SMALL / "build.yaml").read_text(encoding="utf-8")
    if left_in:
        assert "replaced by: screws" in text
        text = text.replace("replaced by: screws", "replaced by: screws, left in: true")
    (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
    shop = (SMALL / "workshop.yaml").read_text(encoding="utf-8")
    (tmp_path / "workshop.yaml").write_text(shop, encoding="utf-8")
    route = plan_build(*api.read(tmp_path))
    work = route.fabrications[0].part
    spotted = {
        feature
        for setup in route.setups
        if setup.work == work
        for operation in setup.operations
        if operation.does is Process.SPOT
        for feature in operation.features
    }
    assert ("screws" in spotted) is left_in
