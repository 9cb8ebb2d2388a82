"""The chart of the order of work: well-formed, every setup in it as long as it takes."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from barstock.drawing.build import Build
from barstock.pack.compose import compose
from barstock.pack.pdf_printing import pdf
from barstock.pack.route_chart import BAND, Scale, chart
from barstock.pack.webpage import html
from barstock.route import Route
from barstock.route.statements import Pinned
from barstock.workshop.shop import Workshop

SVG = "{http://www.w3.org/2000/svg}"


def test_every_setup_has_its_number_and_its_work(route: Route) -> None:
    root = ElementTree.fromstring(chart(route))
    texts = [text.text for text in root.iter(f"{SVG}text")]
    for setup in route.setups:
        assert setup.id in texts


def test_cutting_is_drawn_to_the_scale_of_the_ruler(route: Route) -> None:
    """All bars of cutting together are as long as the route cuts, on its ruler of 2 h a line."""
    root = ElementTree.fromstring(chart(route))
    bars = [r for r in root.iter(f"{SVG}rect") if r.get("height") == f"{BAND:g}"]
    drawn = sum(float(bar.get("width", "0")) for bar in bars)
    cutting = sum(o.minutes * s.copies for s in route.setups for o in s.operations)
    assert drawn == pytest.approx(Scale(120).x(cutting), abs=0.1)


def test_a_block_goes_on_in_the_next_line_without_loss() -> None:
    pieces = list(Scale(120).stretches(110, 370))
    assert [(p.line, p.start, p.stop) for p in pieces] == [
        (0, 110, 120),
        (1, 0, 120),
        (2, 0, 120),
        (3, 0, 10),
    ]
    assert [p.ends for p in pieces] == [False, False, False, True]


def test_it_is_in_the_pack_printed_and_as_a_page(
    route: Route, build: Build, workshop: Workshop
) -> None:
    pack = compose(route, build, workshop, {}, {}, "order")
    pictures = {"order": chart(route)}
    assert pdf(pack, pictures).startswith(b"%PDF")
    assert "the order of work by the hour" in html(pack, pictures)


def test_what_pins_cost_stands_with_the_hours(
    route: Route, build: Build, workshop: Workshop
) -> None:
    pins = (
        Pinned(rule="first", names=("axlebox/bore",), minutes=75.0),
        Pinned(rule="never in the bar", names=("hanger",), minutes=0.0),
    )
    summary = route.summary.model_copy(update={"pins": pins})
    pack = compose(route.model_copy(update={"summary": summary}), build, workshop, {}, {})
    told = [figure for figure in pack.figures if figure[0].startswith("Pinned")]
    assert told == [
        ("Pinned: axlebox/bore first", "costs 1 h 15 min"),
        ("Pinned: hanger never in the bar", "costs no time"),
    ], "each once"
    page = html(pack, {})
    assert page.count("axlebox/bore first") == page.count("hanger never in the bar") == 1


def test_names_are_safe_in_it(route: Route) -> None:
    awkward = route.model_copy(update={"build": 'A <b> & "c"'})
    assert ElementTree.fromstring(chart(awkward)).findtext(f"{SVG}title", "").startswith("A <b> &")
