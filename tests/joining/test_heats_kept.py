"""Planning on from joining that is begun: what is made at the hearth stays as it was made."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from barstock import api
from barstock.bench.entry import Entry, Kind
from barstock.bench.handing_on import standing, standing_text
from barstock.bench.heats_ticked import hearth
from barstock.bench.work import Work, work_of
from barstock.drawing.build import Build
from barstock.errors import UnplannableError
from barstock.planning.plan import plan_build
from barstock.route import Route
from barstock.route.work_done import read_standing
from barstock.workshop.shop import Workshop

SMALL = Path(__file__).parent / "small"


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> tuple[Build, Workshop, Route]:
    """The stand planned one joint a heat, the right one first; then written without that order."""
    folder = tmp_path_factory.mktemp("stand")
    text = (SMALL / "build.yaml").read_text(encoding="utf-8")
    (folder / "workshop.yaml").write_bytes((SMALL / "workshop.yaml").read_bytes())
    own = text.replace("    fixture: {under: bottom}\n",
                       "    fixture: {under: bottom}\n    heats: [[right], [left]]\n")  # fmt: skip
    (folder / "build.yaml").write_text(own, encoding="utf-8")
    route = plan_build(*api.read(folder))
    (folder / "build.yaml").write_text(
        text.replace("filler: Ag 155", "filler: [Ag 145, Ag 155]"), encoding="utf-8"
    )
    return (*api.read(folder), route)


def ticked(*steps: str) -> Work:
    """The log of a bench where these were ticked on the only copy."""
    return work_of([Entry(kind=Kind.HEAT, operation=step, nth=1) for step in steps])


def test_a_made_heat_stays_and_the_rest_follows(begun: tuple[Build, Workshop, Route]) -> None:
    build, workshop, route = begun
    free = plan_build(build, workshop)
    assert [heat.joints for heat in free.fabrications[0].heats] == [("left", "right")]
    done = standing(ticked("stand/heat 1"), route)
    assert done.done["stand/heat 1"] == 1
    joined = plan_build(build, workshop, resumed=(route, done)).fabrications[0]
    assert [heat.joints for heat in joined.heats] == [("right",), ("left",)]
    assert [heat.done for heat in joined.heats] == [1, 0]
    used = {joint.name: joint.alloy for joint in joined.joints}
    assert used == {"right": "Ag 155", "left": "Ag 145"}
    assert joined.left == pytest.approx(joined.minutes / 2)


def test_the_hours_count_what_is_left(begun: tuple[Build, Workshop, Route]) -> None:
    build, workshop, route = begun
    done = standing(ticked("stand/heat 1"), route)
    anew = plan_build(build, workshop, resumed=(route, done))
    assert anew.summary.hearth_hours == pytest.approx(anew.fabrications[0].minutes / 2 / 60, 0.01)
    # planned from a file and not by this log, the bench counts it as made all the same
    (left,) = hearth(anew, work_of([]))
    assert left.minutes == pytest.approx(left.fabrication.minutes * 2 / 3)  # heat and cleaning


def test_what_the_log_hands_on_is_read_again(
    begun: tuple[Build, Workshop, Route], tmp_path: Path
) -> None:
    _, _, route = begun
    (tmp_path / "done.json").write_text(
        standing_text(standing(ticked("stand/heat 1", "stand/heat 2"), route)), encoding="utf-8"
    )
    found, faults = read_standing(tmp_path / "done.json", route)
    assert not faults
    assert (found.done["stand/heat 1"], found.done["stand/heat 2"]) == (1, 1)


def test_a_joint_that_was_made_cannot_be_drawn_away(begun: tuple[Build, Workshop, Route]) -> None:
    build, workshop, route = begun
    part = build.part("stand")
    assert part.joined is not None
    other = tuple(replace(j, name="new") if j.name == "right" else j for j in part.joined.joints)
    drawn = replace(part, joined=replace(part.joined, joints=other))
    changed = replace(build, parts=tuple(drawn if p is part else p for p in build.parts))
    done = standing(ticked("stand/heat 1"), route)
    with pytest.raises(UnplannableError, match="heat 1 is made, but the drawing"):
        plan_build(changed, workshop, resumed=(route, done))
