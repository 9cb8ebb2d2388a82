"""The order of work that costs least: exact search, bounds, and improvement for the big ones."""

from barstock.sequencing.price import price
from barstock.sequencing.problem import (
    Changeover,
    Choice,
    Chosen,
    Operation,
    Problem,
    SequencingError,
    Solution,
)
from barstock.sequencing.solve import solve

__all__ = [
    "Changeover",
    "Choice",
    "Chosen",
    "Operation",
    "Problem",
    "SequencingError",
    "Solution",
    "price",
    "solve",
]
