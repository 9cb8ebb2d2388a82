"""A guide that stands where nothing can meet is asked back about; one without room is told."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from barstock.drawing.build import Build
from barstock.mechanism.guides.guide_check import Judged, judge
from barstock.mechanism.guides.guide_sizes import variants
from barstock.mechanism.guides.guide_words import guide_lines

BETWEEN = """
build: block between two plates
parts:
  block: {material: brass, length: 40, width: 20, height: 16}
  plate: {copies: 2, material: brass, length: 90, width: 30, height: 10}
mechanism:
  guides:
    block in plates:
      block: {part: block, up: right, ahead: front}
      fixed:
        before: {part: plate, up: right, ahead: top, at: {bottom: BEFORE}}
        behind: {part: plate, up: right, ahead: top, at: {SIDE: BEHIND}}
      asked: {pitch: 0.2}
"""

Written = Callable[[str], Build]


def judged(written: Written, before: str, behind: str, side: str = "top") -> Judged:
    """The block, 20 from front to back, with plates so far ahead of its middle and behind it."""
    text = BETWEEN.replace("BEFORE", before).replace("SIDE", side).replace("BEHIND", behind)
    build = written(text)
    assert build.mechanism is not None
    told = list[tuple[str, float]]()
    found = judge(
        build.mechanism.guides[0],
        variants(build),
        samples=2000,
        tell=lambda words, share: told.append((words, share)),
    )
    assert [share for _, share in told] == sorted(share for _, share in told)
    assert all(words.startswith("block in plates: ") for words, _ in told)
    return found


@pytest.fixture
def right(written: Written) -> Judged:
    """Plates that look at the block from both sides, 0.1 mm off."""
    return judged(written, "10.1 ±0.02", "-10.1 ±0.02")


def test_a_guide_that_holds_its_block_is_not_doubted(right: Judged) -> None:
    assert right.goes
    assert not any("IS IT SO?" in line for line in guide_lines(right))


def test_a_place_given_to_the_wrong_side_is_asked_back(written: Written) -> None:
    """30 mm behind: no face of it comes near, and on that side nothing stops the block."""
    found = judged(written, "10.1 ±0.02", "-40 ±0.02")
    assert found.faces.unmet == ("behind",)
    assert not found.goes
    said = "\n".join(guide_lines(found))
    assert "IS IT SO? no face of the behind looks at the block within 12 mm" in said
    assert "nothing holds the block between two sides" in said


def test_a_block_that_no_limits_let_in_is_told_of_every_assembly(written: Written) -> None:
    """0.5 mm too little room at the front, and limits of 0.02: none of any number goes in."""
    found = judged(written, "9.75 ±0.02", "-9.75 ±0.02")
    assert not found.goes_in
    spread = found.freedoms["pitch"].spread
    assert spread is not None
    assert spread.tight == 1.0


def test_a_block_that_some_assemblies_let_in_is_counted(written: Written) -> None:
    """A room of 20 less 0.01, each end ±0.3 and the block ±0.2 (ISO 2768-m) at three standard
    deviations: room less block is -0.01 with a deviation of (0.1² + 0.1² + 0.067²)^½ = 0.156, so
    that 0.53 of all find none."""
    found = judged(written, "9.995 ±0.3", "-9.995 ±0.3")
    spread = found.freedoms["pitch"].spread
    assert spread is not None
    assert spread.tight == pytest.approx(0.526, abs=0.04)
