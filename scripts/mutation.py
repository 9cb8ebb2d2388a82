"""Spoil every sample route in every way and say what share the proof refuses, and what it does not.

    python scripts/mutation.py [--every N] [--parts NAME ...]

A mutant that leaves the very same finished part spoils nothing; those are listed with the reason.
Ctrl-C stops and tells of the parts that were done. Exit code 1 if the proof misses more than 1 % of
the mutants that change the part.
"""

from __future__ import annotations

import argparse
import os
import sys
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from importlib.resources import files
from pathlib import Path

from barstock import api
from barstock.drawing.build import Build
from barstock.planning.plan import plan_build
from barstock.proving.mutation import survey
from barstock.proving.prove import job_of
from barstock.route import Route

SAMPLES = ("wagon", "bracket")
Row = tuple[str, str, str, str, bool, str]


def rows(named: tuple[Route, Build, str], every: int) -> list[Row]:
    """Part, kind, place, mistake, refused?, reason or fault of every mutant of one part."""
    route, build, name = named
    return [
        (name, v.mutant.kind, v.mutant.at, v.mutant.what, v.refused, v.harmless or str(v.fault))
        for v in survey(job_of(route, build, build.part(name)), every)
    ]


def planned(chosen: Sequence[str] | None) -> Iterator[tuple[Route, Build, str]]:
    """Every part to be judged, with the route of its sample, planned once."""
    for sample in SAMPLES:
        build, workshop = api.read(Path(str(files("barstock") / "samples" / sample)))
        names = [p.name for p in build.parts if not chosen or p.name in chosen]
        route = plan_build(build, workshop) if names else None
        yield from ((route, build, name) for name in names if route)


def main() -> int:
    """Print the figure and the survivors."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--every", type=int, default=1, help="judge only every so many")
    parser.add_argument("--parts", nargs="*", help="only these parts")
    chosen = parser.parse_args()
    began = time.monotonic()
    found: list[Row] = []
    with ProcessPoolExecutor(os.cpu_count()) as pool:
        parts = [pool.submit(rows, task, chosen.every) for task in planned(chosen.parts)]
        try:
            for n, part in enumerate(as_completed(parts), 1):
                found += part.result()
                name, took = part.result()[0][0], time.monotonic() - began
                print(f"{n} of {len(parts)}, {name}, {took:.0f} s", file=sys.stderr, flush=True)
        except KeyboardInterrupt:
            pool.shutdown(cancel_futures=True)
            print("stopped; what follows is of the parts that were done", file=sys.stderr)
    found.sort()
    survivors = [row for row in found if not row[4]]
    same = [row for row in survivors if "the same" in row[5]]
    print("mutants the proof does not refuse, and why they are harmless:")
    for _, kind, at, what, _, reason in survivors:
        print(f"  {at}: {kind}, {what}: {reason}")
    print()
    for kind, count in sorted(Counter(row[1] for row in found).items()):
        refused = sum(row[4] for row in found if row[1] == kind)
        print(f"  {kind:22} {refused:4} of {count:4} refused")
    changing = len(found) - len(same)
    refused = len(found) - len(survivors)
    share = refused / changing if changing else 1.0
    print(
        f"\n{len(found)} mutants; {len(same)} leave the very same part; of the {changing} others "
        f"the proof refuses {refused}: {share:.1%} ({time.monotonic() - began:.0f} s)"
    )
    return 0 if share >= 0.99 else 1


if __name__ == "__main__":
    sys.exit(main())
