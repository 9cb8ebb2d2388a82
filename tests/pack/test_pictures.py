"""The picture of a setup: what it marks, what it says, and that it is fit for the page."""

from __future__ import annotations

import re
from typing import Any
from xml.etree import ElementTree

import pytest

from barstock.drawing.build import Face
from barstock.pack.fresh_faces import freshly_cut
from barstock.pack.holding_picture import touched, vise
from barstock.pack.setup_pictures import setup_picture
from barstock.route import Holding, Setup, Zero
from barstock.solids.shapes import Placement, Solid, box, cylinder, nothing
from barstock.solids.skin import patches
from barstock.workshop.shop import MachineKind

HOLDING = Holding(
    way="vise",
    device="vise",
    up=Face.TOP,
    fixed_jaw=Face.BACK,
    packing=25,
    parallels=(5, 20),
    jaws_from=0,
    jaws_to=100,
    jaw_top=32,
    opening=20,
    largest_opening=80,
)
SLOT = box((0, -14, 33), (30, -6, 37))
"""8 wide, 4 deep, along a block 30 x 20 x 12 that stands at packing height."""


def setup(zero: dict[str, Zero] | None = None, **holding: Any) -> Setup:
    zeros = {"zero_x": Zero(find="left"), "zero_y": Zero(find="fixed jaw")}
    return Setup(
        id="1",
        work="block",
        stage="piece",
        copies=2,
        machine="mill",
        machine_kind=MachineKind.MILL,
        holding=HOLDING.model_copy(update=holding),
        operations=(),
        **(zeros | {"zero_z": Zero(find="top")} | (zero or {})),
    )


def slotted() -> Solid:
    return box((0, -20, 25), (30, 0, 37)).cut(SLOT)


def words(picture: str) -> list[str]:
    return [
        e.text or "" for e in ElementTree.fromstring(picture).iter() if e.text and e.text.strip()
    ]


def test_the_faces_of_the_slot_are_fresh_and_no_others() -> None:
    skin = patches(slotted(), 0.02)
    fresh = freshly_cut(skin, patches(SLOT, 0.02))
    inside = [
        bool((abs(p.points[:, 1] + 10) <= 4.001).all() and (p.points[:, 2] >= 32.999).all())
        for p in skin
    ]
    assert fresh == inside
    assert sum(fresh) == 3  # the floor and two walls


def test_the_wall_of_a_drilled_hole_is_fresh() -> None:
    hole = cylinder((15, -10, 25), (0, 0, 1), 2.5, 12)
    skin = patches(box((0, -20, 25), (30, 0, 37)).cut(hole), 0.02)
    fresh = freshly_cut(skin, patches(hole, 0.02))
    assert [p.flat for p, new in zip(skin, fresh, strict=True) if new] == [False]


def test_nothing_cut_nothing_hatched() -> None:
    picture = setup_picture(setup(), slotted(), nothing())
    assert 'class="fresh"' not in picture
    assert "cut in this setup" not in picture


def test_the_picture_says_what_holds_the_work_and_where_zero_is() -> None:
    picture = setup_picture(setup(), slotted(), SLOT)
    said = words(picture)
    for expected in (
        "fixed jaw",
        "against the back face",
        "stop",
        "against the left face",
        "moving jaw",
        "parallels 5 + 20 mm",
        "zero",
        "X left, Y fixed jaw",
        "Z top",
        "cut in this setup",
    ):
        assert expected in said
    assert {"X", "Y", "Z"} <= set(said)
    assert 'class="fresh"' in picture


def test_a_face_turned_to_the_stop_is_called_by_its_own_name() -> None:
    # front up, bottom at the fixed jaw, stop on the right: worked out by turning a block by hand
    said = words(
        setup_picture(setup(up=Face.FRONT, fixed_jaw=Face.BOTTOM, stop="right"), slotted(), SLOT)
    )
    assert "against the bottom face" in said
    assert "against the left face" in said


def test_a_tilt_is_shown_with_its_hand() -> None:
    lifted = Placement(((0.9986, 0, -0.0523), (0, 1, 0), (0.0523, 0, 0.9986)))
    tilted = slotted().moved(lifted)
    said = words(setup_picture(setup(tilt=3.0), tilted, SLOT.moved(lifted)))
    assert "tilted 3°" in said
    assert "right-hand end up" in said


def test_work_at_the_bench_is_drawn_without_a_vise() -> None:
    none = {f"zero_{axis}": Zero(find="none") for axis in "xyz"}
    said = words(setup_picture(setup(none, jaw_top=0, packing=0, stop="none"), slotted(), SLOT))
    assert said == ["cut in this setup"]


def test_a_stop_touches_metal() -> None:
    # the left end is cut away in its middle: the stop goes to one of the lugs beside
    work = box((0, -20, 25), (30, 0, 37)).cut(box((0, -14, 25), (10, -6, 37)))
    x, y, z = touched(patches(work, 0.02), -1.0)
    assert x == 0
    assert -20 <= y <= -14 or -6 <= y <= 0
    assert work.contains((x, y, z))


@pytest.mark.parametrize("length", [30, 300])
def test_the_picture_fits_its_size_on_the_page_and_in_the_file(length: float) -> None:
    work = box((0, -20, 25), (length, 0, 37)).cut(box((0, -14, 33), (length, -6, 37)))
    picture = setup_picture(setup(), work, box((0, -14, 33), (length, -6, 37)))
    assert len(picture.encode()) < 200_000
    root = ElementTree.fromstring(picture)
    assert (root.get("width"), root.get("height")) == ("160mm", "110mm")
    for path in root.iter("{http://www.w3.org/2000/svg}path"):
        for x, y in re.findall(r"(-?[\d.]+),(-?[\d.]+)", path.get("d", "")):
            assert -1 <= float(x) <= 161
            assert -1 <= float(y) <= 111


@pytest.mark.parametrize("below", [31.0, 27.0])
def test_the_stop_is_drawn_as_low_as_it_must_be(below: float) -> None:
    work = slotted()
    low, high = work.bounds
    held = HOLDING.model_copy(update={"stop_below": below})
    (stop,) = [b for b in vise(held, low, high, 20, patches(work, 0.1)).bodies if b.of == "stop"]
    assert stop.solid.bounds[1][2] <= below + 1e-6
    assert stop.solid.bounds[1][2] > low[2]
