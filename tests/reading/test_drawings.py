"""The drawings typed as a user would are read, with the shops they share, without an error."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.workshop.shop_reading import find_workshop, read_workshop

DRAWINGS = Path(__file__).parents[1] / "drawings"
PROJECTS = sorted(path.parent.name for path in DRAWINGS.glob("*/build.yaml"))


@pytest.mark.parametrize("project", PROJECTS)
def test_a_drawing_is_read(project: str) -> None:
    reading = read_build(DRAWINGS / project, KINDS)
    assert [str(fault) for fault in reading.faults if fault.grade == "error"] == []
    assert reading.build is not None
    workshop, faults = read_workshop(find_workshop(DRAWINGS / project, reading.workshop))
    assert workshop is not None, faults


def test_there_are_six() -> None:
    assert len(PROJECTS) == 6
