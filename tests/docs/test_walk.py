"""The walk in the README: every command is run and says what is printed there."""

from __future__ import annotations

import subprocess
import sys

from .pages import ROOT, blocks


def test_the_walk_goes_as_it_is_printed() -> None:
    commands = "".join(blocks(ROOT / "README.md", "console"))
    for word in ("new", "check", "draw", "plan", "prove"):
        assert f"$ barstock {word} " in commands
    assert "NOT as drawn" in commands  # the planted mistake is caught
    walk = [sys.executable, ROOT / "scripts" / "walk.py", "--check"]
    done = subprocess.run(walk, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
