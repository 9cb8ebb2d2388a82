"""How long barstock takes on the wagon: help, cold plan, re-plan after one number, one proof cut.

Run: python benchmarks/plan.py [--json]. Times are wall seconds of real commands in fresh processes;
memory is the highest resident size of the planning process.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import sys
import tempfile
import time
from pathlib import Path

SAMPLES = Path(__file__).parents[1] / "src" / "barstock" / "samples"
BARSTOCK = [sys.executable, "-m", "barstock.cli"]


def run(*words: str) -> tuple[float, float]:
    """Wall seconds and highest memory [MiB] of one barstock command; exits where it fails."""
    start = time.perf_counter()
    process = os.posix_spawn(
        sys.executable,
        [*BARSTOCK, *words],
        os.environ,
        file_actions=[(os.POSIX_SPAWN_OPEN, 1, os.devnull, os.O_WRONLY, 0)],
    )
    _, status, usage = os.wait4(process, 0)
    if os.waitstatus_to_exitcode(status) != 0:
        sys.exit(f"barstock {' '.join(words)} failed")
    return time.perf_counter() - start, usage.ru_maxrss / 1024


def per_cut() -> float:
    """Seconds a proof takes for each operation it cuts, nothing remembered."""
    from barstock.drawing.reading import read_build
    from barstock.methods import KINDS
    from barstock.planning.plan import plan_build
    from barstock.proving.prove import prove
    from barstock.workshop.reading import find_workshop, read_workshop

    folder = SAMPLES / "wagon"
    build = read_build(folder, KINDS).build
    shop, _ = read_workshop(find_workshop(folder))
    assert build is not None
    assert shop is not None
    route = plan_build(build, shop)
    start = time.perf_counter()
    prove(route, build)
    taken = time.perf_counter() - start
    return taken / sum(len(s.operations) for s in route.setups)


def main() -> None:
    """Measure and print."""
    found: dict[str, float] = {}
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / "wagon"
        shutil.copytree(SAMPLES / "wagon", folder)
        found["help seconds"] = min(run("--help")[0] for _ in range(5))
        found["cold plan seconds"], found["cold plan MiB"] = run("plan", str(folder))
        text = (folder / "build.yaml").read_text()
        changed = re.sub(r"(spring pockets:.*?depth: )6", r"\g<1>6.5", text, count=1, flags=re.S)
        assert changed != text
        (folder / "build.yaml").write_text(changed)
        found["re-plan after one number seconds"], _ = run("plan", str(folder))
    found["proof seconds an operation"] = per_cut()
    if "--json" in sys.argv:
        print(json.dumps(found, indent=1))
        return
    for name, value in found.items():
        print(f"{name:36} {value:10.3f}")


if __name__ == "__main__":
    main()
