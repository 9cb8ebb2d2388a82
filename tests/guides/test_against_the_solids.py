"""What the envelope says, asked of the solids themselves, by the kernel's distance and overlap."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from barstock.drawing.build import Build
from barstock.mechanism.guides.guide_assembly import Stood, stood
from barstock.mechanism.guides.guide_check import touches
from barstock.mechanism.guides.guide_faces import Faces, faces
from barstock.mechanism.guides.guide_play import MOTIONS, Motion, reach
from barstock.mechanism.guides.guide_sizes import variants
from barstock.solids.shapes import Placement, Solid, box, together

from .conftest import HORNS, Written

UNPAINTED = HORNS.replace(", coat: 0.02 ±0.01", "")

Array = NDArray[np.float64]


@pytest.fixture
def build(written: Written) -> Build:
    return written(UNPAINTED)


@pytest.fixture
def horns(build: Build) -> Faces:
    assert build.mechanism
    return faces(build.mechanism.guides[0], variants(build))


@pytest.fixture
def standing(build: Build) -> tuple[Stood, ...]:
    assert build.mechanism
    return stood(build.mechanism.guides[0], build)


def posed(solid: Solid, rotation: Array, shift: Array) -> Solid:
    rows = tuple(tuple(float(v) for v in row) for row in rotation)
    return solid.moved(Placement(rows, tuple(float(v) for v in shift)))  # type: ignore[arg-type]


def turned(along: Array, angle: float) -> Array:
    """A rotation about a unit vector, by the exponential of its cross product matrix."""
    from scipy.linalg import expm

    x, y, z = along * angle
    return np.asarray(expm(np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])))


DIRECTIONS = {
    "tilt": (1.0, 0.0, 0.0),
    "pitch": (0.0, 1.0, 0.0),
    "twist": (0.0, 0.0, 1.0),
    "tilt and twist": (0.8, 0.0, 0.6),
    "pitch and twist": (0.0, 0.96, -0.28),
    "all three": (0.36, -0.9, 0.2459),
}


@pytest.mark.parametrize("name", DIRECTIONS)
def test_it_touches_where_the_envelope_ends(
    name: str, horns: Faces, standing: tuple[Stood, ...]
) -> None:
    along = np.array(DIRECTIONS[name])
    along /= np.linalg.norm(along)
    found = reach(horns, Motion("turn", (0, 0, 0, *along.tolist())))
    angle, shift = float(found.amount[0]), found.shift[0]
    block, fixed = standing[0].solid, together([one.solid for one in standing[1:]])
    assert posed(block, turned(along, angle), shift).distance(fixed) < 2e-5
    # a little less and there is room all round; a little more and metal is in metal
    inner = reach(horns, Motion("turn", (0, 0, 0, *along.tolist()))).shift[0] * 0.98
    assert posed(block, turned(along, 0.98 * angle), inner).distance(fixed) > 1e-4
    assert posed(block, turned(along, 1.03 * angle), shift).common(fixed).volume > 1e-4


@pytest.mark.parametrize("name", ["tilt", "pitch", "twist"])
def test_no_shift_lets_it_turn_further(
    name: str, horns: Faces, standing: tuple[Stood, ...]
) -> None:
    along = np.array(DIRECTIONS[name])
    found = reach(horns, MOTIONS[name])
    block, fixed = standing[0].solid, together([one.solid for one in standing[1:]])
    rotation = turned(along, 1.03 * float(found.amount[0]))
    for ahead in np.linspace(-0.5, 0.5, 5):
        for left in np.linspace(-0.2, 0.2, 3):
            there = posed(block, rotation, np.array([ahead, left, 0.0]))
            assert there.common(fixed).volume > 1e-6


def test_a_grid_of_poses_is_free_or_not_as_the_envelope_says(
    horns: Faces, standing: tuple[Stood, ...]
) -> None:
    """Pitch and shift ahead together: the shifts that the envelope leaves at each pitch."""
    block, fixed = standing[0].solid, together([one.solid for one in standing[1:]])
    ahead = Motion("ahead", (1, 0, 0, 0, 0, 0), ())
    checked = 0
    for pitch in np.radians([-1.2, -0.4, 0.3, 0.9, 1.5]):
        rotation = turned(np.array([0.0, 1.0, 0.0]), float(pitch))
        tilted = replace(
            horns, block=replace(horns.block, corners=horns.block.corners @ rotation.T)
        )
        most = float(reach(tilted, ahead).amount[0])
        least = -float(reach(tilted, ahead.back()).amount[0])
        for shift in np.linspace(-0.8, 0.8, 9):
            if min(abs(shift - most), abs(shift - least)) < 1e-3:
                continue
            there = posed(block, rotation, np.array([shift, 0.0, 0.0]))
            free = there.common(fixed).volume < 1e-9
            assert free == (least < shift < most), (pitch, shift, least, most)
            checked += 1
    assert checked > 35


def test_the_points_where_it_touches_lie_on_both(horns: Faces, standing: tuple[Stood, ...]) -> None:
    found = reach(horns, MOTIONS["pitch"])
    block, fixed = standing[0].solid, together([one.solid for one in standing[1:]])
    there = posed(block, found.rotation[0], found.shift[0])
    touching = list(touches(horns, found))
    assert len(touching) == 2
    for touch in touching:
        x, y, z = touch.at
        speck = box((x - 1e-3, y - 1e-3, z - 1e-3), (x + 1e-3, y + 1e-3, z + 1e-3))
        assert speck.distance(there) < 1e-6
        assert speck.distance(fixed) < 1e-6
