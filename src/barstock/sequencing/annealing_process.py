"""Annealing in a process of its own: plans come back as they get better.

Run as a module it reads (problem, path, seed) from its input and writes a plan a line.
"""

from __future__ import annotations

import json
import pickle
import subprocess
import sys
import threading

from barstock.sequencing.anneal import Annealer
from barstock.sequencing.indexed_problem import IndexedProblem
from barstock.sequencing.problem import Problem
from barstock.sequencing.search import Path


class AnnealingProcess:
    """The other process, which anneals a plan until it is closed."""

    def __init__(self, problem: Problem, path: Path, seed: int) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "barstock.sequencing.annealing_process"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
        self.latest: Path | None = None
        threading.Thread(
            target=self._listen, args=(pickle.dumps((problem, path, seed)),), daemon=True
        ).start()

    def _listen(self, task: bytes) -> None:
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        try:
            self.process.stdin.write(task)
            self.process.stdin.close()
            for line in self.process.stdout:
                self.latest = [(operation, way) for operation, way in json.loads(line)]
        except (OSError, ValueError):
            return

    def newest(self) -> Path | None:
        """The best plan it has found since last asked, or None."""
        latest, self.latest = self.latest, None
        return latest

    def close(self) -> None:
        """End the other process."""
        self.process.kill()
        self.process.wait()


def main() -> None:
    """Anneal the plan read from the input, and write each better one as a line."""
    problem, path, seed = pickle.load(sys.stdin.buffer)
    annealer = Annealer(IndexedProblem(problem), path, seed)
    while True:
        if annealer.cycle():
            print(json.dumps(annealer.best), flush=True)


if __name__ == "__main__":
    main()
