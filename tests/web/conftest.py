"""The bench pages of a small build, planned once; every test has its own copy and its own log."""

from __future__ import annotations

import shutil
import time
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright
from starlette.testclient import TestClient

from barstock import api
from barstock.api import movement
from barstock.bench.log import build_log
from barstock.web.app import ProgramFunctions, make_app
from barstock.web.bench_state import BenchState
from barstock.web.pairing import Pairing

from .browsing import chromium, serving

SMALL = Path(__file__).parents[1] / "bench" / "small"
HOST = "127.0.0.1:7319"
ORIGIN = f"http://{HOST}"


@pytest.fixture(scope="session")
def planned(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A build's folder with its plan; only if you do not change it."""
    place = tmp_path_factory.mktemp("planned") / "fork"
    place.mkdir()
    for name in ("build.yaml", "workshop.yaml"):
        shutil.copy(SMALL / name, place)
    api.plan(place)
    return place


@pytest.fixture
def folder(planned: Path, tmp_path: Path) -> Path:
    """A copy of it."""
    place = tmp_path / "fork"
    shutil.copytree(planned, place)
    return place


@pytest.fixture(scope="module")
def place(planned: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of it for a whole module, served at `address`."""
    found = tmp_path_factory.mktemp("served") / "fork"
    shutil.copytree(planned, found)
    return found


@pytest.fixture(scope="module")
def address(place: Path) -> Iterator[str]:
    """Where 'barstock bench' serves it, in a process of its own."""
    with serving(place) as (found, _):
        yield found


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Chromium."""
    with sync_playwright() as playwright:
        found = chromium(playwright)
        yield found
        found.close()


@dataclass
class Bench:
    """The pages in-process. state: what they work on; pairing: None where no pairing is asked."""

    client: TestClient
    state: BenchState
    pairing: Pairing | None = None

    def setup_with(self, operation: str) -> str:
        """The id of the setup that has an operation."""
        return next(
            s.id for s in self.state.plan.route.setups if operation in [o.id for o in s.operations]
        )

    def post(self, path: str, **form: object) -> str:
        """What a page answers to a form sent from it; it must be taken."""
        answer = self.client.post(path, data=form, headers={"HX-Request": "true"})
        assert answer.status_code == 200, answer.text
        return answer.text

    def wait_for(self, work: str) -> None:
        """Wait until long work has ended, in whatever way: its page is then asked for anew."""
        while "HX-Refresh" not in self.client.get(f"/long-work/{work}").headers:
            time.sleep(0.1)


def start(folder: Path, *, lan: bool = False) -> Iterator[Bench]:
    log = build_log(folder)
    state, pairing = BenchState(folder, log), Pairing(log) if lan else None
    plan = partial(api.plan, pictures=False)
    program = ProgramFunctions(plan, api.look_over, movement.write_moving)
    app = make_app(state, program, frozenset({HOST}), ORIGIN, pairing)
    headers = {"Origin": ORIGIN, "Accept": "text/html"}
    with TestClient(app, ORIGIN, headers=headers, follow_redirects=False) as client:
        yield Bench(client, state, pairing)
    log.close()


@pytest.fixture
def bench(folder: Path) -> Iterator[Bench]:
    """The pages as this computer alone sees them."""
    yield from start(folder)


@pytest.fixture
def lan(folder: Path) -> Iterator[Bench]:
    """The pages as other devices may reach them."""
    yield from start(folder, lan=True)
