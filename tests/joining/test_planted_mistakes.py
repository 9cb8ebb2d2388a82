"""Mistakes planted in build.yaml, and the words that must come out."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from barstock import api
from barstock.reading.faults import fault_line

SMALL = Path(__file__).parent / "small"

FIXTURE_OF_ONES_OWN = """
  block:
    material: mild steel
    length: 60
    width: 20
    height: 12
    bar: 20 x 12
    as bought: [front, back, top, bottom]
    features:
      one: {kind: hole, face: top, at: {left: 14, front: 10}, diameter: 2.1, depth: through}
      other: {kind: hole, face: top, at: {left: 46, front: 10}, diameter: 2.1, depth: through}
fabrications:"""


def faults(folder: Path, *changes: tuple[str, str]) -> list[str]:
    """The faults of the small stand after some changes of its text."""
    for name in ("build.yaml", "workshop.yaml"):
        shutil.copy(SMALL / name, folder)
    text = (folder / "build.yaml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    return [fault_line(fault).removeprefix(f"{folder}/") for fault in api.check(folder)]


def test_the_stand_as_it_is_written_has_no_faults(tmp_path: Path) -> None:
    assert faults(tmp_path) == []


def test_a_block_of_ones_own_with_room_to_grow_is_accepted(tmp_path: Path) -> None:
    own = FIXTURE_OF_ONES_OWN.replace(
        "left: 46, front: 10}, diameter: 2.1", "left: 46, front: 10}, diameter: 3"
    )
    changes = (("\nfabrications:", own), ("under: bottom}", "under: bottom, part: block}"))
    assert faults(tmp_path, *changes) == []
    joined = api.read(tmp_path)[0].part("stand").joined
    assert joined is not None
    assert joined.fixture is not None
    assert joined.fixture.part is not None
    assert joined.fixture.part.name == "block"


SOLDERED_FREE = (
    ("      left screw: {through: bridge/fixing, into: left cheek/fixing, material: brass, "
     "replaced by: screws}\n", ""),
    ("      right screw: {through: bridge/fixing, into: right cheek/fixing, material: brass, "
     "replaced by: screws}\n", ""),
)  # fmt: skip

BY_ITS_TOP = ("width: centre}, against: {bottom: left cheek/top}", "width: centre, top: 0}")

PLANTED = {
    "pieces that do not meet": (
        [BY_ITS_TOP, ("    height: 36\n    pieces", "    height: 37\n    pieces")],
        "'left cheek' and 'bridge' do not meet, they stand 1 mm apart",
    ),
    "pieces that run into each other": (
        [BY_ITS_TOP, ("    height: 36\n    pieces", "    height: 35\n    pieces")],
        "'left cheek' and 'bridge' run into each other",
    ),
    "a screw through the fixture and more": (
        [("left foot: {through: fixture,", "left foot: {through: [fixture, bridge/fixing],")],
        "fixing screw 'left foot' comes through the fixture and holes of pieces; write 'through: "
        "fixture'",
    ),
    "a place marked out from a rough end": (
        [("{part: bridge, at: {length: centre,", "{part: bridge, at: {left: -1.5,")],
        "'bridge' is placed by its left end, which stands 1.5 mm proud of the whole and is rough",
    ),
    "left over and never filed": (
        [("      left end: {kind: flush, face: left, with: left cheek}\n", "")],
        "the pieces stand 1.5 mm proud of the left face",
    ),
    "a joint cut through": (
        [("gap: 0.05 to 0.10, cut by: [screws]}\n      right", "gap: 0.05 to 0.10}\n      right")],
        "screws cuts through joint 'left'",
    ),
    "a gap too wide": ([("gap: 0.05 to 0.10", "gap: 0.3 to 0.4")], "too wide to draw filler in"),
    "iron in the pickle": (
        [("material: brass, replaced by: screws}\n      right",
          "material: steel, left in: true, replaced by: screws}\n      right")],
        "iron in the pickle",
    ),
    "a screw that bottoms": (
        [("into: left cheek/foot}", "into: left cheek/foot, length: 25}")],
        "a 25 mm M2 screw bottoms",
    ),
    "a thread not swallowed": (
        [("thread: M4\n        depth: 12\n        drill depth: 16",
          "thread: M2.5\n        depth: 12\n        drill depth: 16")],
        "does not swallow",
    ),
    "a drill too short for the tap": (
        [("depth: 12\n        drill depth: 16", "depth: 12\n        drill depth: 12.5")],
        "the drill goes only 0.5 mm past the full thread; the lead of the bluntest tap takes 1.05",
    ),
    "a fixture too tight": (
        [("\nfabrications:", FIXTURE_OF_ONES_OWN), ("fixture: {under: bottom}",
                                                  "fixture: {under: bottom, part: block}")],
        "fixture too tight",
    ),
    "a fixture without the hole": (
        [("\nfabrications:", FIXTURE_OF_ONES_OWN.replace("left: 46", "left: 45")),
         ("fixture: {under: bottom}", "fixture: {under: bottom, part: block}")],
        "the fixture 'block' has no hole for 'right foot'",
    ),
    "a joint melted again": (
        [*SOLDERED_FREE, ("    fixing screws:\n", ""),
         ("    fixture: {under: bottom}\n", "    heats: [[left], [right]]\n"),
         ("      left foot: {through: fixture, into: left cheek/foot}\n", ""),
         ("      right foot: {through: fixture, into: right cheek/foot}\n", "")],
        "melts again",
    ),
    "cadmium": ([("filler: Ag 155", "filler: Ag 340")], "holds cadmium"),
    "holes out of line": (
        [("pitch: 32, along: length}, centre: {length: centre, width: centre}}\n        clearance",
          "pitch: 32.4, along: length}, centre: {length: centre, width: centre}}\n        "
          "clearance")],
        "lies 0.2 mm off the axis",
    ),
    "a piece turned two ways at once": (
        [("turned: {left: bottom, top: left}", "turned: {left: bottom, right: left}")],
        "cannot be turned so",
    ),
    "a piece at an angle": (
        [("turned: {left: bottom, top: left}", "turned: {left: bottom, top: 30}")],
        "piece 'left cheek' would stand at an angle, and pieces stand square to the whole; name "
        "the face of it that looks to the top",
    ),
    "a face that there is not": (
        [("turned: {left: bottom, top: left}", "turned: {left: bottom, top: lef}")],
        "piece 'left cheek' has no face 'lef' to look to the top; did you mean 'left'?",
    ),
    "too few copies": (
        [("    copies: 2\n", "    copies: 1\n")],
        "1 of 'stand' take 2 of 'cheek', 1 are made",
    ),
    "a part of no joint": (
        [("      right: {between: [right cheek, bridge], form: butt, filler: Ag 155, gap: 0.05 to "
          "0.10, cut by: [screws]}\n", "")],
        "no joint ties 'right cheek' to 'left cheek'",
    ),
}  # fmt: skip


@pytest.mark.parametrize("mistake", PLANTED)
def test_a_planted_mistake_is_named_where_it_is_written(mistake: str, tmp_path: Path) -> None:
    changes, words = PLANTED[mistake]
    told = faults(tmp_path, *changes)
    said = [line for line in told if words in line]
    assert said, told
    assert said[0].startswith("build.yaml:")
    assert ": error: part 'stand'" in said[0] or "part 'cheek'" in said[0] or "Ag 340" in said[0]
