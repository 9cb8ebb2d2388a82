"""What is done between two heats: cooled, undone, cleaned without iron in the acid, fluxed anew."""

from __future__ import annotations

from pathlib import Path

from barstock import api
from barstock.fabricating.joining_plan import joining_plan
from barstock.planning.plan import plan_build
from barstock.quantities import Unit
from barstock.route import Fabrication, HearthStepKind
from barstock.words.hearth_steps import hearth_step
from barstock.words.reader import Reader

from .test_block_between import ARCH, written

CAREFUL = ARCH.replace("BLOCK\n", "").replace(
    "    fixture:", "    one joint a heat: true\n    fixture:"
)


def careful(folder: Path, text: str = CAREFUL) -> Fabrication:
    """The arch of three bits as the route joins it, a joint a heat."""
    build, workshop = api.read(written(folder, text))
    return plan_build(build, workshop).fabrications[0]


def test_between_two_heats_the_work_is_cleaned_and_set_up_anew(tmp_path: Path) -> None:
    one = careful(tmp_path)
    kinds = [step.kind for step in one.order]
    first, second = (n for n, kind in enumerate(kinds) if kind is HearthStepKind.HEAT)
    assert kinds[first + 1 : second] == [
        HearthStepKind.COOL,
        HearthStepKind.BLOCK_FROM_ACID,
        HearthStepKind.PICKLE_AGAIN,
        HearthStepKind.FLUX_AGAIN,
        HearthStepKind.SCREW_BETWEEN,
        HearthStepKind.CHECK,
    ]
    pickled = next(step for step in one.order if step.kind is HearthStepKind.PICKLE_AGAIN)
    assert set(pickled.of) == {"left leg", "right leg", "bridge"}
    fluxed = next(step for step in one.order if step.kind is HearthStepKind.FLUX_AGAIN)
    assert fluxed.of == one.heats[1].joints


def test_what_is_soldered_to_steel_stays_out_of_the_acid(tmp_path: Path) -> None:
    """The bridge of steel: with the leg soldered to it by then it is soaked, the other is not."""
    text = CAREFUL.replace("bridge: {material: brass", "bridge: {material: mild steel")
    folder = written(tmp_path, text)
    build, _ = api.read(folder)
    one = careful(tmp_path, text)
    made = next(j for j in build.part("arch").joined.joints if j.name in one.heats[0].joints)  # type: ignore[union-attr]
    water = next(step for step in one.order if step.kind is HearthStepKind.SOAK_AGAIN)
    acid = next(step for step in one.order if step.kind is HearthStepKind.PICKLE_AGAIN)
    assert set(water.of) == set(made.pieces)
    assert len(acid.of) == 1
    assert "leg" in acid.of[0]


def test_the_careful_order_counts_the_time_between_its_heats(tmp_path: Path) -> None:
    """Two heats, one strip-down, the cleaning between them and that at the end."""
    build, workshop = api.read(written(tmp_path, CAREFUL))
    times, plan = workshop.times, joining_plan(build.part("arch"), workshop).heats
    assert len(plan.heats) == 2
    assert plan.minutes == 2 * times.heat + times.strip_down + 2 * times.clean


def test_ones_own_order_counts_that_time_too(tmp_path: Path) -> None:
    text = CAREFUL.replace(
        "    one joint a heat: true\n", "    one joint a heat: true\n    heats: [[right], [left]]\n"
    )
    build, workshop = api.read(written(tmp_path, text))
    times, plan = workshop.times, joining_plan(build.part("arch"), workshop).heats
    assert [tuple(heat.alloys) for heat in plan.heats] == [("right",), ("left",)]
    assert [heat.strip_before for heat in plan.heats] == [False, True]
    assert plan.minutes == 2 * times.heat + times.strip_down + 2 * times.clean


def test_it_says_so_in_words(tmp_path: Path) -> None:
    one = careful(tmp_path)
    said = " ".join(hearth_step(step, one, Reader(Unit.MM)) for step in one.order)
    for words in ("out of the acid", "no iron in the bath", "flux anew", "Let it cool by itself"):
        assert words in said
