"""What the faces of a guide go by, where parts in it have pieces in common."""

from __future__ import annotations

import pytest

from barstock.mechanism.guides.guide_faces import faces
from barstock.mechanism.guides.guide_sizes import variants

from .conftest import Written

WHOLES = """
build: block between two soldered plates
parts:
  block: {material: brass, length: 40, width: 20, height: 16}
  slab: {copies: 2, material: brass, length: 90, width: 30, height: 10 ±0.1}
  foot: {material: brass, length: 90, width: 30, height: 5}
fabrications:
  low:
    length: 90
    width: 30
    height: 10
    pieces: {slab: {part: slab, at: {left: 0, width: centre, bottom: 0}}}
    joints: {}
  high:
    length: 90
    width: 30
    height: 15
    pieces:
      foot: {part: foot, at: {left: 0, width: centre, bottom: 0}}
      slab: {part: slab, at: {left: 0, width: centre}, against: {bottom: foot/top}}
    joints:
      seam: {between: [foot, slab], form: lap, filler: Ag 155, gap: 0.05 to 0.10}
mechanism:
  guides:
    block in plates:
      block: {part: block, up: right, ahead: front}
      fixed:
        before: {part: low, up: right, ahead: top, at: {bottom: 10.1}}
        behind: {part: high, up: right, ahead: top, at: {top: -10.1}}
"""


def test_what_two_wholes_have_in_common_moves_the_faces_of_each(written: Written) -> None:
    """A slab is the same piece of both, but lies 5 mm higher in one. There its upper face, which
    looks at the block, goes by its height, and its ends by its length."""
    build = written(WHOLES)
    assert build.mechanism is not None
    found = faces(build.mechanism.guides[0], variants(build))
    moves = {
        size.name: abs(rate).max()
        for size, rate in zip(found.sizes, found.fixed.rates, strict=True)
    }
    assert moves["before/slab/length"] == pytest.approx(1)
    assert moves["behind/slab/length"] == pytest.approx(1)
    assert moves["behind/slab/height"] == pytest.approx(1)
