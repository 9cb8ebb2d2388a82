"""What becomes of typed drawings: every part of a folder of builds is planned by itself.

    python benchmarks/drawings.py [FOLDER] [--only WORDS] [--seconds N] [--check]

FOLDER holds a folder for each project, with its build.yaml, and the shops they share; without it,
the sheets under tests/drawings. A comment "No Name: left out, why" among the parts is a part that
the file has no words for, "left out" beside a part says that some of it could not be written. Each
part is planned in a process of its own that is stopped after N seconds; Ctrl-C stops all and tells
of those that are done. --check asks `check` only. --only takes the parts whose project or name
holds these words.
"""

from __future__ import annotations

import argparse
import json
import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

SHEETS = Path(__file__).parents[1] / "tests" / "drawings"
SECTION = re.compile(r"^(parts|fabrications):$")
NAMED = re.compile(r"^  ([^\s#].*):$")
NUMBERED = re.compile(r"^  # (\w+)\.")
LEFT_OUT = re.compile(r"^  # (\w+) (.+?): left out, (.+)$")
PIECE = re.compile(r"\bpart: ([^,}\n]+)")
REPEATED = re.compile(r"[:,\[] \*(\w+)")
FAULT = re.compile(r"^.+:\d+:\d+: error: ", re.MULTILINE)
BROKEN = re.compile(r"\w+(Error|Exception): ")
ASKED = {"check": ["check"], "plan": ["plan", "--no-pictures", "--strict"]}
GOOD = {"check": "read", "plan": "planned and proven"}
WORTH_TELLING = ("Not guaranteed", "to buy")


@dataclass(frozen=True)
class Entry:
    """A part or a fabrication of a sheet as typed, or why it could not be."""

    number: str
    name: str
    text: str = ""
    lacking: str = ""
    joined: bool = False

    @property
    def partly(self) -> bool:
        """Was some of it left out?"""
        return "left out" in self.text.lower()


@dataclass(frozen=True)
class Verdict:
    """What became of a part, in whose words, and how long that took [s]."""

    fate: str
    words: str = ""
    seconds: float = 0.0


def entries(build: str) -> list[Entry]:
    """The parts and fabrications of a build in the order of its lines."""
    found: list[Entry] = []
    block: list[str] = []
    name, joined, section = "", False, False

    def close() -> None:
        nonlocal block, name
        if name:
            numbers = [told[1] for line in block if (told := NUMBERED.match(line))]
            number = numbers[0] if numbers else ""
            found.append(Entry(number, name, "\n".join(block) + "\n", joined=joined))
        block, name = [], ""

    for line in build.splitlines():
        if heading := SECTION.match(line):
            close()
            section, joined = True, heading[1] == "fabrications"
        elif section and (out := LEFT_OUT.match(line)):
            close()
            found.append(Entry(out[1], out[2], lacking=out[3]))
        elif section and (told := NAMED.match(line)):
            if name:
                close()
            name = told[1]
            block.append(line)
        elif section and line.startswith("  #"):
            if name:
                close()
            block.append(line)
        elif section:
            block.append(line)
    close()
    return found


def alone(build: str, entry: Entry, others: list[Entry]) -> str:
    """The build with this part and what it repeats, or with this fabrication and its pieces."""
    head = build[: build.index("\nparts:\n")]
    repeated = [f"&{name}" for name in REPEATED.findall(entry.text)]
    marked = [other for other in others if any(mark in other.text for mark in repeated)]
    if not entry.joined:
        texts = [other.text for other in marked if other is not entry] + [entry.text]
        return f"{head}\nparts:\n{''.join(texts)}"
    pieces = set(PIECE.findall(entry.text))
    parts = "".join(other.text for other in others if other.name in pieces)
    return f"{head}\nparts:\n{parts}\nfabrications:\n{entry.text}"


def asked(command: str, folder: Path, seconds: float) -> Verdict:
    """Ask barstock about a build in a process of its own, no longer than so many seconds."""
    start = time.perf_counter()
    with subprocess.Popen(
        [sys.executable, "-m", "barstock.cli", *ASKED[command], str(folder)],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        start_new_session=True,
    ) as process:
        try:
            words, _ = process.communicate(timeout=seconds)
        except BaseException as reason:
            os.killpg(process.pid, signal.SIGKILL)
            if not isinstance(reason, subprocess.TimeoutExpired):
                raise
            return Verdict("no answer", f"stopped after {seconds:g} s", seconds)
    words = words.replace(f"{folder.parent}/", "").strip()
    found = fate(command, process.returncode, words)
    if "the pack: " in words and (told := _broken(folder / "out" / "route.json")):
        return Verdict("broke", told, time.perf_counter() - start)
    if found == GOOD["plan"]:
        words = "\n".join(line for line in words.splitlines() if line.startswith(WORTH_TELLING))
    return Verdict(found, words, time.perf_counter() - start)


def _broken(route: Path) -> str:
    """The refusals of a written route that are no refusals, but mistakes of the program; or ""."""
    left = json.loads(route.read_text(encoding="utf-8"))["left"]
    refusals = {tried["refusal"] for one in left for tried in one["tried"]}
    return "\n".join(sorted(told for told in refusals if BROKEN.match(told)))


def fate(command: str, code: int, words: str) -> str:
    """What barstock's answer amounts to."""
    if code == 0:
        return GOOD[command]
    if "a mistake in barstock itself" in words:
        return "broke"
    if "NOT as drawn" in words:
        return "failed its proof"
    if FAULT.search(words):
        return "faulty"
    if "left to you" in words:
        return "some of it left to the person"
    return "refused"


def survey(
    folder: Path, only: str, command: str, seconds: float
) -> Iterator[tuple[str, Entry, Verdict]]:
    """Every part of every project below a folder, with its fate."""
    with tempfile.TemporaryDirectory() as scratch:
        copy = Path(scratch) / "builds"
        shutil.copytree(folder, copy, ignore=lambda _, names: {n for n in names if n == "out"})
        for project in sorted(path.parent for path in copy.glob("*/build.yaml")):
            build = (project / "build.yaml").read_text(encoding="utf-8")
            typed = entries(build)
            for entry in typed:
                if only not in f"{project.name} {entry.name}":
                    continue
                verdict = Verdict("not written", entry.lacking)
                if not entry.lacking:
                    text = alone(build, entry, typed)
                    (project / "build.yaml").write_text(text, encoding="utf-8")
                    verdict = asked(command, project, seconds)
                yield project.name, entry, verdict


def main() -> None:
    """Print the table, a row as soon as its part is done, and the counts."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", nargs="?", type=Path, default=SHEETS)
    parser.add_argument("--only", default="", help="parts whose project or name holds these words")
    parser.add_argument("--seconds", type=float, default=300.0, help="limit for each part")
    parser.add_argument("--check", action="store_true", help="ask check only")
    wanted = parser.parse_args()
    fates: Counter[str] = Counter()
    last = ""
    command = "check" if wanted.check else "plan"
    try:
        for project, entry, verdict in survey(wanted.folder, wanted.only, command, wanted.seconds):
            if project != last:
                print(f"\n{project}")
                last = project
            partly = entry.partly and verdict.fate in GOOD.values()
            told = verdict.fate + (" in part" if partly else "")
            fates[told] += 1
            print(f"  {entry.number:4}{entry.name:30}{verdict.seconds:5.0f} s  {told}")
            for line in verdict.words.splitlines():
                print(f"        {line}")
            sys.stdout.flush()
    except KeyboardInterrupt:
        print("\nstopped", file=sys.stderr)
    print("\n" + ", ".join(f"{count} {told}" for told, count in fates.most_common()))


if __name__ == "__main__":
    main()
