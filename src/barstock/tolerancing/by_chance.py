"""The statistical view: how a chain or a fit falls out over many parts, by throwing the dice.

Each link is thrown independently: "normal" with its limits at three standard deviations from
their middle (the usual reading of a capable process), "even" all over its limits alike (safer for
a few parts). Every throw is a vector of numpy, from a seed, so that the same call gives the same.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt
from typing import Any

from barstock.drawing.size_distribution import Law, fall
from barstock.tolerancing.chains import Chain, Link

SAMPLES = 1_000_000


@dataclass(frozen=True)
class Spread:
    """A distance over many parts [mm]. low, high: what 99.73 of 100 parts lie between; outside:
    share of parts beyond the limits asked, from 0 to 1.

    outside: share of parts beyond the limits asked, from 0 to 1.
    """

    mean: float
    deviation: float
    low: float
    high: float
    outside: float


def root_sum_square(found: Chain) -> float:
    """The statistical half width of a chain [mm]: the root of the sum of the links' squared halves.

    >>> k = [(Link(str(n), 1, -0.1, 0.1), 1) for n in range(10)]
    >>> round(root_sum_square(Chain(tuple(k))), 3)
    0.316
    """
    return sqrt(sum((times * link.width / 2) ** 2 for link, times in found.links))


def throw(
    found: Chain,
    limits: tuple[float, float],
    *,
    law: Law = Law.NORMAL,
    samples: int = SAMPLES,
    seed: int = 1,
) -> Spread:
    """The spread of a chain thrown many times, against the limits asked of it [mm].

    >>> c = Chain(((Link("one", 5, -0.03, 0.03), 1),))
    >>> s = throw(c, (4.99, 5.01), samples=100_000)
    >>> round(s.deviation, 3), round(s.outside, 2)  # limits at one deviation
    (0.01, 0.32)
    """
    import numpy as np

    rng = np.random.default_rng(seed)
    total = np.zeros(samples)
    for link, sign in found.links:
        total += sign * _thrown(rng, link, law, samples)
    return _spread(total, limits)


def _thrown(rng: Any, link: Link, law: Law, samples: int) -> Any:
    return fall(rng, law, link.nominal + link.minus, link.nominal + link.plus, samples)


def _spread(total: Any, limits: tuple[float, float]) -> Spread:
    import numpy as np

    edge = (1 - 0.9973) / 2
    low, high = np.quantile(total, [edge, 1 - edge])
    beyond = (total < limits[0] - 1e-12) | (total > limits[1] + 1e-12)
    figures = (total.mean(), total.std(), low, high, beyond.mean())
    return Spread(*(float(f) for f in figures))
