"""Corrected time figures are put into workshop.yaml, where they stand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from barstock.bench.learning import Lesson
from barstock.errors import WrongUseError
from barstock.reading.editing import put
from barstock.reading.spans import spans
from barstock.store.whole_files import write_whole

TIMES = "times"


def write_times(path: Path, lessons: Iterable[Lesson]) -> None:
    """Put the corrected figures into workshop.yaml; every other letter of it stays as it is.

    Raises OSError; WrongUseError where they cannot be written into it.
    """
    text = path.read_bytes().decode("utf-8")
    wanted = {name: after for one in lessons for name, (_, after) in one.figures.items()}
    try:
        new = with_times(text, wanted)
    except ValueError as wrong:
        raise WrongUseError(f"{path}: {wrong}; write the figures in by hand") from wrong
    write_whole(path, new.encode(), lasting=True)


def with_times(text: str, wanted: Mapping[str, float]) -> str:
    """The text of a workshop with these figures under its `times`, which may be missing.

    Raises ValueError where it cannot be written.

    >>> with_times("workshop: shed\\ntimes:\\n  load: 1 # slow\\n", {"load": 1.5, "tilt": 9})
    'workshop: shed\\ntimes:\\n  load: 1.5 # slow\\n  tilt: 9\\n'
    """
    if TIMES not in spans(text).inner:
        text = put(text, (TIMES,), "{}")
    for name, value in wanted.items():
        text = put(text, (TIMES, name), f"{value:g}")
    return text
