"""Gaps at heat and the user's own order, of a fabrication as it is written in build.yaml."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock import api
from barstock.errors import FaultyError
from barstock.fabricating.joining_plan import JoiningPlan, joining_plan
from barstock.handbook.heat import elongation
from barstock.route import HeatReasonKind

SHOP = """workshop: Trial
machines:
  mill: {kind: mill, speeds: 100 to 2500, travel: {x: 320, y: 145, z: 220}, readout: 0.005,
         daylight: 260}
  saw: {kind: saw, kerf: 1}
rack: {mild steel: [2 of 20 x 12 x 500, 25 x 12 x 300], brass: [2 of 20 x 12 x 500]}
hearth: {power: 7.7 kW}
"""

RAIL = """build: Trial
parts:
  bar:
    copies: 2
    material: METAL
    length: 30
    width: 20
    height: 12
    bar: 20 x 12
    as bought: [front, back, top, bottom]
    features:
      screw hole: {kind: hole, face: top, at: {left: 8, width: centre}, diameter: 4.4,
                   depth: through}
fabrications:
  rail:
    length: 60
    width: 20
    height: 12
    pieces:
      one: {part: bar, at: {left: 0, width: centre, bottom: 0}}
      other:
        part: bar
        turned: {left: right, front: back}
        at: {right: 0, width: centre, bottom: 0}
    joints:
      middle: {between: [one, other], form: butt, filler: [Ag 155, Ag 145], gap: GAP}
    fixing screws:
      one screw: {through: one/screw hole, into: fixture, thread: M3}
      other screw: {through: other/screw hole, into: fixture, thread: M3}
    fixture: {under: bottom}
"""


def rail(folder: Path, gap: str, metal: str = "mild steel", more: str = "") -> JoiningPlan:
    """Two bars end to end, each screwed to a fixture of mild steel 44 mm apart."""
    text = RAIL.replace("GAP", gap).replace("METAL", metal) + more
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    (folder / "workshop.yaml").write_text(SHOP, encoding="utf-8")
    build, workshop = api.read(folder)
    return joining_plan(build.part("rail"), workshop)


def test_a_fixture_that_lags_closes_the_gap(tmp_path: Path) -> None:
    """The bars' own growth to 680 C over the 22 mm from each screw to the joint is made up by the
    fixture's over the 44 between the screws, but for what the fixture lags, 150 K, behind."""
    (gap,) = rail(tmp_path, "0.15").gaps
    closes = 44 * (elongation("mild steel", 680) - elongation("mild steel", 530))
    assert gap.most_hot == pytest.approx(0.15)
    assert gap.least_hot == pytest.approx(0.15 - closes)


def test_brass_bars_press_on_each_other(tmp_path: Path) -> None:
    with pytest.raises(FaultyError, match="press on each other"):
        rail(tmp_path, "0.05 to 0.1", "brass")


def test_the_users_own_order_is_the_plan(tmp_path: Path) -> None:
    plan = rail(tmp_path, "0.15", more="    heats: [[middle]]\n").heats
    assert [why.kind for why in plan.reasons] == [HeatReasonKind.OWN_ORDER]
    assert [list(heat.alloys) for heat in plan.heats] == [["middle"]]


def test_a_larger_thread_too_near_the_edge_is_told(tmp_path: Path) -> None:
    """M10 where the M3 screw was, 8 mm from the left end: 8 - 5 - 0.05 leaves 2.95 mm."""
    more = (
        "    features:\n      larger:\n        kind: hole\n        face: top\n"
        "        at: {left: 8, width: centre}\n        thread: M10\n        depth: through\n"
        "least wall: 3\n"
    )
    text = RAIL.replace("thread: M3}\n      other", "thread: M3, replaced by: larger}\n      other")
    text = text.replace("GAP", "0.15").replace("METAL", "mild steel") + more
    (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
    (tmp_path / "workshop.yaml").write_text(SHOP, encoding="utf-8")
    told = [fault for fault in api.check(tmp_path) if "wall" in fault.what]
    assert any("larger: at worst the wall to the edge is 2.95 mm" in f.what for f in told)
    (tmp_path / "build.yaml").write_text(text.replace("wall: 3", "wall: 2.9"), encoding="utf-8")
    assert not [fault for fault in api.check(tmp_path) if "at worst the wall" in fault.what]


def test_a_fixture_comes_out_of_a_bar_named_in_inches(tmp_path: Path) -> None:
    """Its own figures are mm: a bar called 2 x 1 is 50.8 x 25.4 mm, not 2 x 1 mm."""
    shop = SHOP.replace("workshop: Trial\n", "workshop: Trial\nunit: inch\n")
    travel = "{x: 320 mm, y: 145 mm, z: 220 mm}, readout: .0002, daylight: 260 mm"
    shop = shop.replace("{x: 320, y: 145, z: 220}, readout: 0.005,\n         daylight: 260", travel)
    shop = shop.replace("kerf: 1}", "kerf: 1 mm}")
    bars = "rack: {mild steel: [2 x 1 x 24, 20 mm x 12 mm x 24]}"
    shop = "\n".join(bars if line.startswith("rack") else line for line in shop.splitlines())
    (tmp_path / "build.yaml").write_text(RAIL.replace("GAP", "0.15").replace("METAL", "mild steel"))
    (tmp_path / "workshop.yaml").write_text(shop, encoding="utf-8")
    build, _ = api.read(tmp_path)
    (block,) = (part for part in build.parts if part.name == "rail fixture")
    assert sorted(block.size[1:]) == pytest.approx([25.4, 50.8])
