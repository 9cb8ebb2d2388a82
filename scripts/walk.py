"""Walk the README's walk: run every command in it and print there what it says.

python scripts/walk.py            writes the README
python scripts/walk.py --check    fails where a command says something else (other figures will do)

A yaml block is written to the build, a diff block mends it, a console block is run.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

README = Path(__file__).parents[1] / "README.md"
BUILD = "stop/build.yaml"
BLOCK = re.compile(r"^```(console|yaml|diff)\n(.*?)^```$", re.M | re.S)
COMMAND = re.compile(r"^\$ (.*)$", re.M)
FIGURE = re.compile(r"\d+(\.\d+)?")


@dataclass(frozen=True)
class Walk:
    """A walk in a folder of its own."""

    folder: Path

    def block(self, found: re.Match[str]) -> str:
        """Do what a block says; the block as it should stand in the README."""
        kind, content = found.groups()
        build = self.folder / BUILD
        if kind == "yaml":
            build.write_text(content, encoding="utf-8")
        elif kind == "diff":
            build.write_text(mended(build.read_text(encoding="utf-8"), content), encoding="utf-8")
        else:
            said = (f"$ {command}\n{self.run(command)}" for command in COMMAND.findall(content))
            return f"```console\n{''.join(said)}```"
        return found[0]

    def run(self, command: str) -> str:
        """All that a command prints, as it stands on the screen."""
        path = f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"
        done = subprocess.run(
            ["sh", "-c", command],
            cwd=self.folder,
            env=os.environ | {"PATH": path},
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )
        return done.stdout


def mended(file: str, diff: str) -> str:
    """A file with the lines of a diff replaced."""
    for old, new in re.findall(r"^-(.*)\n\+(.*)$", diff, re.M):
        if file.count(old) != 1:
            sys.exit(f"README: the build has {file.count(old)} lines '{old}'")
        file = file.replace(old, new)
    return file


if __name__ == "__main__":
    page = README.read_text(encoding="utf-8")
    with tempfile.TemporaryDirectory() as folder:
        walked = BLOCK.sub(Walk(Path(folder)).block, page)
    if "--check" not in sys.argv:
        README.write_text(walked, encoding="utf-8")
    elif FIGURE.sub("0", walked) != FIGURE.sub("0", page):
        lines = set(walked.splitlines()) - set(page.splitlines())
        sys.exit("the README is stale, run scripts/walk.py; now it says:\n" + "\n".join(lines))
