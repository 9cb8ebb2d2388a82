"""Holes of a fabrication that go through one of its pieces, and then through nothing but air."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from barstock import api
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.route import Plunge

SMALL = Path(__file__).parent / "small"
FEATURES = "      screws:\n        kind: hole\n        face: top\n"
EYE = (
    "      eye: {kind: hole, face: FACE, at: {length: centre, width: centre}, diameter: 6, "
    "depth: through, finish: reamed}\n"
)
AXLE = "      axle: {kind: hole, face: left, at: {width: centre -2, bottom: BOTTOM}, diameter: 4, "


def stand(folder: Path, *features: str) -> Path:
    """The small stand with more holes, and a reamer for them."""
    for name in ("build.yaml", "workshop.yaml"):
        shutil.copy(SMALL / name, folder)
    build, shop = folder / "build.yaml", folder / "workshop.yaml"
    text = build.read_text(encoding="utf-8").partition("    from the solid:")[0]
    assert text.count(FEATURES) == 1
    build.write_text(text.replace(FEATURES, "".join(features) + FEATURES), encoding="utf-8")
    text = shop.read_text(encoding="utf-8")
    shop.write_text(
        text.replace("  files:", "  reamers: [{size: 6, flute: 20}]\n  files:"), encoding="utf-8"
    )
    return folder


@pytest.mark.parametrize("face", ["top", "bottom"])
def test_an_eye_through_the_bridge_is_reamed_through_the_bridge(face: str, tmp_path: Path) -> None:
    """The bridge is 6 thick; below it the stand is open for 30."""
    build, shop = api.read(stand(tmp_path, EYE.replace("FACE", face)))
    route = plan_build(build, shop)
    assert [str(v) for v in prove(route, build).violations if v.severity == "error"] == []
    done = [o for s in route.setups for o in s.operations if "eye" in o.features]
    assert "stand/eye/ream" in [o.id for o in done]
    moves = [m for o in done for m in o.moves if isinstance(m, Plunge)]
    assert moves
    assert -min(m.z for m in moves) < 6 + 10


@pytest.mark.parametrize(
    ("bottom", "found"),
    # the bridge is from 30 to 36 up: at 20 the two cross between the cheeks, at 33 in the bridge
    [("20", False), ("33", True)],
)
def test_holes_meet_only_where_a_piece_is(bottom: str, found: bool, tmp_path: Path) -> None:
    axle = AXLE.replace("BOTTOM", bottom) + "depth: through}\n"
    told = [f.what for f in api.check(stand(tmp_path, EYE.replace("FACE", "top"), axle))]
    assert any("along its side" in what for what in told) is found
