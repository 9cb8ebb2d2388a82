"""A route holds numbers, kinds and names: no sentence, and no length printed in a unit."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.planning.plan import plan_build
from barstock.route import Route
from barstock.tolerancing.by_tool import by_tool
from barstock.tolerancing.first_off_limits import with_working_limits
from barstock.tolerancing.fits_of_build import mated
from barstock.tolerancing.guarantee import guarantees
from barstock.tolerancing.limit_notes import fit_notes, notes, tool_notes
from barstock.workshop.shop_reading import find_workshop, read_workshop

SAMPLES = Path(__file__).parents[2] / "src" / "barstock" / "samples"
TOLD = re.compile(r"[;:°±]|\.(\s|$)|\d ?(mm|in)\b")
MOST_WORDS = 5
"""In a name, such as "drill for the thread in"."""


def planned(name: str) -> Route:
    """The route of a sample, with its working limits and all that is noted of it."""
    reading = read_build(SAMPLES / name, KINDS)
    shop, _ = read_workshop(find_workshop(SAMPLES / name, reading.workshop))
    build = reading.build
    assert build is not None
    assert shop is not None
    route = plan_build(build, shop, steps=150_000)
    judged = guarantees(route, build, shop)
    found = (*notes(judged), *tool_notes(by_tool(route, build, shop)))
    found += tuple(fit_notes(mated(build, shop)))
    summary = route.summary.model_copy(update={"notes": (*route.summary.notes, *found)})
    held = with_working_limits(route, judged, shop.instruments)
    return held.model_copy(update={"summary": summary})


def strings(of: Any) -> Iterator[str]:
    """Every string in plain data."""
    if isinstance(of, str):
        yield of
    elif isinstance(of, dict):
        for each in of.values():
            yield from strings(each)
    elif isinstance(of, list | tuple):
        for each in of:
            yield from strings(each)


@pytest.mark.parametrize("name", ["new", "bracket", "wagon"])
def test_a_route_holds_no_sentence(name: str) -> None:
    files = " ".join(path.read_text(encoding="utf-8") for path in (SAMPLES / name).iterdir())
    route = planned(name)
    tools = {o.cutter.name for setup in route.setups for o in setup.operations}
    found = set(strings(route.model_dump(mode="json")))
    assert len(found) > 100
    mine = {text for text in found - tools if text not in files}
    assert [t for t in mine for p in t.split("/") if len(p.split()) > MOST_WORDS] == []
    assert [text for text in mine if TOLD.search(text)] == []
