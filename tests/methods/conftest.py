"""Parts and features for the tests of the kinds, written as in build.yaml.

`PlainAsk` reads bare millimetres and degrees only, so that a kind can be tried without the reader.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import pytest
from ruamel.yaml import YAML

from barstock.drawing.model import AXES, Face, Feature, Part, Place
from barstock.methods import KINDS
from barstock.methods.drawn_solid import envelope
from barstock.methods.places import in_face, level
from barstock.quantities import Dimension

HERE = Place("build.yaml", 1, 1)


def _size(written: Any) -> Dimension:
    """`6` or `6 ±0.05`; a tenth each way where no limits are stated."""
    nominal, _, limit = str(written).partition("±")
    spread = float(limit or 0.1)
    return Dimension(float(nominal), -spread, spread, str(written), stated=bool(limit))


@dataclass
class _Along:
    value: float
    given_from: str
    dimension: Dimension


@dataclass
class _Spot:
    u: _Along
    v: _Along


@dataclass
class PlainAsk:
    """Answers a kind from a plain mapping and keeps what it reports."""

    written: dict[str, Any]
    part: Part
    faults: list[tuple[str, str | None, str]] = field(default_factory=list)

    def _value(self, path: str) -> Any:
        found: Any = self.written
        for key in path.split("."):
            if isinstance(found, list):
                found = found[int(key)]
            else:
                found = found.get(key) if isinstance(found, dict) else None
        return found

    def given(self, path: str) -> bool:
        return self._value(path) is not None

    def size(self, path: str, *, needed: bool = True, positive: bool = True) -> Dimension | None:
        if self.given(path):
            return _size(self._value(path))
        if needed:
            self.fault(path, f"'{path}' is missing")
        return None

    def length(self, path: str, *, needed: bool = True) -> float | None:
        size = self.size(path, needed=needed)
        return size.nominal if size else None

    def angle(self, path: str, *, needed: bool = True) -> Dimension | None:
        return self.size(path, needed=needed)

    def face(self, path: str, *, needed: bool = True) -> Face | None:
        return Face(self._value(path)) if self.given(path) else None

    def _along(self, given: dict[str, Any], axis: int) -> _Along | None:
        for word, value in given.items():
            if word == AXES[axis]:
                shift = _size(str(value).removeprefix("centre").replace(" ", "") or "0")
                return _Along(self.part.size[axis] / 2 + shift.nominal, "centre", shift)
            if word not in AXES and Face(word).axis == axis:
                size = _size(value)
                return _Along(level(self.part, Face(word), size.nominal), word, size)
        self.fault(None, f"no place along the {AXES[axis]}")
        return None

    def offset(self, path: str, axis: int, *, needed: bool = True) -> _Along | None:
        return self._along(self._value(path), axis)

    def points(self, path: str, face: Face, *, needed: bool = True) -> list[_Spot] | None:
        found = self._value(path)
        if found is None:
            self.fault(path, f"'{path}' is missing")
            return None
        spots = []
        for one in found if isinstance(found, list) else [found]:
            u, v = (self._along(one, axis) for axis in in_face(face.axis))
            if u is None or v is None:
                return None
            spots.append(_Spot(u, v))
        return spots

    def fault(self, path: str | None, what: str, mend: str = "", grade: str = "error") -> None:
        self.faults.append((grade, path, what))


def _resolve(part: Part, written: str) -> tuple[str, Any, PlainAsk]:
    fields = YAML(typ="safe").load(written)
    kind, ask = KINDS[fields["kind"]], PlainAsk(fields, part)
    return kind.name, kind.resolve(kind.fields.model_validate(fields), part, ask), ask


@pytest.fixture
def part() -> Callable[..., Part]:
    """part(length, width, height, name=written, ...): a part with features as written."""

    def make(length: float, width: float, height: float, **features: str) -> Part:
        sizes = (_size(length), _size(width), _size(height))
        bare = Part("block", "brass", 1, *sizes, (), HERE)
        found = []
        for name, written in features.items():
            kind, spec, ask = _resolve(bare, written)
            assert spec is not None, ask.faults
            found.append(Feature(name.replace("_", " "), kind, spec, HERE))
        return Part("block", "brass", 1, *sizes, tuple(found), HERE)

    return make


@pytest.fixture
def block(part: Callable[..., Part]) -> Part:
    """A plain block 32 x 28 x 22 mm."""
    return part(32, 28, 22)


@pytest.fixture
def made(block: Part) -> Callable[[str], Any]:
    """The record of a sound feature of the block."""

    def make(written: str) -> Any:
        _, spec, ask = _resolve(block, written)
        assert spec is not None, ask.faults
        return spec

    return make


@pytest.fixture
def taken(block: Part) -> Callable[[str], float]:
    """Volume that a feature takes off the block [mm3]."""

    def take(written: str) -> float:
        kind, spec, ask = _resolve(block, written)
        assert spec is not None, ask.faults
        whole = envelope(block)
        return whole.volume - whole.cut(KINDS[kind].removes(spec, block)).volume

    return take


@pytest.fixture
def faults(block: Part) -> Callable[[str], list[tuple[str, str | None, str]]]:
    """What is said of a feature of the block: grade, field, text."""
    return lambda written: _resolve(block, written)[2].faults
