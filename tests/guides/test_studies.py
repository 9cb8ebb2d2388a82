"""Studies: the same by cores and by a real scheduler, and as the formula has it."""

from __future__ import annotations

from math import asin, atan2, degrees, hypot

import pytest

from barstock.errors import WrongUseError
from barstock.mechanism.guides.guide_sizes import variants
from barstock.mechanism.guides.size_studies import Sweep, study

from .conftest import HORNS, PLAIN, Written


def test_a_sweep_of_the_gap_follows_the_formula(written: Written) -> None:
    build = written(
        PLAIN.replace("apart: 20.4 +0.1/0}", "apart: 20.4 +0.1/0}\n      asked: {pitch: 1}")
    )
    assert build.mechanism
    told: list[float] = []
    gaps = (20.2, 20.6, 21.0)
    found = study(
        variants(build),
        build.mechanism.guides[0],
        [Sweep("guide/apart", gaps)],
        samples=300,
        tell=lambda _, share: told.append(share),
    )
    for gap, point in zip(gaps, found.points, strict=True):
        middle = gap + 0.05  # its limits stay +0.1/0
        turn = degrees(asin(middle / hypot(40, 20)) - atan2(20, 40))
        assert point.motions["pitch"].nominal == pytest.approx(turn, abs=1e-6)
        assert point.fails == (0.0 if turn > 1.05 else 1.0 if turn < 0.8 else point.fails)
    assert found.best.sizes == (("guide/apart", 21.0),)
    assert told[0] == 0.0
    assert told[-1] == 1.0


def test_lean_and_width_by_cores_and_by_a_scheduler(written: Written) -> None:
    from distributed import LocalCluster

    build = written(HORNS)
    assert build.mechanism
    of, guide = variants(build), build.mechanism.guides[0]
    sweeps = [Sweep("box/slots/lean", (1.0, 2.0)), Sweep("box/slots/width", (7.5, 8.1))]
    here = study(of, guide, sweeps, samples=50, seed=5)
    with LocalCluster(n_workers=1, threads_per_worker=1, dashboard_address=None) as cluster:
        there = study(of, guide, sweeps, samples=50, seed=5, scheduler=cluster.scheduler_address)
    assert repr(here) == repr(there)
    # 7.5 is narrower than the stem: such boxes do not go in, and every assembly falls short
    narrow = [p for p in here.points if dict(p.sizes)["box/slots/width"] == 7.5]
    assert [p.fails for p in narrow] == [1.0, 1.0]
    wide = [p for p in here.points if dict(p.sizes)["box/slots/width"] == 8.1]
    assert wide[1].motions["pitch"].nominal > wide[0].motions["pitch"].nominal + 0.5


def test_a_point_that_cannot_be_drawn_says_why(written: Written) -> None:
    build = written(HORNS)
    assert build.mechanism
    guide = build.mechanism.guides[0]
    found = study(variants(build), guide, [Sweep("box/slots/width", (23.0,))], samples=10)
    assert "out of the part's height" in found.points[0].fault
    assert found.points[0].fails == 1.0


def test_a_size_that_is_not_there_and_a_scheduler_that_does_not_answer(written: Written) -> None:
    build = written(HORNS)
    assert build.mechanism
    of, guide = variants(build), build.mechanism.guides[0]
    with pytest.raises(WrongUseError, match=r"goes by 'box/slots/leen'; did you mean"):
        study(of, guide, [Sweep("box/slots/leen", (1.0,))])
    with pytest.raises(WrongUseError, match=r"no scheduler answers at tcp://127\.0\.0\.1:9"):
        study(of, guide, [Sweep("box/slots/lean", (1.0,))], scheduler="tcp://127.0.0.1:9")
