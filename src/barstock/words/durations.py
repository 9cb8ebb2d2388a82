"""Times as a person says them."""

from __future__ import annotations


def hours(minutes: float) -> str:
    """A time as a person says it.

    >>> hours(135), hours(40)
    ('2 h 15 min', '40 min')
    """
    whole, rest = divmod(round(minutes), 60)
    return f"{whole} h {rest:02d} min" if whole else f"{rest} min"
