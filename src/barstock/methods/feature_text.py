"""Features as a person would write them in build.yaml, for parts that the program itself draws."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

Written = str | float | Mapping[str, "Written"] | Sequence["Written"]
"""What may stand after a field's name."""


def as_written(kind: str, **fields: Written) -> str:
    """A feature written on one line. kind: its name; an underscore in a field's stands for a space.

    >>> as_written("hole", at={"left": 2, "front": 1.5}, drill_depth=9.0)
    '{kind: hole, at: {left: 2, front: 1.5}, drill depth: 9}'
    """
    return _value({"kind": kind} | {k.replace("_", " "): v for k, v in fields.items()})


def _value(value: Written) -> str:
    if isinstance(value, str):
        return value
    if isinstance(value, Mapping):
        return f"{{{', '.join(f'{name}: {_value(each)}' for name, each in value.items())}}}"
    if isinstance(value, Sequence):
        return f"[{', '.join(map(_value, value))}]"
    return f"{value:g}"
