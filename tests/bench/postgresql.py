"""A real PostgreSQL for the tests: its own cluster in a folder of its own, no port opened."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

ROOT_SERVES_NOT = "postgres"
"""The server refuses to be root; Debian's package brings this user."""


def _binary(name: str) -> str:
    found = sorted(Path("/usr/lib/postgresql").glob(f"*/bin/{name}"))
    return str(found[-1]) if found else name


def _run(command: Sequence[str], folder: Path) -> None:
    if os.geteuid() == 0:
        command = ["runuser", "-u", ROOT_SERVES_NOT, "--", *command]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True)
    assert done.returncode == 0, f"{command}: {done.stdout}{done.stderr}"


@contextmanager
def server() -> Iterator[str]:
    """The URL of a running server's database."""
    folder = Path(tempfile.mkdtemp(prefix="barstock-pg-"))
    data = folder / "data"
    if os.geteuid() == 0:
        shutil.chown(folder, ROOT_SERVES_NOT)
    _run([_binary("initdb"), "-D", str(data), "-U", "bench", "-A", "trust", "--no-sync"], folder)
    # what its writers' ends lose is tried here, not the machine's: no waiting for the disk
    options = f"-k {folder} -c listen_addresses='' -c fsync=off"
    control = [_binary("pg_ctl"), "-D", str(data)]
    try:
        _run([*control, "-w", "-l", str(folder / "log"), "-o", options, "start"], folder)
        yield f"postgresql://bench@/postgres?host={folder}"
    finally:
        _run([*control, "-m", "immediate", "stop"], folder)
        shutil.rmtree(folder)
