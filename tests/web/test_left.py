"""The bench pages of a build of which something is left to the person."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient

from barstock import api
from tests.leaving.small_build import BROKEN, CUP, STRAP, WINDOW, written

from .conftest import start


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """The pages of a build with a feature by hand, a part bought and a part with a fault."""
    folder = written(tmp_path_factory.mktemp("left"), STRAP + WINDOW + CUP + BROKEN)
    api.plan(folder, pictures=False)
    for bench in start(folder):
        yield bench.client


def test_the_first_page_says_what_is_left(pages: TestClient) -> None:
    page = pages.get("/").text
    assert "1 of 2 features are planned and proven; 1 is left to you" in page
    assert "all of the plate" in page
    assert "Not made here: 2 x oil cup (bought)" in page


def test_what_the_plan_was_made_with_is_no_change_of_the_files(pages: TestClient) -> None:
    assert "has limits that cannot be read" not in pages.get("/").text


def test_the_page_of_a_part_says_how_it_is_made_by_hand(pages: TestClient) -> None:
    listed = pages.get("/parts").text
    assert "1 feature left" in listed
    assert "bought" in listed
    strap = pages.get("/parts/1").text
    assert "Strap: window, made by hand" in strap
    assert "19.5 mm and 28.5 mm from the left" in strap  # 24 mm and half of 9 either way
    assert "a file wants its handle" in strap
    assert "To order" in pages.get("/parts/2").text
