"""The furthest between straight limits against a solver of linear programmes, ties and all."""

from __future__ import annotations

import numpy as np
from scipy.optimize import linprog

from barstock.mechanism.guides.linear_programmes import furthest


def test_limits_that_tie_give_what_a_solver_of_another_kind_gives() -> None:
    rng = np.random.default_rng(5)
    for _ in range(60):
        many, more = int(rng.integers(2, 6)), int(rng.integers(1, 10))
        own = np.concatenate([np.eye(many), -np.eye(many)[1:]])
        slopes = np.concatenate([own, rng.integers(-1, 2, size=(more, many))]).astype(float)
        limits = np.append(np.ones(2 * many - 1), rng.integers(-1, 2, size=more))
        ours = furthest(slopes[None], limits[None])
        aim = -np.eye(many)[0]
        theirs = linprog(aim, slopes, limits, bounds=(None, None))
        assert np.isnan(ours.at[0, 0]) == (theirs.status == 2)
        if theirs.status == 0:
            assert abs(ours.at[0, 0] + theirs.fun) < 1e-9
            assert (slopes @ ours.at[0] <= limits + 1e-9).all()
