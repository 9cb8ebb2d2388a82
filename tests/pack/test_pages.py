"""The pack as a person reads it: what is on the pages, how large, and that nothing is missing."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import pymupdf
import pytest

from barstock.drawing.build import Build, Face
from barstock.drawing.dimension_runs import CheckSort
from barstock.pack.compose import compose
from barstock.pack.pdf_printing import Paper, pdf
from barstock.pack.webpage import html
from barstock.quantities import Unit
from barstock.route import Route
from barstock.route.statements import Caution, CautionKind, Pinned, Remedy, RemedyKind
from barstock.words.holding.way_in_words import sides
from barstock.words.operation_lines import lines
from barstock.words.reader import Reader
from barstock.words.zeros import readings_in
from barstock.workshop.shop import Axis, Machine, MachineKind, Workshop

READOUT = Axis(300, readout=0.005)
WHEEL = Axis(300, per_turn=2.54, divisions=100, unit=Unit.INCH)
READOUTS = Machine("mill", MachineKind.MILL, (), True, READOUT, READOUT, READOUT)
INCH_WHEELS = Machine("old mill", MachineKind.MILL, (), True, WHEEL, WHEEL, WHEEL)
LEAST = 14.0  # smallest size of a figure to dial [points]
SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 6"><path d="M0 0L9 6"/></svg>'
SHOWN = {"setup-2": SVG}


def _pdf(route: Route, build: Build, shop: Workshop, paper: Paper = Paper.A4) -> pymupdf.Document:
    pack = compose(route, build, shop, {"2": SVG}, {})
    return pymupdf.open(stream=pdf(pack, SHOWN, paper))


def _figures(route: Route) -> list[str]:
    """Every figure to dial in a route, as printed."""
    readers = {"hanger": Reader(Unit.INCH, INCH_WHEELS)}
    return [
        run.text
        for setup in route.setups
        for operation in setup.operations
        for line in lines(operation, readers.get(setup.work, Reader(Unit.MM, READOUTS)))
        for reading in (*line.axes.values(), *line.other)
        for value in reading.values
        for run in value
        if run.big
    ]


def _pages(document: pymupdf.Document, number: str) -> list[str]:
    texts = [" ".join(page.get_text().split()).replace("- ", "-") for page in document]
    return [t for t in texts if f"setup{number} of" in t]


def test_every_figure_to_dial_stands_large_and_bold(
    route: Route, build: Build, workshop: Workshop
) -> None:
    spans = [
        span
        for page in _pdf(route, build, workshop)
        for block in page.get_text("dict")["blocks"]
        for line in block.get("lines", [])
        for span in line["spans"]
    ]
    large = {s["text"].strip() for s in spans if s["size"] >= LEAST and "Bold" in s["font"]}
    large |= {word for text in large for word in text.split()}
    figures = _figures(route)
    assert len(figures) > 15
    assert [f for f in figures if f not in large] == []


def test_a_setups_page_says_how_it_is_held_and_where_zero_is(
    route: Route, build: Build, workshop: Workshop
) -> None:
    (page,) = _pages(_pdf(route, build, workshop), "2")
    for words in (
        "Quarry wagon, running gear",
        "Axlebox",
        "4 pieces",
        "80 mm vise, jaws 22 mm apart",
        "back on parallels 10 + 5 = 15 mm, drawn out once tight",
        "grip 14 mm",  # 14.2 and 13.8 as a person can set them, to half a millimetre
        "stick-up 14 mm",
        "1.5°, right-hand end up",
        "5 mm edge finder against the left-hand end (left)",
        "set −2.500",
        "2.618 mm = 1.118 + 1.5",
        "an arrow on the front face",
        "8.00 to 8.05 mm",
        "enters: 1 + 7 = 8 mm",
        "does not enter: 1.05 + 7 = 8.05 mm",
        "at 80% of the speed wanted",
        "Ease the feed as the point breaks through",
        "first-off",
    ):
        assert words in page, words


def _with_operation(route: Route, n: int, **changes: object) -> Route:
    """The route with one operation of its second setup changed."""
    setup = route.setups[1]
    operations = list(setup.operations)
    operations[n] = operations[n].model_copy(update=changes)
    changed = setup.model_copy(update={"operations": tuple(operations)})
    return route.model_copy(update={"setups": (route.setups[0], changed, route.setups[2])})


def test_a_check_gives_the_closer_limits_to_hold_here_beside_the_drawn_ones(
    route: Route, build: Build, workshop: Workshop
) -> None:
    check = route.setups[1].operations[0].checks[0]
    first_off = Remedy(kind=RemedyKind.FIRST_OFF, names={"instrument": "caliper"})
    held = {"hold_low": 8.012, "hold_high": 8.038, "besides": (first_off,)}
    closer = check.model_copy(update=held)
    changed = _with_operation(route, 0, checks=(closer,))
    (page,) = _pages(_pdf(changed, build, workshop), "2")
    web = html(compose(changed, build, workshop, {"2": SVG}, {}), SHOWN)
    for words in (
        "hold 8.012 to 8.038 mm",
        "(drawn 8.0 +0.05/0: 8.00 to 8.05 mm)",
        "For every copy to hold: correct the readings by the first-off (caliper).",
    ):
        assert words in page
        assert words in " ".join(re.sub("<[^>]*>", "", web).split())
    (plain,) = _pages(_pdf(route, build, workshop), "2")
    assert "hold 8" not in plain


@pytest.mark.parametrize(
    ("diameter", "share", "warned"), [(1.6, 0.5, True), (9.8, 0.3, False), (1.6, 1.0, False)]
)
def test_a_slow_spindle_is_told_and_warned_of_only_for_small_drills_and_once(
    route: Route, build: Build, workshop: Workshop, diameter: float, share: float, warned: bool
) -> None:
    drilling = route.setups[1].operations[1]
    cutter = drilling.cutter.model_copy(update={"diameter": diameter})
    said = Caution(kind=CautionKind.SLOW_SPINDLE, numbers={"share": share})
    one = drilling.model_copy(update={"cutter": cutter, "speed_share": share, "cautions": (said,)})
    again = one.model_copy(update={"id": f"{one.id} again"})
    setup = route.setups[1].model_copy(update={"operations": (one, again), "passes": ()})
    changed = route.model_copy(update={"setups": (route.setups[0], setup, route.setups[2])})
    page = " ".join(_pages(_pdf(changed, build, workshop), "2"))
    assert page.count(f"at {share:.0%} of the speed wanted") == (2 if share < 1 else 0)
    assert page.count("(operations 1 and 2): feed lightly") == int(warned)
    assert "wanted surface speed" not in page


def test_cuts_at_the_saw_share_a_page(route: Route, build: Build, workshop: Workshop) -> None:
    saw = route.setups[0]
    saws = tuple(saw.model_copy(update={"id": f"{n}"}) for n in (1, 4, 5))
    changed = route.model_copy(update={"setups": (*saws, *route.setups[1:])})
    (page,) = _pages(_pdf(changed, build, workshop), "1")
    for number in (1, 4, 5):
        assert f"setup{number} of" in page
    assert page.count("length 33.0 mm") == 3


def test_every_page_of_a_setup_has_something_to_do(
    route: Route, build: Build, workshop: Workshop
) -> None:
    setup = route.setups[1]
    for count in range(1, 8):
        several = tuple(
            o.model_copy(update={"id": f"{o.id}/{n}"})
            for n in range(count)
            for o in setup.operations
        )
        long = setup.model_copy(update={"operations": several, "passes": ()})
        longer = route.model_copy(update={"setups": (route.setups[0], long, route.setups[2])})
        for page in _pages(_pdf(longer, build, workshop), "2"):
            assert "rpm" in page, f"{count} times its operations"


def test_names_tell_dimensions_apart_by_words_and_sizes(
    route: Route, build: Build, workshop: Workshop
) -> None:
    check = route.setups[1].operations[0].checks[0]
    two = (
        check.model_copy(update={"name": "cover screws/from left (2)", "nth": 2}),
        check.model_copy(
            update={"name": "shape/radius 4", "nth": 4, "sort": CheckSort.RADIUS, "runs": None}
        ),
    )
    (page,) = _pages(_pdf(_with_operation(route, 0, checks=two), build, workshop), "2")
    assert "cover screws: from left hold" in page or "cover screws: from left 8.00" in page
    assert "shape: radius at point 4 of the outline" in page
    assert "(2)" not in page


def test_handwheel_zero_is_wound_on_by_half_the_finder(
    route: Route, build: Build, workshop: Workshop
) -> None:
    # A 0.2 in tip: half is 0.1 in, one turn of a 0.1 in wheel.
    (page,) = _pages(_pdf(route, build, workshop), "3")
    assert "0.2 in edge finder" in page
    assert "wind on 1 turn 0 div to the right" in page
    assert "the screw's slack" in page.replace("’", "'")
    assert "parallels 1 + 0.125 = 1.125 in" in page


def test_sides_follow_from_up_and_fixed_jaw() -> None:
    # As drawn: top up and back to the fixed jaw leaves the left end at the left hand; turned end
    # for end (front to the jaw) it comes to the right.
    assert sides(Face.TOP, Face.BACK) == (Face.LEFT, Face.RIGHT)
    assert sides(Face.TOP, Face.FRONT) == (Face.RIGHT, Face.LEFT)
    assert sides(Face.RIGHT, Face.BACK) == (Face.TOP, Face.BOTTOM)


def test_continuation_pages_repeat_the_header_and_the_holding(
    route: Route, build: Build, workshop: Workshop
) -> None:
    setup = route.setups[1]
    many = tuple(
        o.model_copy(update={"id": f"{o.id}/{n}"}) for n in range(12) for o in setup.operations
    )
    long = setup.model_copy(update={"operations": many, "passes": ()})
    longer = route.model_copy(update={"setups": (route.setups[0], long, route.setups[2])})
    pages = _pages(_pdf(longer, build, workshop), "2")
    assert len(pages) > 2
    for n, page in enumerate(pages, 1):
        for words in ("Quarry wagon", "Axlebox", "4 pieces", "80 mm vise", "10 + 5 = 15 mm"):
            assert words in page
        assert f"sheet {n} of {len(pages)}" in page


@pytest.mark.parametrize(("paper", "size"), [(Paper.A4, (595, 842)), (Paper.LETTER, (612, 792))])
def test_paper(
    route: Route, build: Build, workshop: Workshop, paper: Paper, size: tuple[int, int]
) -> None:
    # ISO 216 A4: 210 x 297 mm; ANSI letter: 8.5 x 11 in; in points of 1/72 in.
    page = _pdf(route, build, workshop, paper)[0]
    assert (round(page.rect.width), round(page.rect.height)) == size


def test_prints_in_black_and_white(route: Route, build: Build, workshop: Workshop) -> None:
    for page in _pdf(route, build, workshop):
        pixels = page.get_pixmap(dpi=40)
        colours = {pixels.pixel(x, y) for x in range(pixels.width) for y in range(pixels.height)}
        assert all(max(c) - min(c) <= 2 for c in colours)


class _Tags(HTMLParser):
    """Reads a page, and fails where tags do not match."""

    VOID = frozenset({"meta", "img", "br"})

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.seen: set[str] = set()
        self.links: list[str] = []
        self.ids: set[str] = set()
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.add(tag)
        self.links += [v for k, v in attrs if k in ("href", "src") and v]
        self.ids |= {v for k, v in attrs if k == "id" and v}
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text += f" {data}"


def test_the_web_page_needs_nothing_else(route: Route, build: Build, workshop: Workshop) -> None:
    page = html(compose(route, build, workshop, {"2": ""}, {}), SHOWN)
    tags = _Tags()
    tags.feed(page)
    assert tags.open == []
    assert "script" not in tags.seen
    assert "link" not in tags.seen
    assert "url(" not in page
    assert all(a.startswith("data:") or a.removeprefix("#") in tags.ids for a in tags.links)
    text = " ".join(tags.text.split())
    assert [f for f in _figures(route) if f not in text] == []
    assert "back on parallels 10 + 5 = 15 mm" in text


def test_what_a_person_wrote_cannot_become_markup(
    route: Route, build: Build, workshop: Workshop
) -> None:
    named = route.model_copy(update={"build": "<b>1 & 2</b> #strong[x] \\ $y$"})
    pack = compose(named, build, workshop, {}, {})
    assert "<b>1 &" not in html(pack, {})
    text = pymupdf.open(stream=pdf(pack, {}))[0].get_text()
    assert "<b>1 & 2</b> #strong[x] \\ $y$" in text


def test_the_index_says_which_operation_makes_a_dimension(
    route: Route, build: Build, workshop: Workshop
) -> None:
    document = _pdf(route, build, workshop)
    texts = [" ".join(page.get_text().split()) for page in document]
    (index,) = [t for t in texts if "Index of dimensions" in t]
    for words in ("guide slots: width", "8.0 +0.05/0", "mill guide slots", "gauge blocks"):
        assert words in index


def test_the_summary_says_what_the_order_saves_and_what_to_buy(
    route: Route, build: Build, workshop: Workshop
) -> None:
    pin = Pinned(rule="before", names=("bore", "slots"), minutes=12.2)
    pinned = route.summary.model_copy(update={"pins": (pin,)})
    pinned_route = route.model_copy(update={"summary": pinned})
    first = " ".join(_pdf(pinned_route, build, workshop)[0].get_text().split())
    assert "this order saves 1 h 30 min" in first  # 3.5 h one part at a time, 2.0 h in this order
    assert "Pinned: bore before slots costs 12 min" in first
    assert first.count("Pinned") == 1
    assert "140 mm of phosphor bronze 28 x 22" in first
    assert "eye protection" in first
    assert "makers' instructions" in first.replace("’", "'")


@pytest.mark.parametrize(
    ("tip", "opening", "jaws_from", "before"),
    [
        (10.0, 6.35, -24.0, True),  # jaws 1/4 in apart
        (5.0, 6.35, -24.0, False),
        (5.0, 6.35, 10.0, True),  # the work covers the jaws from end to end
    ],
)
def test_a_zero_on_the_jaw_is_found_with_the_jaws_open_where_the_finder_does_not_go_in(
    route: Route, build: Build, workshop: Workshop, tip: float, opening: float,
    jaws_from: float, before: bool,
) -> None:  # fmt: skip
    held = {"opening": opening, "jaws_from": jaws_from, "jaws_to": jaws_from + 80.0}
    setup = route.setups[1]
    changed = setup.model_copy(
        update={
            "holding": setup.holding.model_copy(update=held),
            "zero_y": setup.zero_y.model_copy(update={"finder": tip, "set_to": -tip / 2}),
        }
    )
    changed_route = route.model_copy(update={"setups": (route.setups[0], changed)})
    page = " ".join(_pages(_pdf(changed_route, build, workshop), "2"))
    assert "against the fixed jaw" in page
    assert ("before the work goes in, the jaws wide open" in page) == before


@pytest.mark.parametrize(
    ("below", "said"),
    [
        (None, "at the left"),
        (36.2, "all of the stop 7.5 mm or more below the work's top"),  # 30 + 13.8 - 36.2 = 7.6
        (15.5, "take the stop away once the work is gripped"),  # it stands 15 mm up itself
    ],
)
def test_a_stop_that_a_cutter_passes_over_is_set_low(
    route: Route, build: Build, workshop: Workshop, below: float | None, said: str
) -> None:
    setup = route.setups[1]
    held = setup.holding.model_copy(update={"stop_below": below})
    changed = route.model_copy(
        update={"setups": (route.setups[0], setup.model_copy(update={"holding": held}))}
    )
    page = " ".join(_pages(_pdf(changed, build, workshop), "2")).replace("’", "'")
    assert said in page
    assert (": a cutter" in page) == (below is not None)


def test_each_axis_is_read_as_it_is_fitted() -> None:
    readout, wheel = Axis(300, readout=0.005), Axis(200, per_turn=2, divisions=80)
    mixed = readings_in(
        Reader(Unit.MM, Machine("mill", MachineKind.MILL, x=readout, y=readout, z=wheel))
    )
    assert "X and Y in millimetres; Z in turns and divisions (2 mm a turn, 80 divisions)" in mixed
    assert "Wind down to every Z, as to zero" in mixed
    assert "X reading in the + direction" not in mixed
    wheels = readings_in(
        Reader(Unit.MM, Machine("mill", MachineKind.MILL, x=wheel, y=wheel, z=wheel))
    )
    assert "Wind up to every X and Y reading in the + direction and down to every Z" in wheels
    plain = readings_in(
        Reader(Unit.MM, Machine("mill", MachineKind.MILL, x=readout, y=readout, z=readout))
    )
    assert plain.startswith("Readings in millimetres;")
    assert "Wind" not in plain


def test_an_inch_parts_readings_are_in_inches_where_a_readout_can_be_switched(
    route: Route, build: Build, workshop: Workshop
) -> None:
    setup = next(s for s in route.setups if s.work == "hanger")
    (drilled,) = setup.operations
    plunge = drilled.moves[0].model_copy(update={"x": 30.48, "z": -8.89})
    changed = setup.model_copy(
        update={
            "machine": "bench mill",
            "operations": (drilled.model_copy(update={"moves": (plunge,)}),),
        }
    )
    setups = tuple(changed if s == setup else s for s in route.setups)
    pack = compose(route.model_copy(update={"setups": setups}), build, workshop, {}, {})
    page = next(p for p in pack.setups if p.part == "hanger")
    assert page.readings_in.startswith("Readings in inches;")
    assert page.cautions[0].startswith("Switch the readout to inches")
    assert not any("Switch" in c for p in pack.setups if p != page for c in p.cautions)
    box = page.passes[0].operations[0]
    shown = box.lines[0].axes
    texts = ["".join(run.text for run in shown[axis].values[0]) for axis in "XZ"]
    assert texts == ["+1.2000", "−0.3500"]  # 30.48 / 25.4, 8.89 / 25.4
    assert ("2.0", "in/min") in box.running  # 50.8 / 25.4
