"""Fillets of filler along a joint's edges, and whether they are in the way of later holding."""

from __future__ import annotations

import pytest

from barstock import api
from barstock.drawing.build import Build
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.route import JointToMake, Route

from .test_between_pieces import BRACKET, TOOLS
from .test_fabrication_at_heat import SHOP


@pytest.fixture(scope="module")
def bracket(tmp_path_factory: pytest.TempPathFactory) -> tuple[Build, Route]:
    """Two cheeks on a foot, a blind hole drilled in it from below after joining."""
    folder = tmp_path_factory.mktemp("bracket")
    text = BRACKET.replace("{kind: hole, face: top, at: {length: centre, width: centre}, "
                           "diameter: 6, depth: 44}",
                           "{kind: hole, face: top, at: {left: 5, width: centre}, diameter: 4, "
                           "depth: 44}")  # fmt: skip
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    shop = SHOP.replace("mild steel: [", "mild steel: [20 x 6 x 300, ")
    spot = "{size: 6, reach: 60}"
    (folder / "workshop.yaml").write_text(shop + TOOLS.replace("SPOT", spot), encoding="utf-8")
    build, workshop = api.read(folder)
    return build, plan_build(build, workshop)


def test_a_fillet_runs_where_one_piece_stands_on_the_other(bracket: tuple[Build, Route]) -> None:
    """The left cheek, 6 thick, stands 13 mm left of the middle of 70: from 19 to 25, on the foot's
    top at 12. As wide as the foot, it has no fillet in front and behind; 0.5 is the usual leg."""
    joint = bracket[1].fabrications[0].joints[0]
    assert [(low[0], high[0]) for low, high in joint.fillets] == [
        (pytest.approx(18.5), pytest.approx(19)),
        (pytest.approx(25), pytest.approx(25.5)),
    ]
    for low, high in joint.fillets:
        assert (low[1], high[1]) == (pytest.approx(0, abs=0.02), pytest.approx(20, abs=0.02))
        assert (low[2], high[2]) == (pytest.approx(12, abs=0.02), pytest.approx(12.5, abs=0.02))


def test_held_clear_of_its_fillets_nothing_is_said(bracket: tuple[Build, Route]) -> None:
    build, route = bracket
    assert [str(v) for v in prove(route, build).violations] == []


def test_a_fillet_between_work_and_jaw_is_told(bracket: tuple[Build, Route]) -> None:
    """Planted on the foot's front, low down, where the jaws grip."""
    build, route = bracket
    whole = route.fabrications[0]
    joint: JointToMake = whole.joints[0].model_copy(
        update={"fillets": (((30.0, -1.0, 2.0), (40.0, 0.0, 3.0)),)}
    )
    other = whole.model_copy(update={"joints": (joint, *whole.joints[1:])})
    found = prove(route.model_copy(update={"fabrications": (other,)}), build).violations
    assert {v.severity for v in found} == {"warning"}
    assert any("the fillet of 'left root' lies against the " in v.what for v in found)
    assert all("jaw" in v.what for v in found)
