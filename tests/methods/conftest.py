"""Parts and features for the tests of the kinds, written and read as in build.yaml."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from barstock.drawing.build import Fault, Part
from barstock.drawing.build_reading import Reading, read_build
from barstock.methods import KINDS
from barstock.methods.drawn_solid import envelope

Said = tuple[str, str | None, str]


def _read(folder: Path, size: tuple[float, float, float], features: dict[str, str]) -> Reading:
    length, width, height = size
    lines = [
        "build: test",
        "parts:",
        "  block:",
        "    material: brass",
        f"    length: {length}",
        f"    width: {width}",
        f"    height: {height}",
        "    features:" if features else "    features: {}",
    ]
    lines += [f"      {name}: {' '.join(text.split())}" for name, text in features.items()]
    (folder / "build.yaml").write_text("\n".join(lines) + "\n", encoding="utf-8")
    return read_build(folder, KINDS)


def _field(folder: Path, fault: Fault) -> str | None:
    """The name whose value stands where the fault is; None where it is the feature itself."""
    line = (folder / "build.yaml").read_text(encoding="utf-8").splitlines()[fault.place.line - 1]
    before = re.search(r"([a-z ]+): $", line[: fault.place.column - 1])
    return before[1].strip() if before else None


@pytest.fixture
def part(tmp_path: Path) -> Callable[..., Part]:
    """part(length, width, height, name=written, ...): a part with features as written."""

    def make(length: float, width: float, height: float, **features: str) -> Part:
        named = {name.replace("_", " "): text for name, text in features.items()}
        reading = _read(tmp_path, (length, width, height), named)
        assert reading.build is not None, reading.faults
        return reading.build.parts[0]

    return make


@pytest.fixture
def block(part: Callable[..., Part]) -> Part:
    """A plain block 32 x 28 x 22 mm."""
    return part(32, 28, 22)


@pytest.fixture
def made(part: Callable[..., Part]) -> Callable[[str], Any]:
    """The record of a sound feature of the block."""
    return lambda written: part(32, 28, 22, it=written).features[0].spec


@pytest.fixture
def taken(part: Callable[..., Part]) -> Callable[[str], float]:
    """Volume that a feature takes off the block [mm3]."""

    def take(written: str) -> float:
        cut = part(32, 28, 22, it=written)
        (feature,) = cut.features
        whole = envelope(cut)
        return whole.volume - whole.cut(KINDS[feature.kind].removes(feature.spec, cut)).volume

    return take


@pytest.fixture
def faults(tmp_path: Path) -> Callable[[str], list[Said]]:
    """What is said of a feature of the block: grade, the field it is said at, text."""

    def find(written: str) -> list[Said]:
        found = _read(tmp_path, (32, 28, 22), {"it": written}).faults
        return [(fault.grade, _field(tmp_path, fault), fault.what) for fault in found]

    return find
