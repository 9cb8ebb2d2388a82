"""Puts corrected time figures into workshop.yaml, letter by letter where they stand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from barstock.bench.learning import Lesson
from barstock.sheets.writing import write_whole


def write_times(path: Path, lessons: Iterable[Lesson]) -> None:
    """Put the corrected figures into workshop.yaml; every other letter of it stays as it is.

    Raises OSError.
    """
    text = path.read_text(encoding="utf-8")
    wanted = {name: after for one in lessons for name, (_, after) in one.figures.items()}
    write_whole(path, with_times(text, wanted).encode())


def with_times(text: str, wanted: Mapping[str, float]) -> str:
    """The text of a workshop with these figures under its `times`, which may be missing.

    >>> with_times("workshop: shed\\ntimes:\\n  load: 1 # slow\\n", {"load": 1.5, "tilt": 9})
    'workshop: shed\\ntimes:\\n  load: 1.5 # slow\\n  tilt: 9\\n'
    """
    from ruamel.yaml import YAML
    from ruamel.yaml.nodes import MappingNode

    top = YAML(typ="rt").compose(text)
    times = next((value for key, value in top.value if key.value == "times"), None)
    if not isinstance(times, MappingNode) or not times.value:
        lines = "".join(f"\n  {name}: {value:g}" for name, value in wanted.items())
        if times is None:
            return f"{text.rstrip()}\n\ntimes:{lines}\n"
        start, stop = times.start_mark.index, times.end_mark.index
        return text[:start].rstrip() + lines + (text[stop:] or "\n")
    written = {key.value: value for key, value in times.value}
    splices = [
        (written[name].start_mark.index, written[name].end_mark.index, f"{value:g}")
        for name, value in wanted.items()
        if name in written
    ]
    more = {name: value for name, value in wanted.items() if name not in written}
    key, last = times.value[-1]
    if times.flow_style:
        end, lines = last.end_mark.index, "".join(f", {n}: {v:g}" for n, v in more.items())
    else:
        end = text.find("\n", last.end_mark.index)
        end = len(text) if end < 0 else end
        indent = "\n" + " " * key.start_mark.column
        lines = "".join(f"{indent}{n}: {v:g}" for n, v in more.items())
    splices.append((end, end, lines))
    for start, stop, new in sorted(splices, reverse=True):
        text = text[:start] + new + text[stop:]
    return text
