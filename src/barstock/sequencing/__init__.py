"""The order that costs least: exact search, bounds, improvement for the big problems."""

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
