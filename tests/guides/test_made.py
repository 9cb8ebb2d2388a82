"""Sets of parts as made: pairing against all pairings, and play worked out by hand."""

from __future__ import annotations

from itertools import permutations
from pathlib import Path

import numpy as np
import pytest

from barstock.errors import FaultyError
from barstock.mechanism.guides.block_assignment import most_even
from barstock.mechanism.guides.guide_as_made import made_set
from barstock.mechanism.guides.guide_faces import faces
from barstock.mechanism.guides.guide_measurements import read_made
from barstock.mechanism.guides.guide_sizes import variants
from barstock.quantities import Unit

from .conftest import HORNS, Written


@pytest.mark.parametrize("seed", range(12))
def test_the_least_clearance_and_the_evenness_against_all_pairings(seed: int) -> None:
    rng = np.random.default_rng(seed)
    guides, blocks = 4, 4 + seed % 3
    play = rng.uniform(0.02, 0.3, (guides, blocks)).round(2)
    play[0, 0] = np.nan
    found = most_even(play)
    sets = [s for s in permutations(range(blocks), guides) if s[0] != 0]
    picked = [play[range(guides), s] for s in sets]
    best = max(p.min() for p in picked)
    assert found.least == pytest.approx(best)
    allowed = play[play >= best]
    even = min(((p - allowed.mean()) ** 2).sum() for p in picked if p.min() >= best)
    mine = ((play[range(guides), found.chosen] - allowed.mean()) ** 2).sum()
    assert mine == pytest.approx(even)


def test_too_few_blocks_or_none_that_goes_in() -> None:
    with pytest.raises(ValueError, match="2 guides and only 1"):
        most_even(np.ones((2, 1)))
    with pytest.raises(ValueError, match="no set"):
        most_even(np.array([[np.nan, 0.1], [np.nan, 0.2]]))


MADE = """
box in horns:
  blocks:
    one: {slots/across wide end: 23.02, slots/lean: 1.6}
    two: {slots/across wide end: 22.96}
  guides:
    near: {apart: 23.42, horn/front rebate/width: 6.11}
    far: {apart: 23.36, coat: 0.03}
"""


def test_a_measured_set(written: Written, tmp_path: Path) -> None:
    build = written(HORNS)
    assert build.mechanism
    guide = build.mechanism.guides[0]
    found = faces(guide, variants(build))
    path = tmp_path / "made.yaml"
    path.write_text(MADE, encoding="utf-8")
    blocks, places = read_made(path, {guide.name: (guide, found)}, Unit.MM)[guide.name]
    made = made_set(guide, found, blocks, places)
    # play ahead and back: apart less across the wide end less two coats (0.02 each as drawn)
    play = {
        ("one", "near"): 23.42 - 23.02 - 0.04,
        ("two", "near"): 23.42 - 22.96 - 0.04,
        ("one", "far"): 23.36 - 23.02 - 0.06,
        ("two", "far"): 23.36 - 22.96 - 0.06,
    }
    # one in the near horns and two in the far ones leaves 0.34 at least, the other way 0.28
    assert {(p.block, p.guide) for p in made.pairs} == {("one", "near"), ("two", "far")}
    for pair in made.pairs:
        assert pair.play == pytest.approx(play[pair.block, pair.guide], abs=1e-9)
    assert made.least == pytest.approx(0.34)
    assert made.goes


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("box in horns", "box in horn", "no guide 'box in horn' in the build; did you mean"),
        ("slots/lean", "slots/leen", "does not go by a size 'slots/leen'"),
        ("23.42", "wide", "'wide' is no length"),
        ("guides:", "places:", "'guides' is missing"),
    ],
)
def test_what_is_wrong_in_the_file(
    written: Written, tmp_path: Path, old: str, new: str, said: str
) -> None:
    build = written(HORNS)
    assert build.mechanism
    guide = build.mechanism.guides[0]
    path = tmp_path / "made.yaml"
    path.write_text(MADE.replace(old, new), encoding="utf-8")
    with pytest.raises(FaultyError) as told:
        read_made(path, {guide.name: (guide, faces(guide, variants(build)))}, Unit.MM)
    assert said in str(told.value)


def test_what_the_log_hands_on(written: Written, tmp_path: Path) -> None:
    build = written(HORNS)
    assert build.mechanism
    guide = build.mechanism.guides[0]
    found = faces(guide, variants(build))
    path = tmp_path / "made.json"
    path.write_text(
        '{"box": {"1": {"slots/width front": 8.02, "slots/width back": 8.04, "bore/bore": 10.01}},'
        ' "horn": {"1": {"front rebate/width": 6.09}, "2": {"front rebate/width": 6.11}}}',
        encoding="utf-8",
    )
    blocks, places = read_made(path, {guide.name: (guide, found)}, Unit.MM)[guide.name]
    assert blocks == {"box 1": {"box/slots/width": pytest.approx(8.03)}}
    assert places == {
        "place 1": {"horn ahead/front rebate/width": 6.09, "horn behind/front rebate/width": 6.11}
    }
    assert made_set(guide, found, blocks, places).pairs[0].goes
