"""A sound hand-written route passes; every planted mistake is refused and named."""

import math
import re
from dataclasses import replace

import pytest

from barstock.drawing.build import Face
from barstock.route import BodyKind, Does, Plunge, Shape, Traverse, Zero
from barstock.solids.shapes import Solid, box, cylinder, prism
from barstock.workshop.shop import MachineKind, ToolKind

from .conftest import DRILL, SPOT, operation

SLOT = box((0, 6, 8), (30, 14, 12))


def named(faults, *words):
    """Is there one fault whose text and ids hold all of the words?"""
    texts = [f"{f} [{f.setup} {f.operation} {f.feature}]" for f in faults]
    return any(all(re.search(word, text) for word in words) for text in texts)


def drawn(*removed: Solid) -> Solid:
    return box((0, 0, 0), (30, 20, 12)).cut(SLOT, *removed)


def test_a_sound_route_makes_the_block(block):
    proof = block.proof()
    assert proof.violations == ()
    assert proof.ok
    assert proof.deviation < 1e-6
    assert [s.setup for s in proof.stages] == ["bar slot", "left end", "right end", "drill"]


def test_the_picture_of_a_setup_is_the_work_as_held(block):
    """After the left end: x from the milled end 0.5 to 31, on 25 mm parallels, back at the jaw."""
    stage = block.proof().stages[1]
    low, high = stage.solid.bounds
    assert low == pytest.approx((0.5, -20, 25), abs=1e-6)
    assert high == pytest.approx((31, 0, 37), abs=1e-6)
    assert stage.fresh.volume == pytest.approx(0.5 * (20 * 12 - 8 * 4))
    assert stage.opening == pytest.approx(20)


def test_a_feature_never_made(block):
    assert named(block.without("drill").faults(), "hole", "never made", "plan an operation")


def test_an_end_never_milled(block):
    assert named(block.without("right end").faults(), "0.500 mm left on", "no operation cuts")


def test_a_hole_from_the_wrong_side_after_turning_the_work(block):
    moves = {
        "spot": Plunge(does=Does.DRILL, x=13, y=-7, z=-5.5),
        "hole": Plunge(does=Does.DRILL, x=13, y=-7, z=-14),
    }
    job = block.draw(drawn(cylinder((10, 10, 0), (0, 0, 1), 2.5, 8)))
    for id_, move in moves.items():
        job = job.with_operation(id_, moves=(move,))
    assert job.faults() == []
    turned = job.with_setup("drill", fixed_jaw=Face.FRONT)
    assert named(turned.faults(), "cut away that the drawing keeps", r"\[drill hole")


def test_a_taper_on_the_wrong_hand(block, make):
    """A floor that falls 2 degrees to the left, from 4 deep at the right end."""
    slope = math.tan(math.radians(2))
    wedge = prism([(30, 0, 8), (30, 0, 12), (0, 0, 12), (0, 0, 8 - 30 * slope)], (0, 20, 0))
    job = replace(
        block.without("bar slot").without("drill"),
        want=replace(
            block.want,
            drawn=box((0, 0, 0), (30, 20, 12)).cut(wedge),
            removes={"floor": wedge},
        ),
    )
    # Lifting the left end by 2 degrees (tilt -2) makes the floor level. The highest point is then
    # the top left edge, and the floor lies below it by the depth at the left, square to the floor.
    deep = (12 - 8 + 30 * slope) * math.cos(math.radians(2))
    steps = tuple(
        Traverse(does=Does.FLOOR, points=((-16, y), (50, y)), z=-deep)
        for y in (-22, -17, -12, -7, -2, 2)
    )
    tilted = make("taper", tilt=-2.0, steps=steps, features=("floor",))
    sound = replace(
        job,
        setups=(
            *job.setups,
            tilted,
        ),
    )
    assert sound.faults() == []
    wrong = sound.with_setup("taper", tilt=2.0)
    assert named(wrong.faults(), "floor", "wrong hand", "taper")


def test_an_operation_that_removes_what_the_work_is_held_by(block, make):
    """A rebate 3 mm into the back and 6.5 mm up, before the lowest 7 mm are held in the jaws."""
    step = Traverse(does=Does.FLOOR, points=((-10, 5), (50, 5)), z=-6.5)
    cut = make("step", up=Face.BOTTOM, steps=(step,), packing=30, parallels=(30,), jaw_top=35)
    *before, drill = block.setups
    faults = replace(
        block,
        setups=(
            *before,
            cut,
            drill,
        ),
    ).faults()
    assert named(faults, "drill", "grip only 0.50 mm", "step/cut has cut it away")


def test_a_corner_tighter_than_any_cutter(block, make):
    """Sharp corners milled by a 6 mm cutter: its wall stands (1 - cos 45) x 3 mm off there."""
    pocket = box((4, 8, 2), (14, 16, 12))
    want = replace(block.want, drawn=drawn(pocket), removes={"slot": SLOT, "pocket": pocket})
    path = [(7, -9), (11, -9), (11, -7), (7, -7), (7, -9)]
    run = Traverse(does=Does.FLOOR, points=tuple((x + 3, y + 3) for x, y in path), z=-10)
    milled = make("pocket", cutter="mill", steps=(run,), features=("pocket",))
    job = replace(block.without("drill"), want=want)
    job = replace(
        job,
        setups=(
            *job.setups,
            milled,
        ),
    )
    assert named(job.faults(), "pocket", "corner is tighter", r"0\.879 mm", "6 mm")


def test_a_cutter_too_short(block):
    short = block.setups[0].operations[0].cutter.model_copy(update={"flute": 3.0})
    faults = block.with_operation("slot", cutter=short).faults()
    assert named(faults, "3 mm deep at most", "4.00 mm", "slot")


def test_a_holder_that_meets_the_work(block):
    short = block.setups[4].operations[1].cutter.model_copy(update={"reach": 12.0})
    assert named(block.with_operation("hole", cutter=short).faults(), "chuck meets the work")


def test_a_vise_that_does_not_open_so_far(block):
    faults = block.with_setup("drill", largest_opening=18.0).faults()
    assert named(faults, "opens 18 mm", "20.00 mm wide", "drill")


def test_work_that_lies_otherwise_than_the_route_thinks(block):
    """On its side the work is 12 mm wide between the jaws, not 20."""
    faults = block.with_setup("drill", up=Face.FRONT, fixed_jaw=Face.TOP).faults()
    assert named(faults, "jaws close to 12.00 mm", "20.00 mm", "drill")


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"width": 19.5}, ("0.500 mm short on the back",)),
        ({"length": 60.0}, ("63.5 mm of bar", "60 mm long")),
        ({"pieces": 1}, ("only 1 of 2 pieces",)),
    ],
)
def test_stock_too_small(block, changes, words):
    bars = (block.bars[0].model_copy(update=changes),)
    assert named(replace(block, bars=bars).faults(), *words)


def test_a_drill_into_the_parallel(block):
    hole = cylinder((15, 17, 0), (0, 0, 1), 2.5, 12)
    job = block.draw(drawn(hole))
    job = job.with_operation("spot", moves=(Plunge(does=Does.DRILL, x=18, y=0, z=-1.5),))
    job = job.with_operation("hole", moves=(Plunge(does=Does.DRILL, x=18, y=0, z=-14),))
    assert named(job.faults(), "goes through the work into a parallel", "hole")
    assert job.with_setup("drill", parallels_out=True).faults() == []


def test_a_drill_that_breaks_out_of_a_blind_hole(block):
    faults = block.draw(drawn(cylinder((15, 10, 4), (0, 0, 1), 2.5, 4))).faults()
    assert named(faults, "mm cut away that the drawing keeps", r"at \(.*\)", "drill hole")


def test_a_thin_wall_left(block, make):
    """A second slot leaves 0.6 mm beside the first: the drawing keeps 2 mm there."""
    side = box((0, 14.6, 8), (30, 20, 12))
    job = block.draw(drawn(side, cylinder((15, 10, 0), (0, 0, 1), 2.5, 8)))
    run = Traverse(does=Does.FLOOR, points=((-10, 2.6), (50, 2.6)), z=-4)
    milled = make("rebate", steps=(run,), packing=20, parallels=(20,), jaw_top=27)
    job = replace(
        job,
        setups=(
            *job.setups,
            milled,
        ),
        least_wall=0.5,
    )
    assert job.faults() == []
    proof = replace(job, least_wall=1.0).proof()
    assert proof.ok, "the drawing has the wall so: a warning only"
    assert named(proof.violations, "0.60 mm thick", "the drawing has it so", "rebate")
    kept = box((0, 16, 8), (30, 20, 12))
    wrong = job.draw(drawn(kept, cylinder((15, 10, 0), (0, 0, 1), 2.5, 8)))
    faults = replace(wrong, least_wall=1.0).faults()
    assert named(faults, "0.60 mm thick is left, 1 mm is the least", "rebate")


def test_a_cutter_into_the_jaw(block):
    faults = block.with_setup("drill", jaw_top=36.0).with_setup("left end", jaws_from=0.0).faults()
    assert named(faults, "runs into the (fixed|moving) jaw", "left")


def test_a_hole_measured_from_a_sawn_end(block):
    assert named(block.without("left end").faults(), "still as sawn", "spot is measured from it")


def test_a_line_marked_out_from_a_sawn_end(block, make):
    line = Shape(
        does=Does.FILE,
        face=Face.TOP,
        from_u=Face.LEFT,
        from_v=Face.FRONT,
        outline=((-1, -1, 0), (3, -1, 0), (-1, 3, 0)),
        inside_out=True,
    )
    filed = make("file", steps=(line,), machine_kind=MachineKind.BENCH, way="bench vise")
    job = replace(block, setups=(*block.setups[:2], filed, *block.setups[2:]))
    assert named(job.faults(), "marked out from the left end", "as sawn", "file/cut")


def test_a_cutter_turning_at_the_bench(block):
    bench = {"way": "bench vise", "machine_kind": MachineKind.BENCH}
    assert named(block.with_setup("drill", **bench).faults(), "no .* is made at a bench")


def test_a_zero_on_what_is_not_there(block):
    zero = Zero(find="centre", on=BodyKind.V_BLOCK)
    assert named(block.with_setup("drill", zero_y=zero).faults(), "V-block", "the route has none")


def test_a_zero_that_is_never_found(block):
    assert named(block.with_setup("drill", zero_x=Zero(find="none")).faults(), "X zero is never")


@pytest.mark.parametrize(("said", "words"), [("grip", "7.00 mm"), ("stick_up", "5.00 mm")])
def test_a_printed_height_that_is_not_so(block, said, words):
    assert block.with_setup("drill", grip=7.0, stick_up=5.0).faults() == []
    faults = block.with_setup("drill", **{said: 9.0}).faults()
    assert named(faults, words, "route says 9.00 mm", "drill")


def test_a_cut_far_out_past_the_jaws(block):
    """The 65 mm bar is 12 mm thick: 60 mm is the furthest out it is cut."""
    faults = block.with_setup("bar slot", jaws_from=62.0).faults()
    assert named(faults, "62.0 mm past the jaws' end", "12.0 mm thick", "bar slot")


def test_a_drill_without_a_spot(block):
    assert named(block.without("spot").faults(), "unspotted", "hole")


def test_a_pass_begun_in_metal_by_a_cutter_that_may_not_plunge(block):
    slot = next(o for s in block.setups for o in s.operations if o.id == "slot")
    from_within = tuple(
        Traverse(does=Does.FLOOR, points=((35, -8), (end, -8), (end, -6), (35, -6)), z=-4)
        for end in (76, -6)
    )
    wrong = block.with_operation("slot", moves=from_within)
    assert named(wrong.faults(), "may not plunge, and starts a pass in solid metal", "slot")
    mill = slot.cutter.model_copy(update={"plunges": True})
    assert block.with_operation("slot", moves=from_within, cutter=mill).faults() == []
    # a reversed pass, and one that goes down where the last layer ended, in metal again
    into = Traverse(does=Does.ROUGH, points=((76, -8), (35, -8)), z=-2)
    down = Traverse(does=Does.FLOOR, points=((35, -8), (76, -8)), z=-4)
    layered = block.with_operation("slot", moves=(into, down, *slot.moves))
    assert named(layered.faults(), "may not plunge, and starts a pass in solid metal", "slot")


def test_a_pass_begun_in_a_drilled_hole(block):
    slot = next(o for s in block.setups for o in s.operations if o.id == "slot")
    within = [
        Traverse(does=Does.FLOOR, points=((35, y), (end, y)), z=-4)
        for y in (-8, -6)
        for end in (76, -6)
    ]
    hole = [
        operation(name, tool, Plunge(does=Does.DRILL, x=35, y=-8, z=z), features=("slot",))
        for name, tool, z in (("start spot", SPOT, -1), ("start", DRILL, -4))
    ]
    milled = slot.model_copy(update={"moves": tuple(within)})
    assert block.with_setup("bar slot", operations=(*hole, milled)).faults() == []
    undrilled = block.with_setup("bar slot", operations=(milled,))
    assert named(undrilled.faults(), "may not plunge", "slot")


def test_an_edge_hidden_between_the_jaws(block):
    faults = block.with_setup("drill", jaw_top=37.0, zero_y=Zero(find="front")).faults()
    assert named(faults, "front edge", "hidden between the jaws", "drill")


def test_a_reamer_finds_too_little(block, make):
    reamer = (
        block.setups[4]
        .operations[1]
        .cutter.model_copy(
            update={"kind": ToolKind.REAMER, "diameter": 6.0, "name": "6 mm reamer", "point": 180.0}
        )
    )
    ream = make("ream", steps=(Plunge(does=Does.DRILL, x=18, y=-7, z=-14),), features=("hole",))
    job = replace(
        block.draw(drawn(cylinder((15, 10, 0), (0, 0, 1), 3.0, 8))),
        setups=(
            *block.setups,
            ream,
        ),
    ).with_operation("ream/cut", cutter=reamer)
    assert named(job.faults(), "1.000 mm left to ream", "ream")


def test_copies_left_out(block):
    assert named(block.with_setup("drill", copies=1).faults(), "only 1 of 2 copies", "drill")


def test_filing_to_a_line(block, make):
    """A 3 mm radius on the upright edge left front, marked out from those two faces."""
    corner = box((0, 0, 0), (3, 3, 12)).cut(cylinder((3, 3, 0), (0, 0, 1), 3, 12))
    hole = cylinder((15, 10, 0), (0, 0, 1), 2.5, 8)
    job = block.draw(drawn(corner, hole))
    bulge = math.tan(math.radians(90 / 4))
    line = Shape(
        does=Does.FILE,
        face=Face.TOP,
        from_u=Face.LEFT,
        from_v=Face.FRONT,
        outline=((-1, -1, 0), (3, -1, 0), (3, 0, 0), (0, 3, -bulge), (-1, 3, 0)),
        inside_out=True,
    )
    filed = make("file", steps=(line,), machine_kind=MachineKind.BENCH, way="bench vise")
    sound = replace(
        job,
        setups=(
            *job.setups,
            filed,
        ),
    )
    assert sound.faults() == []
    swapped = line.model_copy(update={"from_v": Face.BACK})
    assert named(sound.with_operation("file/cut", moves=(swapped,)).faults(), "cut away", "file")


@pytest.mark.parametrize(("below", "meets"), [(32.5, False), (33.5, True), (None, False)])
def test_a_cutter_that_runs_out_over_a_stop_set_too_high_meets_it(block, below, meets):
    # The slot's floor is 4 deep in work 12 high at a packing of 25: 33 mm above the bed.
    faults = block.with_setup("bar slot", stop_below=below).faults()
    assert any("over the stop" in fault.what for fault in faults) == meets


@pytest.mark.parametrize("figure", [math.nan, math.inf, -math.inf, 1e30])
def test_a_figure_that_is_none_is_refused(block, figure):
    """It comes to no kernel: it is said where it stands."""
    move = Plunge(does=Does.DRILL, x=18, y=-7, z=-14).model_copy(update={"z": figure})
    faults = block.with_operation("hole", moves=(move,)).faults()
    assert [v.setup for v in faults] == ["drill"]
    assert faults[0].what == (
        f"operations.2.moves.1.z is {figure:g} in the route, which is no figure to work to"
    )
    assert "packing is" in block.with_setup("drill", packing=figure).faults()[0].what
