"""Sheet between the jaws: lower than their tops where no parallels bring it level with those."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.workshop.shop import BarStock

from .conftest import built, find, sample

SHEET = """
build: Sheet
unit: mm
parts:
  slip: {material: brass, length: 40, width: 14, height: %s, bar: bar,
    as bought: [front, back, top, bottom], features: {
    eye: {kind: hole, face: top, at: {left: 8, width: centre}, diameter: 3, depth: through},
    mouth: {kind: slot, face: top, along: length, position: {width: centre}, width: 6,
      open at: right, length: 9, depth: through}}}
"""


@pytest.mark.parametrize("thick", [0.5, 0.8, 1.5])
def test_sheet_lies_between_the_jaws_for_cuts_that_keep_between_them(
    thick: float, tmp_path: Path
) -> None:
    """No parallel brings its top level with jaws 28 mm deep: it lies 28 - 25 mm lower, less its
    own thickness. The ends of the thinnest are filed: it would bend past the jaws."""
    build = built(tmp_path, SHEET % thick)
    shop = sample("wagon")[1]
    bar = BarStock("bar", "brass", "rectangle", 14, thick, 600)
    vise = replace(shop.vises[0], jaw_depth=28)
    owned = replace(shop, vises=(vise,), parallels=(15.0, 25.0), rack=(bar,))
    route = plan_build(build, owned, steps=150_000)
    assert [v for v in prove(route, build).violations if v.severity == "error"] == []
    setup, _ = find(route, "slip/eye/drill")
    assert (setup.holding.way, setup.holding.packing) == ("vise", 25.0)
    assert setup.holding.grip == pytest.approx(thick)
    assert find(route, "slip/left end/square")[0].machine_kind == (
        "bench" if thick < 0.6 else "mill"
    )
    raised = {"packing": 28.0 - thick / 2, "parallels": (28.0 - thick / 2,)}
    held = setup.holding.model_copy(update=raised)
    changed = tuple(
        s.model_copy(update={"holding": held}) if s.id == setup.id else s for s in route.setups
    )
    told = prove(route.model_copy(update={"setups": changed}), build).violations
    assert f"{min(thick, 1.0):.2f} mm is the least" in " ".join(map(str, told))
