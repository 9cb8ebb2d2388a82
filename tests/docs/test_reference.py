"""What docs/ takes from the program is up to date and whole."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from barstock.methods import KINDS

from .pages import PAGES, ROOT, text

BUILD = ROOT / "docs" / "build-file.md"


@pytest.mark.parametrize("script", ["reference.py", "sources.py", "architecture.py"])
def test_made_parts_are_up_to_date(script: str) -> None:
    command = [sys.executable, ROOT / "scripts" / script, "--check"]
    done = subprocess.run(command, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr


def test_every_kind_of_feature_has_its_section() -> None:
    page = text(BUILD)
    for name, kind in KINDS.items():
        assert f"\n### {name}\n" in page, f"docs/build-file.md lacks a section '{name}'"
        assert f"<!-- fields: {kind.fields.__name__} -->" in page
        assert re.search(rf"\bkind: {name}\b", page), f"docs/build-file.md shows no {name}"


def test_every_command_and_option_in_the_pages_exists_and_the_other_way_round() -> None:
    from typer.main import get_command

    from barstock.cli.commands import app

    group = get_command(app)
    known = {
        name: {word for one in command.params for word in (*one.opts, *one.secondary_opts)}
        for name, command in group.commands.items()  # type: ignore[attr-defined]
    }
    shown: dict[str, set[str]] = {}
    for page in PAGES:
        for command, rest in re.findall(r"\bbarstock ([a-z]+)((?: [^\s`']+)*)", _said(page)):
            shown.setdefault(command, set()).update(re.findall(r"--[a-z-]+", rest))
    assert shown.keys() == known.keys()
    for command, options in shown.items():
        assert options <= known[command] | {"--help"}
    whole = text(ROOT / "docs" / "commands.md")
    for command, options in known.items():
        assert f"<!-- help: {command} -->" in whole
        assert all(word in whole for word in options if word.startswith("--"))


def _said(page: Path) -> str:
    """What a page tells one to type: shell blocks, indented lines, and words in backticks."""
    found = text(page)
    typed = re.findall(r"^(?:    |\$ )(?:\.venv/bin/)?(barstock .*)$", found, re.M)
    return "\n".join([*typed, *re.findall(r"`(barstock [^`\n]*)`", found)])
