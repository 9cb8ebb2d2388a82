"""The samples with one number changed: each is planned and proven, and none may fail.

    python benchmarks/nudged_samples.py [--every N] [--first N] [--only WORDS] [--seconds N]

Every number of the samples' parts (sizes, places, depths, angles, counts, copies; not tolerances,
threads or bars) is changed alone to three other sensible values, written as it was written. The
part it stands in is planned by itself, a fabrication with its pieces. What `check` finds wrong is
no sensible drawing and only counted. --every takes each Nth change, --first says which is the
first of them. Ctrl-C stops and tells of those that are done. Exit code 1 if any failed.
"""

from __future__ import annotations

import argparse
import re
import shutil
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from drawings import Verdict, alone, asked, entries

SAMPLES = Path(__file__).parents[1] / "src" / "barstock" / "samples"
NAMES = ("bracket", "new", "wagon")
NUMBER = re.compile(r"(?<![\w.±+/'-])(\d+-\d+/\d+|\d+/\d+|\d*\.\d+|\d+)(?![\w./-])")
KEPT = ("bar:", "count", "thread", "general tolerance", "kind:", "material")
"""Lines so called are left as they are: `count` and `copies` are numbers of their own."""
COUNTED = re.compile(r"\b(count|copies): (\d+)")
COPIES = (1, 3, 5)
FAILED = ("failed its proof", "broke", "no answer")


@dataclass(frozen=True)
class Change:
    """A sample with one number of one part changed."""

    sample: str
    part: str
    line: str
    new: str
    build: str


def other_values(written: str) -> list[str]:
    """Three sensible values beside one, written as it is: fractions by sixty-fourths, decimals to
    the same place, whole millimetres to halves.
    """
    if "/" in written:
        whole, _, part = written.rpartition("-")
        value = Fraction(part) + (int(whole) if whole else 0)
        steps = (Fraction(-1, 32), Fraction(1, 64), Fraction(1, 16))
        return [_as_fraction(value + step) for step in steps if value + step > 0]
    places = len(written.partition(".")[2])
    value, step = float(written), 10.0**-places if places else 0.5
    found = []
    for share in (-0.06, 0.04, 0.15):
        change = max(step, round(abs(value * share) / step) * step)
        nudged = value + (change if share > 0 else -change)
        if nudged > 0:
            found.append(f"{nudged:.{max(places, 1)}f}".removesuffix(".0"))
    return found


def _as_fraction(value: Fraction) -> str:
    whole, part = divmod(value, 1)
    if not part:
        return str(whole)
    return f"{whole}-{part}" if whole else str(part)


def changed_lines(line: str) -> Iterator[str]:
    """The line of a build with each of its numbers changed."""
    text, mark, remark = line.partition("#")
    for told in COUNTED.finditer(text):
        number = int(told[2])
        others = COPIES if told[1] == "copies" else (number - 1, number + 1, number + 2)
        for other in others:
            if other != number and other > 0:
                yield text[: told.start(2)] + str(other) + text[told.end(2) :] + mark + remark
    if text.strip().startswith(KEPT):
        return
    for told in NUMBER.finditer(text, text.find(":") + 1):
        if not COUNTED.search(text[: told.end()][-12:]):
            for other in other_values(told[1]):
                yield text[: told.start(1)] + other + text[told.end(1) :] + mark + remark


def changes() -> Iterator[Change]:
    """Every change of every sample, in the order of the samples' lines."""
    for sample in NAMES:
        build = (SAMPLES / sample / "build.yaml").read_text(encoding="utf-8")
        typed = entries(build)
        for entry in typed:
            lines = entry.text.splitlines()
            for n, line in enumerate(lines):
                for new in changed_lines(line):
                    text = "\n".join([*lines[:n], new, *lines[n + 1 :]]) + "\n"
                    changed = type(entry)(entry.number, entry.name, text, joined=entry.joined)
                    whole = alone(build, changed, typed)
                    yield Change(sample, entry.name, line.strip(), new.strip(), whole)


def survey(every: int, first: int, only: str, seconds: float) -> Iterator[tuple[Change, Verdict]]:
    """What becomes of each chosen change; kept work of a sample serves its next change."""
    chosen = [c for c in changes() if only in f"{c.sample} {c.part}"][first::every]
    print(f"{len(chosen)} changes", flush=True)
    with tempfile.TemporaryDirectory() as scratch:
        for change in chosen:
            folder = Path(scratch) / change.sample
            if not folder.exists():
                shutil.copytree(SAMPLES / change.sample, folder)
            (folder / "build.yaml").write_text(change.build, encoding="utf-8")
            yield change, asked("plan", folder, seconds)


def main() -> int:
    """Print every change that is not planned and proven, and the counts."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--every", type=int, default=1, help="only each Nth change")
    parser.add_argument("--first", type=int, default=0, help="the first change to take")
    parser.add_argument("--only", default="", help="samples or parts whose names hold these words")
    parser.add_argument("--seconds", type=float, default=300.0, help="limit for each plan")
    wanted = parser.parse_args()
    fates: Counter[str] = Counter()
    try:
        for change, verdict in survey(wanted.every, wanted.first, wanted.only, wanted.seconds):
            fates[verdict.fate] += 1
            if verdict.fate not in ("planned and proven", "faulty"):
                print(f"{verdict.fate}: {change.sample}, {change.part}, {change.line}")
                print(f"    changed to {change.new}, {verdict.seconds:.0f} s")
                print("\n".join(f"        {line}" for line in verdict.words.splitlines()))
            sys.stdout.flush()
    except KeyboardInterrupt:
        print("\nstopped", file=sys.stderr)
    print(", ".join(f"{count} {told}" for told, count in fates.most_common()))
    return 1 if any(fates[bad] for bad in FAILED) else 0


if __name__ == "__main__":
    sys.exit(main())
