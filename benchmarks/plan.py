"""How long barstock takes on the wagon: help, cold plan, re-plan after one number, one proof cut.

Run: python benchmarks/plan.py [--json]. Times are wall seconds of real commands in fresh processes,
CPU seconds of all their processes together; memory is the highest sum of what all of them hold.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

SAMPLES = Path(__file__).parents[1] / "src" / "barstock" / "samples"
BETWEEN = 0.02
"""Looks at the memory are so far apart [s]."""
ENVIRON = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
"""As installed: what is compiled is kept."""
BARSTOCK = [sys.executable, "-m", "barstock.cli"]


@dataclass(frozen=True)
class Run:
    """One barstock command: wall and CPU seconds, and the most memory it held [MiB] if weighed."""

    wall: float
    cpu: float
    memory: float = 0.0


def run(*words: str, weighed: bool = False) -> Run:
    """Run one barstock command; exits where it fails. weighed: its memory watched, a slower run."""
    start = time.perf_counter()
    process = os.posix_spawn(
        sys.executable,
        [*BARSTOCK, *words],
        ENVIRON,
        file_actions=[(os.POSIX_SPAWN_OPEN, 1, os.devnull, os.O_WRONLY, 0)],
    )
    most, done = 0.0, 0
    while weighed and not done:
        time.sleep(BETWEEN)
        most = max(most, held_by(process))
        done, status, usage = os.wait4(process, os.WNOHANG)
    if not weighed:
        _, status, usage = os.wait4(process, 0)
    if os.waitstatus_to_exitcode(status) != 0:
        sys.exit(f"barstock {' '.join(words)} failed")
    return Run(time.perf_counter() - start, usage.ru_utime + usage.ru_stime, most)


def held_by(process: int) -> float:
    """What a process and those it started hold of memory, shared pages counted once [MiB]."""
    try:
        rollup = Path(f"/proc/{process}/smaps_rollup").read_text()
        threads = Path(f"/proc/{process}/task").glob("*/children")
        children = [child for thread in threads for child in thread.read_text().split()]
    except OSError:  # it has just ended
        return 0.0
    own = next((int(row.split()[1]) for row in rollup.splitlines() if row.startswith("Pss:")), 0)
    return own / 1024 + sum(held_by(int(child)) for child in children)


def per_cut() -> float:
    """Seconds a proof takes for each operation it cuts, nothing remembered."""
    from barstock.drawing.build_reading import read_build
    from barstock.methods import KINDS
    from barstock.planning.plan import plan_build
    from barstock.proving.prove import prove
    from barstock.workshop.shop_reading import find_workshop, read_workshop

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
        found["help seconds"] = min(run("--help").wall for _ in range(5))
        cold = run("plan", str(folder))
        found["cold plan seconds"], found["cold plan CPU seconds"] = cold.wall, cold.cpu
        apart = Path(scratch) / "weighed"
        shutil.copytree(SAMPLES / "wagon", apart)
        found["cold plan MiB"] = run("plan", str(apart), weighed=True).memory
        text = (folder / "build.yaml").read_text()
        changed = re.sub(r"(spring pockets:.*?depth: )6", r"\g<1>6.5", text, count=1, flags=re.S)
        assert changed != text
        (folder / "build.yaml").write_text(changed)
        again = run("plan", str(folder))
        found["re-plan after one number seconds"] = again.wall
        found["re-plan after one number CPU seconds"] = again.cpu
        (folder / "build.yaml").write_text(changed + "\n")
        found["re-plan after nothing changed seconds"] = run("plan", str(folder)).wall
    found["proof seconds an operation"] = per_cut()
    if "--json" in sys.argv:
        print(json.dumps(found, indent=1))
        return
    for name, value in found.items():
        print(f"{name:40} {value:10.3f}")


if __name__ == "__main__":
    main()
