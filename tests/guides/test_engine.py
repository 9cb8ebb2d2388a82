"""Where a block touches its guide, against MuJoCo: boxes, its own contacts, a slow push.

The engine is given the drawing's own figures, not the solids: the block as two leaning
floors and two cheeks, the horns as tongues.
"""

from __future__ import annotations

from math import cos, degrees, radians, sin, tan
from typing import Any

import mujoco
import pytest

from barstock.mechanism.guides.guide_faces import faces
from barstock.mechanism.guides.guide_play import MOTIONS, reach
from barstock.mechanism.guides.guide_sizes import variants

from .conftest import HORNS, Written

AXES = {"tilt": "1 0 0", "pitch": "0 1 0", "twist": "0 0 1"}
PUSH = 0.02
"""So weak that what pushes in is less than a thousandth of the play [N mm]."""


def scene(axis: str) -> Any:
    """All in the middle of its limits: a block 32 x 28 x 22 on end, slots 8.025 wide, 23 across at
    its foot, leaning 1.5 degrees; tongues 7.775 wide, 23.35 apart. Lengths in mm."""
    lean = radians(1.5)
    floor, thick = 11.5 - 16 * tan(lean), 4.0  # half across the floors, midway up
    core = "".join(
        f'<geom type="box" size="{thick} 4.0125 {16 / cos(lean)}" euler="0 {-side * 1.5} 0" '
        f'pos="{side * (floor - thick * cos(lean))} 0 {-thick * sin(lean)}" mass="0.5"/>'
        for side in (1, -1)
    )
    cheeks = "".join(
        f'<geom type="box" size="14 3.5 16" pos="0 {side * 7.5125} 0" mass="0.5"/>'
        for side in (1, -1)
    )
    tongues = "".join(
        f'<geom type="box" size="3.5 3.8875 21" pos="{side * (23.35 / 2 + 3.5)} 0 0"/>'
        for side in (1, -1)
    )
    return mujoco.MjModel.from_xml_string(
        '<mujoco><option timestep="0.001" gravity="0 0 0"/>'
        '<default><geom condim="1" solref="0.004 1" solimp="0.99 0.999 0.0001"/></default>'
        f"<worldbody>{tongues}<body>"
        '<joint type="slide" axis="1 0 0" damping="0.05"/>'
        '<joint type="slide" axis="0 1 0" damping="0.05"/>'
        f'<joint type="hinge" axis="{axis}" damping="2"/>'
        f"{core}{cheeks}</body></worldbody></mujoco>"
    )


@pytest.mark.parametrize("name", AXES)
def test_it_turns_as_far_as_an_engine_lets_it(name: str, written: Written) -> None:
    build = written(HORNS.replace(", coat: 0.02 ±0.01", ""))
    assert build.mechanism
    ours = reach(faces(build.mechanism.guides[0], variants(build)), MOTIONS[name]).amount[0]
    engine = scene(AXES[name])
    data = mujoco.MjData(engine)
    data.qfrc_applied[2] = PUSH * 10
    for _ in range(30000):
        mujoco.mj_step(engine, data)
    assert degrees(data.qpos[2]) == pytest.approx(degrees(ours), rel=0.01)
