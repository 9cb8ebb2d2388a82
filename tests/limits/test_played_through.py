"""Copies played through their setups by the printed moves, every error at an end of its range.

A road of its own: the table's positions of edges, cutters and drills, where the chains go from face
to face. What comes out must reach the chains' worst case, and never pass it.
"""

from __future__ import annotations

import re
from typing import Any

import numpy as np
import pytest

from barstock.drawing.build import AXES, Face
from barstock.route import Plunge, Setup, Traverse
from barstock.tolerancing.shop_errors import CUTTER, FINDER, SAWN, TOUCH
from barstock.workshop.shop import MachineKind

from .conftest import Planned, Shop

TRIALS = 6000
STEP = 0.005
"""The wagon's readout [mm]; its figures are whole steps."""


class Played:
    """One part's copies, a trial each: where its faces and holes come to lie [mm]."""

    def __init__(self, shop: Shop, part: str) -> None:
        self.shop, self.part = shop, shop.build.part(part)
        self.random = np.random.default_rng(5)
        bar = next(b for b in shop.workshop.rack if b.material == self.part.material)
        under = [bar.tolerance[0] * self.random.integers(0, 2, TRIALS) for _ in range(2)]
        length, width, height = self.part.size
        self.faces: dict[Face, Any] = {
            Face.LEFT: -0.75 + self.end(SAWN), Face.RIGHT: length + 0.75 + self.end(SAWN),
            Face.FRONT: np.zeros(TRIALS), Face.BACK: width + under[0],
            Face.BOTTOM: np.zeros(TRIALS), Face.TOP: height + under[1],
        }  # fmt: skip
        self.holes: dict[str, list[tuple[dict[int, Any], dict[int, float]]]] = {}

    def end(self, error: float) -> Any:
        """Plus or minus an error, by chance."""
        return error * self.random.choice([-1.0, 1.0], TRIALS)

    def play(self) -> Played:
        for setup in self.shop.route.setups:
            if setup.work == self.part.name and setup.machine_kind is MachineKind.MILL:
                self.setup(setup)
        return self

    def setup(self, setup: Setup) -> None:
        up, jaw = setup.holding.up, setup.holding.fixed_jaw
        across = np.cross(jaw.normal, up.normal)
        axis = int(np.argmax(np.abs(across)))
        right = Face.of(axis, int(across[axis]))
        shop = self.shop.workshop
        stop, seat = self.end(shop.stop_repeat), self.end(shop.vise_repeat)
        edge_x, edge_y = self.end(FINDER), self.end(FINDER)
        cutters: dict[str, Any] = {}
        left_at, jaw_at = self.faces[right.opposite], self.faces[jaw]

        def on_part(x: Any, y: Any) -> dict[int, Any]:
            """A place on the table, the copy lying against stop and jaw, on the part."""
            return {
                right.axis: left_at + right.sign * (x + edge_x - stop),
                jaw.axis: jaw_at + jaw.sign * (y + edge_y - seat),
            }

        for operation in setup.operations:
            size = cutters.setdefault(operation.cutter.name, self.end(CUTTER))
            size = operation.cutter.diameter + size
            _, feature, step = operation.id.split("/")
            last = operation.moves[-1]
            if feature == f"{right} end" and isinstance(last, Traverse):
                x = last.points[0][0] + self.end(STEP) - size / 2
                self.faces[right] = on_part(x, 0.0)[right.axis]
            elif step == "spot":
                readings: dict[tuple[str, float], Any] = {}
                for move in operation.moves:
                    assert isinstance(move, Plunge)
                    error_x = readings.setdefault(("x", move.x), self.end(STEP))
                    error_y = readings.setdefault(("y", move.y), self.end(STEP))
                    place = on_part(move.x + error_x, move.y + error_y)
                    drawn = {a: float(np.median(v)) for a, v in place.items()}
                    self.holes.setdefault(feature, []).append((place, drawn))

    def dimension(self, name: str, nominal: float) -> list[Any]:
        """A dimension of every hole that has it, or of the ends."""
        feature, _, word = name.partition("/")
        if word in AXES:
            axis = AXES.index(word)
            return [self.faces[Face.of(axis, 1)] - self.faces[Face.of(axis, -1)]]
        centre = re.match(r"from centre of (\w+)", word)
        side = re.match(r"from (\w+)", word)
        assert centre or side
        if centre:
            axis = AXES.index(centre[1])
            origin = (self.faces[Face.of(axis, 1)] + self.faces[Face.of(axis, -1)]) / 2
        else:
            assert side
            axis = Face(side[1]).axis
            origin = self.faces[Face(side[1])]
        sized = [np.abs(place[axis] - origin) for place, _ in self.holes[feature]]
        return [s for s in sized if abs(float(np.median(s)) - nominal) < 0.5]


@pytest.fixture(scope="module")
def wagon(planned: Planned) -> Shop:
    return planned("wagon", parts=("axlebox", "horn guide", "spring seat"))


@pytest.mark.parametrize("part", ["axlebox", "horn guide"])
def test_copies_reach_the_worst_case_and_never_pass_it(wagon: Shop, part: str) -> None:
    played = Played(wagon, part).play()
    checked = 0
    for name, g in wagon.judged().items():
        owner, _, dimension = name.partition("/")
        word = dimension.partition("/")[2]
        overall = dimension.startswith("right end/")
        if owner != part or not (word.startswith("from ") or overall):
            continue
        if dimension.partition("/")[0] not in played.holes and not overall:
            continue
        found = played.dimension(dimension, g.asked.dimension.nominal)
        assert found, name
        # of holes alike on both sides of a centre line the chain is that of the worse one
        beyond = max(max(g.asked.dimension.low - s.min(), s.max() - g.asked.dimension.high)
                     for s in found)  # fmt: skip
        assert beyond == pytest.approx(
            max(g.asked.dimension.low - g.low, g.high - g.asked.dimension.high), abs=1e-6
        )
        assert any(
            s.min() == pytest.approx(g.low, abs=1e-6) and s.max() == pytest.approx(g.high, abs=1e-6)
            for s in found
        ), (name, [(s.min(), s.max()) for s in found], (g.low, g.high))
        checked += 1
    assert checked >= 4


def test_two_leaning_floors_come_out_as_far_apart_as_the_chain_says(wagon: Shop) -> None:
    # Tilted by t, the copy's low left corner on the parallels: a point x from the left end and h
    # above the face below stands x sin t + h cos t high. The top of the first copy is touched, and
    # every copy is cut at that height less the reading; across = h + h' - width at the left end.
    random = np.random.default_rng(3)

    def either(error: float, count: int = 20_000) -> Any:
        return error * random.choice([-1.0, 1.0], count)

    tilt = np.radians(1.5)
    shop = wagon.workshop
    width = 28 - 0.1 * random.integers(0, 2, 20_000)
    first = 32 + either(shop.stop_repeat) + either(FINDER) + either(STEP) - either(CUTTER / 2)
    heights = []
    for _ in range(2):
        touched = first * np.sin(tilt) + width * np.cos(tilt) + either(TOUCH)
        drawn = 25.5 * np.cos(tilt) - (32 * np.sin(tilt) + 28 * np.cos(tilt))
        floor = touched + drawn + either(STEP)
        seat, lies = either(shop.vise_repeat), either(shop.vise_repeat)
        heights.append(floor / np.cos(tilt) - seat - lies)
    across = heights[0] + heights[1] - width
    g = wagon.judged()["axlebox/guide slots/across wide end"]
    assert across.min() == pytest.approx(g.low, abs=2e-4)
    assert across.max() == pytest.approx(g.high, abs=2e-4)
