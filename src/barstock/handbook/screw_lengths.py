"""Lengths that screws are sold in, and how wide their heads are.

Metric: the nominal lengths of ISO 888, in the range that ISO 4762 (socket heads) offers each
thread, about 1.5 to 10 diameters. Inch and BA: the usual fractions, common practice. Typed from
memory.
"""

from __future__ import annotations

from barstock.handbook.thread_form import Thread
from barstock.quantities import INCH

SOURCE = "ISO 888, ISO 4762; inch and BA lengths common practice"

METRIC = (2, 2.5, 3, 4, 5, 6, 8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90,
          100)  # fmt: skip
"""Nominal lengths [mm]. ISO 888, without those in brackets."""

INCHES = tuple(n / 16 for n in (2, 3, 4, 5, 6, 7, 8, 10, 12, 14, 16, 20, 24, 28, 32, 40, 48))
"""Usual lengths [inch]."""

WIDEST_HEAD = 1.9
"""Times its thread, no cap screw's head is wider. ISO 4762, from memory."""


def sold_lengths(form: Thread) -> tuple[float, ...]:
    """Lengths a screw of that thread is commonly sold in [mm], the shortest first.

    >>> from barstock.handbook.threads import thread
    >>> sold_lengths(thread("M3"))
    (5, 6, 8, 10, 12, 16, 20, 25, 30)
    """
    lengths = METRIC if form.series.startswith("metric") else tuple(n * INCH for n in INCHES)
    return tuple(each for each in lengths if 1.5 * form.major <= each <= 10 * form.major)
