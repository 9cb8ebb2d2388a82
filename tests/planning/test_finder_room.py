"""Zeros are found where an edge finder has metal to touch and room for its tip, on every axis."""

from __future__ import annotations

from pathlib import Path

from barstock.planning.plan import plan_build
from barstock.proving.prove import prove

from .conftest import built, find
from .test_jaws import SMALL, held_otherwise, shop, told

KEY = """
build: Key
unit: mm
parts:
  key: {material: brass, length: 40, width: 8, height: 8, bar: bar,
    as bought: [front, back, top, bottom], features: {
    hole: {kind: hole, face: top, at: {left: 12, width: centre}, diameter: 3, depth: through}}}
"""
FLAT = KEY.replace("height: 8", "height: 3").replace("width: 8", "width: 9")


def test_the_end_stands_above_jaws_too_close_for_the_finder(tmp_path: Path) -> None:
    """The wagon's shop has a finder 10 mm thick, and the jaws are 8 mm apart."""
    build = built(tmp_path, KEY)
    route = plan_build(build, shop(8, 8, SMALL))
    assert prove(route, build).ok
    drilled = find(route, "key/hole/drill")[0]
    assert drilled.holding.stick_up > 1 or drilled.holding.jaws_from >= 0
    # Jaws 28 deep, the work 8 mm high on parallels of 20: level with the jaws.
    low = held_otherwise(packing=20.0, parallels=(20.0,), grip=8.0, stick_up=0.0, jaws_from=-20.0,
                         jaws_to=60.0)  # fmt: skip
    said = told(route, build, drilled, low)
    assert "left edge the X zero is found on is hidden between the jaws" in said


def test_or_out_of_the_jaws_where_it_is_too_thin_to_stand_above(tmp_path: Path) -> None:
    """3 mm high, of which 2 mm are gripped: it is held with its left-hand end at the jaws' end."""
    build = built(tmp_path, FLAT)
    route = plan_build(build, shop(9, 3, SMALL))
    assert prove(route, build).ok
    drilled = find(route, "key/hole/drill")[0]
    assert drilled.holding.jaws_from >= 0
    inside = held_otherwise(packing=25.5, parallels=(25.5,), grip=2.5, stick_up=0.5,
                            jaws_from=-20.0, jaws_to=60.0)  # fmt: skip
    assert "hidden between the jaws" in told(route, build, drilled, inside)
