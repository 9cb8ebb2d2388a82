"""An outline that no way of holding leaves to the mill, filed where its limits allow it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from barstock import api
from barstock.route import Process, Route
from barstock.route.statements import ReasonKind

SAMPLES = Path(__file__).parents[2] / "src" / "barstock" / "samples"
TONGUE = """build: Tongue
general tolerance: ±{limits}
parts:
  tongue:
    material: brass
    length: 40
    width: 18
    height: 5
    bar: 20 x 5
    as bought: [top, bottom]
    features:
      shape:
        kind: outline
        face: top
        finish: milled
        start: {{left: 0, front: 0}}
        path:
          - {{to: {{right: 0, front: 4}}}}
          - {{to: {{right: 0, back: 4}}}}
          - {{to: {{left: 0, back: 0}}}}
          - {{to: {{left: 0, front: 0}}}}
"""


def route_of(folder: Path, limits: float) -> Route:
    (folder / "build.yaml").write_text(TONGUE.format(limits=limits), encoding="utf-8")
    shutil.copy(SAMPLES / "wagon" / "workshop.yaml", folder)
    return api.plan(folder, pictures=False).route


def test_it_is_filed_and_said_to_be(tmp_path: Path) -> None:
    """It has no holes to screw it down by."""
    route = route_of(tmp_path, 0.2)
    assert not route.left
    shape = [o for s in route.setups for o in s.operations if "shape" in o.features]
    assert [o.does for o in shape] == [Process.FILE]
    assert ReasonKind.NOT_MILLED in {why.kind for why in shape[0].why}


@pytest.mark.parametrize("limits", [0.05, 0.09])
def test_it_is_left_where_a_file_would_not_hold_it(tmp_path: Path, limits: float) -> None:
    route = route_of(tmp_path, limits)
    assert [one.features for one in route.left] == [("shape",)]
    assert "hole" in route.left[0].tried[0].refusal


def test_a_bevel_too_wide_to_be_milled_is_filed_and_said_to_be(tmp_path: Path) -> None:
    """Nothing is left below it that jaws could grip."""
    build = TONGUE.format(limits=0.2)
    nose = "      nose: {kind: edge, between: [right, top], bevel: 4.5, finish: milled}\n"
    (tmp_path / "build.yaml").write_text(build[: build.index("      shape")] + nose, "utf-8")
    shutil.copy(SAMPLES / "wagon" / "workshop.yaml", tmp_path)
    route = api.plan(tmp_path, pictures=False).route
    assert not route.left
    made = [o for s in route.setups for o in s.operations if "nose" in o.features]
    assert [o.does for o in made] == [Process.FILE]
    assert ReasonKind.NOT_MILLED in {why.kind for why in made[0].why}
