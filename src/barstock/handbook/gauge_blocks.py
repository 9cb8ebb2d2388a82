"""Sets of gauge blocks as sold, by the number of pieces.

Source: the usual make-up of the sets, common practice (from memory); ISO 3650 and ASME B89.1.9 rule
the blocks' grades, not the sets.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from barstock.handbook.answer import Found
from barstock.handbook.unknown_word import UnknownError
from barstock.quantities import Unit

SOURCE = "common practice: the usual make-up of the sets"
MEMORY = True

Run = tuple[float, float, int]
"""First size, step, count."""

_LARGE: Run = (25.0, 25.0, 4)
_HUNDREDTHS: Run = (1.01, 0.01, 49)
_THOUSANDTHS: Run = (1.001, 0.001, 9)
_RUNS: dict[str, tuple[Run, ...]] = {
    "32 piece": ((1.005, 1, 1), (1.01, 0.01, 9), (1.1, 0.1, 9), (1, 1, 9), (10, 10, 3), (60, 1, 1)),
    "47 piece": ((1.005, 1, 1), (1.01, 0.01, 9), (1.1, 0.1, 9), (1, 1, 24), _LARGE),
    "87 piece": (_THOUSANDTHS, _HUNDREDTHS, (0.5, 0.5, 19), (10, 10, 10)),
    "103 piece": ((1.005, 1, 1), _HUNDREDTHS, (0.5, 0.5, 49), _LARGE),
    "112 piece": ((1.0005, 1, 1), _THOUSANDTHS, _HUNDREDTHS, (0.5, 0.5, 49), _LARGE),
    "36 piece inch": ((0.05, 1, 1), (0.1001, 0.0001, 9), (0.101, 0.001, 9), (0.11, 0.01, 9),
                      (0.1, 0.1, 5), (1, 1, 2), (4, 1, 1)),
    "81 piece inch": ((0.1001, 0.0001, 9), (0.101, 0.001, 49), (0.05, 0.05, 19), (1, 1, 4)),
}  # fmt: skip


class UnknownSetError(UnknownError):
    """Raised for a name of no gauge set."""


@dataclass(frozen=True)
class GaugeSet:
    """A set of gauge blocks. sizes: in the set's own unit, rising, each once."""

    name: str
    unit: Unit
    sizes: tuple[float, ...]
    runs: tuple[Run, ...]

    @property
    def mm(self) -> tuple[float, ...]:
        """The sizes of the set [mm]."""
        return tuple(round(size * self.unit.scale, 6) for size in self.sizes)


def _set(name: str, runs: tuple[Run, ...]) -> GaugeSet:
    sizes = sorted(round(first + i * step, 4) for first, step, n in runs for i in range(n))
    return GaugeSet(name, Unit.INCH if name.endswith("inch") else Unit.MM, tuple(sizes), runs)


GAUGE_SETS: dict[str, GaugeSet] = {name: _set(name, runs) for name, runs in _RUNS.items()}


def gauge_set(name: str) -> GaugeSet:
    """A set by its name or number of pieces: 112, 112 piece, 81 inch. Raises UnknownSetError.

    >>> len(gauge_set("112").sizes), gauge_set("81 inch").mm[0]
    (112, 1.27)
    """
    pieces = re.search(r"\d+", name)
    found = next(
        (s for s in GAUGE_SETS.values() if pieces and s.name.split()[0] == pieces[0]), None
    )
    if found is None:
        raise UnknownSetError(name, "gauge set", GAUGE_SETS, "known: " + ", ".join(GAUGE_SETS))
    return found


def find(word: str, _: Unit) -> Iterator[Found]:
    """What `look` shows of gauge sets: gauge 112, or all of them."""
    text = word.lower()
    if not re.search(r"gauge|gage|block|piece", text) or re.search(r"music|sheet|tube", text):
        return
    if re.search(r"\d", word):
        try:
            sets = [gauge_set(word)]
        except UnknownSetError:
            return
    else:
        sets = list(GAUGE_SETS.values())
    for each in sets:
        rows = tuple((f"{run[2]} of", _run(run)) for run in each.runs)
        yield Found(f"gauge blocks, {each.name} set [{each.unit.value}]", rows, SOURCE, MEMORY)


def _run(run: Run) -> str:
    first, step, count = run
    return f"{first:g}" + (f" to {first + (count - 1) * step:g} by {step:g}" if count > 1 else "")
