"""Sets of gauge blocks as sold, by the number of pieces. Metric pieces in mm, inch ones converted.

Source: the sets' usual make-up, common practice (from memory; ISO 3650 gives the blocks' grades,
not the sets).
"""

from __future__ import annotations

from barstock.quantities import INCH

LARGE = (25.0, 25.0, 4)


def _runs(*runs: tuple[float, float, int]) -> set[float]:
    """Every size of runs given by their first size, step and count."""
    return {round(first + i * step, 4) for first, step, count in runs for i in range(count)}


_METRIC = {
    "112 piece": _runs((1.0005, 1, 1), (1.001, 0.001, 9), (1.01, 0.01, 49), (0.5, 0.5, 49), LARGE),
    "87 piece": _runs((1.001, 0.001, 9), (1.01, 0.01, 49), (0.5, 0.5, 19), (10, 10, 10)),
    "47 piece": _runs((1.005, 1, 1), (1.01, 0.01, 9), (1.1, 0.1, 9), (1, 1, 24), LARGE),
}
_INCH = {
    "81 piece inch": _runs((0.1001, 0.0001, 9), (0.101, 0.001, 49), (0.05, 0.05, 19), (1, 1, 4)),
    "36 piece inch": _runs(
        (0.1001, 0.0001, 9), (0.101, 0.001, 9), (0.11, 0.01, 9), (0.1, 0.1, 5), (0.05, 1, 1)
    )
    | {1.0, 2.0, 4.0},
}

GAUGE_SETS: dict[str, tuple[float, ...]] = {
    **{name: tuple(sorted(sizes)) for name, sizes in _METRIC.items()},
    **{
        name: tuple(round(size * INCH, 6) for size in sorted(sizes))
        for name, sizes in _INCH.items()
    },
}
