"""A block between the pieces of a frame, screwed to their sides; blocks with steps, thick ones."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock import api
from barstock.drawing.build import Face
from barstock.drawing.part import Part
from barstock.fabricating.fixture_holes import fixture_holes, in_block
from barstock.fabricating.fixture_seat import seat_on
from barstock.fabricating.joining_plan import joining_plan
from barstock.planning.plan import plan_build
from barstock.proving.pieces_joined import JoinedJob, fused
from barstock.route import Fabrication

from .test_planted_mistakes import SMALL

ARCH = """build: Arch
parts:
  leg: {copies: 2, material: brass, length: 40, width: 12, height: 6, features: {
    side holes: {kind: hole, face: top, at: {row: {count: 2, pitch: 12, along: length},
      centre: {left: 16, width: centre}}, diameter: 3.4, depth: through}}}
  bridge: {material: brass, length: 42, width: 12, height: 6, features: {
    down: {kind: hole, face: top, at: {length: centre, width: centre}, diameter: 3.4,
      depth: through}}}
BLOCK
fabrications:
  arch:
    length: 42
    width: 12
    height: 46
    pieces:
      left leg: {part: leg, turned: {left: top, top: right},
        at: {left: 0, width: centre, bottom: 0}}
      right leg: {part: leg, turned: {right: top, top: right},
        at: {right: 0, width: centre, bottom: 0}}
      bridge: {part: bridge, at: {length: centre, width: centre}, against: {bottom: left leg/top}}
    joints:
      left: {between: [left leg, bridge], form: butt, filler: Ag 155, gap: 0.05 to 0.10}
      right: {between: [right leg, bridge], form: butt, filler: Ag 155, gap: 0.05 to 0.10}
    fixing screws:
      left: {through: left leg/side holes, into: fixture, thread: M3}
      right: {through: right leg/side holes, into: fixture, thread: M3}
      down: {through: bridge/down, into: fixture, thread: M3}
    fixture: {under: bottom}
"""

STEPPED = """  block:
    material: mild steel
    length: 54
    width: 12
    height: 50
    features:
      steps: {kind: step, face: top, edge: left, width: 12, depth: 40, mirrored: true}
      left: {kind: hole, face: left, at: {row: {count: 2, pitch: 12, along: height},
        centre: {front: 6, top: 24}}, thread: M3, depth: through}
      down: {kind: hole, face: top, at: {length: centre, width: centre}, thread: M3, depth: 8,
        drill depth: 10}"""


def written(folder: Path, text: str, steel: str = "40 x 30 x 200") -> Path:
    """A folder with a build, and the small shop with bar for its block."""
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    shop = (SMALL / "workshop.yaml").read_text(encoding="utf-8")
    shop = shop.replace("mild steel: [", f"mild steel: [{steel}, ")
    shop = shop.replace("brass: [", "brass: [12 x 6 x 400, ").replace("taps: [", "taps: [M3, ")
    (folder / "workshop.yaml").write_text(shop, encoding="utf-8")
    return folder


def whole_and_block(folder: Path) -> tuple[Part, Part]:
    """The arch, and the block it is screwed to."""
    build, _ = api.read(folder)
    arch = build.part("arch")
    assert arch.joined is not None
    assert arch.joined.fixture is not None
    assert arch.joined.fixture.part is not None
    return arch, arch.joined.fixture.part


def test_a_block_fills_the_room_between_the_legs(tmp_path: Path) -> None:
    """42 over all less two legs of 6 is 30; its top is under the bridge, 40 up. The screws, 10 and
    22 above the feet, are 30 and 18 below it, so that 30 with 1.5 diameters under it takes 34.5:
    of a bar 40 x 30 the 40 stands up."""
    folder = written(tmp_path, ARCH.replace("BLOCK\n", ""))
    assert not [f for f in api.check(folder) if f.grade == "error"]
    arch, block = whole_and_block(folder)
    assert block.size == (30, 30, 40)
    assert (block.length.low, block.length.high) == (pytest.approx(29.95), pytest.approx(30.05))
    assert arch.joined is not None
    assert arch.joined.fixture is not None
    seat = seat_on(arch, arch.joined.fixture)
    assert seat.point(0, 0, 0) == pytest.approx((6, 6 - 15, 40))
    holes = {(h.screw.name, h.face, h.below) for h in fixture_holes(arch, seat)}
    assert holes == {
        ("left", Face.LEFT, 18), ("left", Face.LEFT, 30), ("right", Face.RIGHT, 18),
        ("right", Face.RIGHT, 30), ("down", Face.TOP, 0),
    }  # fmt: skip


def test_its_edges_are_cut_away_under_the_joints(tmp_path: Path) -> None:
    """Both joints lie over an edge of the block: there it has a step, 5 wide and deep."""
    _, block = whole_and_block(written(tmp_path, ARCH.replace("BLOCK\n", "")))
    steps = [f.spec for f in block.features if f.kind == "step"]
    assert {(s.edge, s.width, s.depth) for s in steps} == {(Face.LEFT, 5, 5), (Face.RIGHT, 5, 5)}


def test_screws_in_its_sides_count_no_thickness_of_it(tmp_path: Path) -> None:
    """A leg of 6, 3 of thread in steel, half a pitch of lead: screws of 10 do as they are."""
    folder = written(tmp_path, ARCH.replace("BLOCK\n", ""))
    build, workshop = api.read(folder)
    found = {s.place.name: s for s in joining_plan(build.part("arch"), workshop).screws}
    assert found["left"].place.grip_most == pytest.approx(6, abs=0.2)
    assert found["left"].stock == 10
    assert all(screw.saw_off == 0 for screw in found.values())


def test_a_bar_that_the_person_has_is_taken(tmp_path: Path) -> None:
    """Of two bars that do the named one is taken, though the other is smaller."""
    text = ARCH.replace("BLOCK\n", "").replace("under: bottom", "under: bottom, from: 50 x 20")
    _, block = whole_and_block(written(tmp_path, text, "40 x 20 x 200, 50 x 20 x 200"))
    assert block.size[1:] == (20, 50)


def test_a_bar_that_does_not_hold_the_block_is_refused(tmp_path: Path) -> None:
    text = ARCH.replace("BLOCK\n", "").replace("under: bottom", "under: bottom, from: 30 x 20")
    folder = written(tmp_path, text, "40 x 20 x 200, 30 x 20 x 200")
    told = [f.what for f in api.check(folder)]
    assert any("no mild steel bar 30 x 20 for the fixture of 'arch'" in what for what in told)


def test_legs_may_stand_on_steps_of_ones_own_block(tmp_path: Path) -> None:
    """A tongue of 30 between steps 40 deep: the bridge lies on it, the legs stand on the steps;
    one hole right through takes the screws from both sides, half its 30 for each."""
    text = ARCH.replace("BLOCK", STEPPED).replace("under: bottom", "under: bottom, part: block")
    folder = written(tmp_path, text)
    assert not [f for f in api.check(folder) if f.grade == "error"]
    arch, block = whole_and_block(folder)
    assert arch.joined is not None
    assert arch.joined.fixture is not None
    seat = seat_on(arch, arch.joined.fixture)
    assert seat.point(0, 0, 0) == pytest.approx((-6, 0, 40))
    first = next(h for h in fixture_holes(arch, seat) if h.screw.name == "left")
    inside = in_block(block, first, shared=True)
    assert inside is not None
    assert (inside.plain, inside.blind) == (0, True)


FOUR_SIDES = """build: Stool
parts:
  leg: {copies: 2, material: brass, length: 40, width: 12, height: 6, features: {
    side holes: {kind: hole, face: top, at: {row: {count: 2, pitch: 12, along: length},
      centre: {left: 16, width: centre}}, diameter: 3.4, depth: through}}}
  post: {copies: 2, material: brass, length: 40, width: 12, height: 6, features: {
    side holes: {kind: hole, face: top, at: {row: {count: 2, pitch: 12, along: length},
      centre: {left: 22, width: centre}}, diameter: 3.4, depth: through}}}
  seat: {material: brass, length: 42, width: 42, height: 6, features: {
    down: {kind: hole, face: top, at: {length: centre, width: centre}, diameter: 3.4,
      depth: through}}}
  block: {material: mild steel, length: 30, width: 30, height: 40, features: {
    sides: {kind: hole, face: left, at: {row: {count: 2, pitch: 12, along: height},
      centre: {front: 15, top: 24}}, thread: M3, depth: through},
    ends: {kind: hole, face: front, at: {row: {count: 2, pitch: 12, along: height},
      centre: {left: 15, top: 18}}, thread: M3, depth: through},
    down: {kind: hole, face: top, at: {length: centre, width: centre}, thread: M3, depth: 6,
      drill depth: 8}}}
fabrications:
  stool:
    length: 42
    width: 42
    height: 46
    pieces:
      left leg: {part: leg, turned: {left: top, top: right},
        at: {left: 0, width: centre, bottom: 0}}
      right leg: {part: leg, turned: {right: top, top: right},
        at: {right: 0, width: centre, bottom: 0}}
      front post: {part: post, turned: {front: top, top: right},
        at: {length: centre, front: 0, bottom: 0}}
      back post: {part: post, turned: {back: top, top: right},
        at: {length: centre, back: 0, bottom: 0}}
      seat: {part: seat, at: {length: centre, width: centre}, against: {bottom: left leg/top}}
    joints:
      left: {between: [left leg, seat], form: butt, filler: Ag 155, gap: 0.05 to 0.10}
      right: {between: [right leg, seat], form: butt, filler: Ag 155, gap: 0.05 to 0.10}
      front: {between: [front post, seat], form: butt, filler: Ag 155, gap: 0.05 to 0.10}
      back: {between: [back post, seat], form: butt, filler: Ag 155, gap: 0.05 to 0.10}
    fixing screws:
      left: {through: left leg/side holes, into: fixture, thread: M3}
      right: {through: right leg/side holes, into: fixture, thread: M3}
      front: {through: front post/side holes, into: fixture, thread: M3}
      back: {through: back post/side holes, into: fixture, thread: M3}
      down: {through: seat/down, into: fixture, thread: M3}
    fixture: {under: bottom, part: block}
"""


def test_screws_from_any_two_sides_share_a_hole_right_through(tmp_path: Path) -> None:
    """Along the block's length and across it: half of its 30 is each screw's."""
    build, workshop = api.read(written(tmp_path, FOUR_SIDES))
    found = joining_plan(build.part("stool"), workshop).screws
    assert {s.place.name: (s.place.full_thread, s.place.blind) for s in found} == {
        "left": (15, True),
        "right": (15, True),
        "front": (15, True),
        "back": (15, True),
        "down": (6, True),
    }


def test_between_four_sides_ones_own_block_is_asked_for(tmp_path: Path) -> None:
    """Its length alone is cut to the room; its width and height are those of a bar."""
    text = FOUR_SIDES.replace("under: bottom, part: block", "under: bottom")
    told = {f.what: f.mend for f in api.check(written(tmp_path, text, "40 x 40 x 200"))}
    mend = told["no bar makes a fixture that fills the room between pieces on four sides"]
    assert "a block of your own" in mend


def test_a_step_of_the_wrong_depth_carries_no_leg(tmp_path: Path) -> None:
    """With steps 42 deep the legs hang 2 mm over them, the bridge alone rests."""
    text = ARCH.replace("BLOCK", STEPPED).replace("under: bottom", "under: bottom, part: block")
    folder = written(tmp_path, text.replace("depth: 40", "depth: 42"))
    arch, _ = whole_and_block(folder)
    assert arch.joined is not None
    assert arch.joined.fixture is not None
    seat = seat_on(arch, arch.joined.fixture)
    assert seat.bottom(arch.joined.piece("bridge")) == pytest.approx(0, abs=1e-6)
    assert seat.bottom(arch.joined.piece("left leg")) == pytest.approx(-40, abs=1e-6)


def job(folder: Path) -> tuple[JoinedJob, Fabrication]:
    """The arch as drawn on its block as drawn, and what the route says of it."""
    from barstock.methods.drawn_solid import drawn_solid
    from barstock.proving.wanted import Wanted

    build, workshop = api.read(folder)
    record = plan_build(build, workshop).fabrications[0]
    assert record.fixture is not None
    arch = build.part("arch")
    names = {piece.part for piece in record.pieces} | {record.fixture.part}
    finished = {name: drawn_solid(build.part(name)) for name in names}
    want = Wanted("arch", drawn_solid(arch), drawn_solid(arch))
    return JoinedJob(want, record, finished, (), arch.copies), record


def test_the_route_stands_the_work_on_it_and_a_shifted_block_is_refused(tmp_path: Path) -> None:
    """As planned all holes meet; a block 2 mm lower lets the bridge hang and no hole meets."""
    right, record = job(written(tmp_path, ARCH.replace("BLOCK\n", "")))
    assert fused(right)[1] == []
    assert record.fixture is not None
    assert dict(record.fixture.beside) == {"left leg": Face.RIGHT, "right leg": Face.LEFT}
    x, y, z = record.fixture.shift
    low = record.fixture.model_copy(update={"shift": (x, y, z - 2.0)})
    wrong = JoinedJob(
        right.want, record.model_copy(update={"fixture": low}), right.finished, (), right.copies
    )
    told = [v.what for v in fused(wrong)[1]]
    assert any("has no hole for 'left'" in what for what in told)


THICK_BLOCK = """build: Stand
parts:
  foot: {material: brass, length: 30, width: 20, height: 8, features: {
    fixing: {kind: hole, face: bottom, at: {row: {count: 2, pitch: 14, along: length},
      centre: {length: centre, width: centre}}, thread: M3, depth: through}}}
  post: {material: brass, length: 30, width: 20, height: 8, features: {
    ends: {kind: hole, face: top, at: {row: {count: 2, pitch: 14, along: length},
      centre: {length: centre, width: centre}}, clearance for: M3, depth: through}}}
fabrications:
  stand:
    length: 30
    width: 20
    height: 16
    pieces:
      foot: {part: foot, at: {left: 0, width: centre, bottom: 0}}
      post: {part: post, at: {left: 0, width: centre}, against: {bottom: foot/top}}
    joints:
      seam: {between: [foot, post], form: lap, filler: Ag 155, gap: 0.05 to 0.10}
    fixing screws:
      up: {through: fixture, into: foot/fixing}
      tie: {through: post/ends, into: foot/fixing, material: brass, length: 12}
    fixture: {under: bottom, from: 40 x 40}
"""


def test_a_thick_block_sinks_the_heads_of_its_screws(tmp_path: Path) -> None:
    """The longest M3 sold is 30: through a block of 40 it comes from a counterbore 32 deep, which
    leaves 8 under its head."""
    folder = written(tmp_path, THICK_BLOCK, "40 x 40 x 200")
    build, workshop = api.read(folder)
    block = build.part("stand fixture")
    holes = [f.spec for f in block.features if f.kind == "hole"]
    assert {hole.mouth.counterbore[1] for hole in holes} == {32}
    # 5.68: a knurled head of M3 (ISO 4762), which shifts as its screw does
    assert all(hole.mouth.counterbore[0] - 5.68 >= hole.bore.diameter - 3 for hole in holes)
    screw = joining_plan(build.part("stand"), workshop).screws[0]
    assert screw.place.grip_most == pytest.approx(8, abs=0.4)
    assert screw.stock <= 16


def shortened(folder: Path, by: float) -> list[str]:
    """What is told of the arch whose legs came out so much short at their upper ends."""
    from barstock.solids.shapes import box

    right, _ = job(folder)
    finished = dict(right.finished)
    leg = finished["leg"]
    assert leg is not None
    finished["leg"] = leg.cut(box((40 - by, -1, -1), (41, 13, 7)))
    short = JoinedJob(right.want, right.record, finished, (), right.copies)
    return [v.what for v in fused(short)[1]]


@pytest.mark.parametrize("by", [0.0025, 0.0064, 0.0127])
def test_filler_closes_what_rounding_to_a_dial_left_open(tmp_path: Path, by: float) -> None:
    """Half steps of dials of .0002, .0005 and .001 in."""
    assert shortened(written(tmp_path, ARCH.replace("BLOCK\n", "")), by) == []


def test_what_is_wider_than_a_gap_is_not_closed(tmp_path: Path) -> None:
    """0.3 where the gap is 0.10 at most."""
    told = shortened(written(tmp_path, ARCH.replace("BLOCK\n", "")), 0.3)
    assert any("make 3 lumps and not one" in what for what in told)
