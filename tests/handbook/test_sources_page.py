"""docs/sources.md says what the tests check."""

import subprocess
import sys
from pathlib import Path

SCRIPT = Path(__file__).parents[2] / "scripts" / "sources.py"


def test_the_page_of_sources_is_up_to_date() -> None:
    done = subprocess.run([sys.executable, SCRIPT, "--check"], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
