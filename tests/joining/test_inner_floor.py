"""Holes of a whole that start on a face of one piece inside the overall box."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock import api
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.reading.faults import fault_line
from barstock.route import Plunge

from .test_fixture_seat import LAMP_STAND, written

HOLE = (
    "    features:\n      lamp hole: {kind: hole, face: FACE, at: {top: 6, width: centre}, SIZE}\n"
)


def stand(folder: Path, face: str, size: str) -> Path:
    hole = HOLE.replace("FACE", face).replace("SIZE", size)
    return written(folder, LAMP_STAND.replace("BLOCK\n", "") + hole)


@pytest.mark.parametrize("face", ["left", "right"])
def test_a_hole_is_spotted_where_the_metal_begins(tmp_path: Path, face: str) -> None:
    """The post is 6 mm thick at the left of a whole 50 long that can only rest on its left face:
    from above, the metal under the hole begins 6 mm over what the work rests on."""
    build, workshop = api.read(stand(tmp_path, face, "diameter: 4, depth: through"))
    route = plan_build(build, workshop)
    proof = prove(route, build)
    assert [str(v) for v in proof.violations] == []
    setup, spot = next(
        (s, o) for s in route.setups for o in s.operations if o.id == "lamp stand/lamp hole/spot"
    )
    tips = [move.z for move in spot.moves if isinstance(move, Plunge)]
    # the drill's tip ends its point, 1.1 to 1.2 mm of 4, and 0.5 mm below the post
    drill = next(o for o in setup.operations if o.id == "lamp stand/lamp hole/drill")
    through = [move.z for move in drill.moves if isinstance(move, Plunge)]
    assert 6 - 3 < tips[0] - through[0] - 1.64 < 6


def test_a_hole_that_meets_no_piece_is_refused(tmp_path: Path) -> None:
    """From the right there is nothing for 44 mm."""
    told = [fault_line(f) for f in api.check(stand(tmp_path, "right", "diameter: 4, depth: 10"))]
    assert any("lamp hole meets no metal: it is counted from the right face" in t for t in told)
    deep = [fault_line(f) for f in api.check(stand(tmp_path, "right", "diameter: 4, depth: 48"))]
    assert not any("meets no metal" in t for t in deep)
