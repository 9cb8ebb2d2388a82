"""Other words of the trade are answered with ours; a fault is told once, at its cause."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock import api

SAMPLES = Path(__file__).parents[2] / "src" / "barstock" / "samples"
SHOP = (SAMPLES / "wagon" / "workshop.yaml").read_text(encoding="utf-8")
SHOP = SHOP.replace("rack:\n", "rack:\n  silver steel: [round 10 x 330]\n", 1)
PIN = """build: Pin
parts:
  pin:
    MANY: 3
    material: silver steel
    length: 50
    diameter: 10
    bar: round 10
    features:
      end: {kind: KIND, face: top, edge: left, width: 12, depth: 1.5}
"""


def told(folder: Path, text: str) -> list[str]:
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    (folder / "workshop.yaml").write_text(SHOP, encoding="utf-8")
    return [f"{f.what}; {f.mend}" for f in api.check(folder) if f.grade == "error"]


@pytest.mark.parametrize(
    ("word", "ours"),
    [("rebate", "step"), ("chamfer", "edge"), ("tapped hole", "hole"), ("groove", "slot"),
     ("recess", "pocket"), ("profile", "outline")],
)  # fmt: skip
def test_a_kind_by_another_name(tmp_path: Path, word: str, ours: str) -> None:
    found = told(tmp_path, PIN.replace("MANY", "copies").replace("KIND", word))
    assert any(f"here that is '{ours}'" in words for words in found), found


@pytest.mark.parametrize("word", ["quantity", "qty", "off"])
def test_how_many_by_another_name(tmp_path: Path, word: str) -> None:
    found = told(tmp_path, PIN.replace("MANY", word).replace("KIND", "step"))
    assert [f"a part has no '{word}'; here that is 'copies'"] == found


def test_round_bar_wants_a_diameter_and_nothing_else(tmp_path: Path) -> None:
    text = PIN.replace("MANY", "copies").replace("KIND", "step").replace("    diameter: 10\n", "")
    (found,) = told(tmp_path, text)
    assert "'diameter' is missing" in found


def test_what_names_a_faulty_part_is_not_told_that_it_is_not_there(tmp_path: Path) -> None:
    text = (SAMPLES / "wagon" / "build.yaml").read_text(encoding="utf-8")
    head, tail = text.split("  horn guide:\n", 1)
    lines = tail.splitlines(keepends=True)
    lines.remove(next(line for line in lines if line.startswith("    height:")))
    (found,) = told(tmp_path, f"{head}  horn guide:\n{''.join(lines)}")
    assert "'height' is missing" in found
