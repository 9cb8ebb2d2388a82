"""What is sent for the work in the round holds the metal that the arithmetic says is there."""

from __future__ import annotations

import gzip
import itertools
import json
import re
import shutil
from math import pi
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from barstock.bench.entry import Entry, Kind
from barstock.pack.round_views import file_of, turned
from barstock.pack.route_file import read_route
from barstock.route import Route, Setup
from barstock.store.kept_folders import CACHE

from .conftest import Bench

CHORDS = 0.02
"""Metal that straight triangles add to or take from a hole, of its volume."""


def volumes(path: Path) -> list[float]:
    """Of the work at each step, by the divergence theorem over its triangles [mm3]."""
    raw = gzip.decompress(path.read_bytes())
    long = int.from_bytes(raw[:4], "little")
    head: dict[str, Any] = json.loads(raw[4 : 4 + long])
    many = sum(n for n, _, _ in head["faces"])
    lines = sum(head["lines"])
    whole = np.frombuffer(raw, "<i2", 3 * (many + lines), 4 + long).reshape(-1, 3)
    points = np.array(head["low"]) + (whole.astype(float) + 32767) * head["step"]
    corners = np.frombuffer(raw, "<u2", offset=4 + long + whole.nbytes).reshape(-1, 3)
    faces, p, c = [], 0, 0
    for on, triangles, _ in head["faces"]:
        faces.append(points[p : p + on][corners[c : c + triangles]])
        p, c = p + on, c + triangles
    assert c == len(corners)
    sums = [np.einsum("ij,ij->i", t[:, 0], np.cross(t[:, 1], t[:, 2])).sum() / 6 for t in faces]
    return [float(sum(sums[i] for i in (*s["faces"], *s["fresh"]))) for s in head["steps"]]


@pytest.fixture
def route(planned: Path) -> Route:
    return read_route(planned / "out" / "route.json")


def made(planned: Path, route: Route, setup: Setup) -> Path:
    part, file = file_of(route, setup)
    return turned(route, part, planned / CACHE).fetch() / file


def test_the_first_step_is_the_bar_and_the_last_the_part(planned: Path, route: Route) -> None:
    bar = route.bars[0]
    first = volumes(made(planned, route, route.setups[0]))
    assert first[0] == pytest.approx(bar.length * bar.width * bar.height, rel=1e-4)
    last = volumes(made(planned, route, route.setups[-1]))
    # 40 x 20 x 12, a slot 8 x 8 all along, a hole of 4 through the two walls it leaves
    hole = pi / 4 * 4**2 * (20 - 8)
    assert last[-1] == pytest.approx(40 * 20 * 12 - 8 * 8 * 40 - hole, abs=CHORDS * hole + 1)


def test_every_operation_leaves_less(planned: Path, route: Route) -> None:
    for setup in route.setups:
        found = volumes(made(planned, route, setup))
        assert len(found) == len(setup.operations) + 1
        assert all(a > b for a, b in itertools.pairwise(found)), setup.id


def test_the_page_opens_where_the_copy_in_hand_stands(bench: Bench) -> None:
    setup = next(s for s in bench.state.plan.route.setups if s.stage == "piece" and s.copies > 1)

    def standing() -> str:
        page = bench.client.get(f"/setup/{setup.id}/round").text
        found = re.search(r'data-step="(\d+)" aria-current="step"', page)
        assert found
        return found[1]

    assert standing() == "0"
    for copy in range(1, setup.copies + 1):
        assert standing() == "0"
        for done, operation in enumerate(setup.operations, 1):
            entry = Entry(
                kind=Kind.TICK, setup=setup.id, work=setup.work, operation=operation.id, nth=copy
            )
            bench.state.write(entry)
            if done < len(setup.operations):
                assert standing() == str(done)
    assert standing() == str(len(setup.operations))
    assert bench.client.get("/setup/999/round").status_code == 404
    assert bench.client.get("/round/..%2f..%2fbuild.yaml").status_code == 404


def test_it_is_cut_when_first_looked_at_and_kept(bench: Bench) -> None:
    route = bench.state.plan.route
    kept = turned(route, file_of(route, route.setups[-1])[0], bench.state.folder / CACHE)
    shutil.rmtree(kept.place, ignore_errors=True)
    answer = bench.client.get(f"/round/{route.setups[-1].id}")
    assert answer.status_code == 200
    assert answer.content  # unpacked by the client
    assert kept.place.is_dir()
