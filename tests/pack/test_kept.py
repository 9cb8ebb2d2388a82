"""What is kept stays within bounds, and a drawing keeps its date until something on it changes."""

from __future__ import annotations

import os
import time
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from barstock.drawing.build import Build, Place
from barstock.pack.drawing_date import FILE, issued
from barstock.quantities import Dimension
from barstock.store.kept_folders import Kept
from barstock.store.pruning import in_use, prune

MONDAY, TUESDAY = date(2024, 1, 1), date(2024, 1, 2)


def _piece(cache: Path, name: str, size: int, hours_ago: float) -> Path:
    piece = cache / name
    piece.mkdir(parents=True)
    (piece / "content").write_bytes(b"x" * size)
    then = time.time() - 3600 * hours_ago
    os.utime(piece / "content", (then, then))
    os.utime(piece, (then, then))
    return piece


def _left(cache: Path) -> set[str]:
    return {f"{p.parent.name}/{p.name}" for p in cache.glob("*/*")}


def test_what_was_used_longest_ago_goes_first(tmp_path: Path) -> None:
    for n in range(5):
        _piece(tmp_path, f"pictures/{n}", 100_000, hours_ago=n + 1)
    (tmp_path / "orders").mkdir()
    (tmp_path / "orders" / "order.json").write_bytes(b"x" * 1000)
    Kept(tmp_path / "pictures", "4", lambda _: None).fetch()
    prune(tmp_path, 330_000)
    assert _left(tmp_path) == {"pictures/0", "pictures/1", "pictures/4", "orders/order.json"}


def test_what_was_left_half_made_goes_and_the_dates_stay(tmp_path: Path) -> None:
    _piece(tmp_path, "drawings/.half-made", 10, hours_ago=0)
    _piece(tmp_path, "drawings/whole", 10, hours_ago=0)
    (tmp_path / FILE).write_text("{}")
    with in_use(tmp_path):
        pass
    assert _left(tmp_path) == {"drawings/whole"}
    assert (tmp_path / FILE).is_file()


def test_nothing_goes_while_another_run_uses_it(tmp_path: Path) -> None:
    _piece(tmp_path, "proofs/old", 1000, hours_ago=9)
    with in_use(tmp_path, most=10):
        with in_use(tmp_path, most=10):
            pass
        assert _left(tmp_path) == {"proofs/old"}
    assert _left(tmp_path) == set()


def test_a_run_that_fails_leaves_all_as_it_was(tmp_path: Path) -> None:
    _piece(tmp_path, "proofs/old", 1000, hours_ago=9)
    with pytest.raises(KeyboardInterrupt), in_use(tmp_path, most=10):
        raise KeyboardInterrupt
    assert _left(tmp_path) == {"proofs/old"}


def test_a_drawing_keeps_its_date_until_it_changes(build: Build, tmp_path: Path) -> None:
    first, second = build.parts
    assert set(issued(build, tmp_path, MONDAY).values()) == {MONDAY}
    assert set(issued(build, tmp_path, TUESDAY).values()) == {MONDAY}
    moved = replace(first, place=Place("build.yaml", 9, 9))
    longer = replace(second, length=Dimension(40.0))
    changed = replace(build, parts=(moved, longer))
    assert issued(changed, tmp_path, TUESDAY) == {first.name: MONDAY, second.name: TUESDAY}
    again = issued(build, tmp_path, date(2024, 1, 3))
    assert again[second.name] == date(2024, 1, 3), "changing back is a change too"


def test_without_its_file_every_drawing_is_of_today(build: Build, tmp_path: Path) -> None:
    issued(build, tmp_path, MONDAY)
    (tmp_path / FILE).write_text('{"axlebox": 3')
    assert set(issued(build, tmp_path, TUESDAY).values()) == {TUESDAY}
