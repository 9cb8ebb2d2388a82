"""What is left to the person, as a person reads it: the first page's line and a page for each."""

from __future__ import annotations

import re
from pathlib import Path

import pymupdf
import pytest

from barstock.drawing.build import Build
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.pack.compose import compose, picture_names
from barstock.pack.left_pages import LeftPage
from barstock.pack.pack_pages import Pack
from barstock.pack.pdf_printing import Paper, pdf
from barstock.pack.webpage import html
from barstock.planning.other_ways import made_otherwise
from barstock.quantities import Unit
from barstock.route import Left, LeftHow, Route, Summary, Tried
from barstock.sheets.draw import draw_part
from barstock.sheets.svg import svg
from barstock.words.left_to_you import made_first
from barstock.workshop.shop import Workshop

BUILD = """
build: Steady
parts:
  base:
    material: mild steel
    length: 60
    width: 20
    height: 12
    features:
      bolts: {kind: hole, face: top, at: {left: 8, width: centre}, diameter: 5, depth: through}
      window: {kind: pocket, face: top, at: {left: 30, width: centre}, length: 12 ±0.1, width: 8,
        depth: through, finish: by hand}
      ledge: {kind: step, face: top, edge: left, width: 4, depth: 3 +0.1/0, finish: filed}
      bore: {kind: hole, face: front, at: {left: 30, top: 0}, diameter: 8 H7, depth: through,
        finish: with its mate}
      lip: {kind: edge, between: [right, top], bevel: 1.5, finish: by hand}
  cover:
    material: brass
    length: 50
    width: 40
    height: 3
    features:
      form: {kind: outline, face: top, finish: by hand, start: {left: 0, front: 0}, path: [
        {to: {right: 0, front: 0}}, {to: {right: 0, back: 10}}, {to: {right: 10, back: 0}, arc: 10,
        turn: left}, {to: {left: 0, back: 0}}, {to: {left: 0, front: 0}}]}
      screws: {kind: hole, face: top, at: {left: 8, width: centre}, thread: M3, depth: through}
  oil cup: {made: bought, copies: 2, material: brass, length: 14, diameter: 8}
  wheel: {made: cast, material: cast iron, length: 12, diameter: 90}
  knob: {made: by hand, material: brass, length: 12, diameter: 9}
"""
TRIED = (
    Tried(way="vise, top up", refusal="the drill runs into the parallel; give thinner parallels"),
    Tried(refusal="no drill is long enough; buy a long drill 5"),
)
SHOP = Workshop("shop", (), (), (), (), (), ())


@pytest.fixture
def build(tmp_path: Path) -> Build:
    """A build with something of everything that is made otherwise."""
    (tmp_path / "build.yaml").write_text(BUILD, encoding="utf-8")
    reading = read_build(tmp_path, KINDS)
    assert reading.build is not None, reading.faults
    return reading.build


def packed(build: Build, *more: Left, unit: Unit | None = None) -> tuple[Pack, dict[str, str]]:
    """The pack of a route in which nothing at all is planned, and its pictures."""
    summary = Summary(hours=0)
    left = (*made_otherwise(build), *more)
    route = Route(build=build.name, bars=(), setups=(), left=left, summary=summary)
    drawings = {part.name: svg(draw_part(part, build)) for part in build.parts}
    pack = compose(route, build, SHOP, {}, drawings, unit=unit)
    return pack, {name: drawings[part] for name, part in picture_names(build).items()}


def page(pack: Pack, title: str) -> LeftPage:
    """The page of that title."""
    return next(page for page in pack.left if page.title == title)


def lines(of: LeftPage) -> str:
    """All that a page says."""
    said = [of.words]
    for block in of.blocks:
        said += [block.title, *block.lines, *block.cautions, *(" ".join(row) for row in block.rows)]
    return "\n".join(said)


def test_the_first_page_counts_and_names_what_is_left(build: Build) -> None:
    pack, _ = packed(build, Left(part="base", features=("bolts",), tried=TRIED))
    first, second = pack.left_said
    assert first.startswith("1 of 7 features are planned and proven; 6 are left to you: ")
    for words in (
        "window and lip of the base (made by hand)",
        "bore of the base (drilled with its mate)",
        "ledge of the base (marked out and filed)",
        "form of the cover (made by hand)",
    ):
        assert words in first
    assert first.endswith("bolts of the base")
    assert second == "Not made here: 2 x oil cup (bought), 1 x wheel (cast), 1 x knob (by hand)"


def test_nothing_is_said_where_nothing_is_left(build: Build) -> None:
    kept = Build(build.name, build.folder, build.parts[:1])
    route = Route(build="Steady", bars=(), setups=(), summary=Summary(hours=0))
    pack = compose(route, kept, SHOP, {}, {})
    assert (pack.left, pack.left_said) == ((), ())


def test_a_whole_part_that_is_left_is_counted_with_all_its_features(build: Build) -> None:
    pack, _ = packed(build, Left(part="cover", tried=TRIED))
    assert "all of the cover" in pack.left_said[0]
    limits = lines(page(pack, "cover"))
    assert "length 50 49.70 to 50.30 mm" in limits  # ISO 2768-m, over 30 to 120: 0.3 either way
    assert "screws: thread M3" in limits


def test_a_part_from_elsewhere_is_ordered_and_has_its_page(build: Build) -> None:
    pack, _ = packed(build)
    assert list(pack.buy) == [
        "2 x oil cup, brass, ⌀8 mm x 14 mm: bought as drawn",
        "1 x wheel, cast iron, ⌀90 mm x 12 mm: to be cast",
    ]
    assert {name: worked for name, _, _, worked in pack.parts} == {
        "base": "4 features left",
        "cover": "1 feature left",
        "oil cup": "bought",
        "wheel": "cast",
        "knob": "by hand",
    }
    assert page(pack, "oil cup").picture
    assert "diameter 8 7.80 to 8.20 mm" in lines(page(pack, "oil cup"))
    assert "To order" not in lines(page(pack, "knob"))


def test_the_page_of_a_refusal_says_what_was_tried_why_not_and_what_would_help(
    build: Build,
) -> None:
    pack, _ = packed(build, Left(part="base", features=("bolts",), tried=TRIED))
    of = page(pack, "base: bolts")
    tried = next(block for block in of.blocks if "tried" in block.title)
    assert tried.rows == (
        ("vise, top up", "the drill runs into the parallel", "give thinner parallels"),
        ("-", "no drill is long enough", "buy a long drill 5"),
    )
    helps = next(block for block in of.blocks if "help" in block.title)
    assert "finish: by hand" in helps.lines[0]
    assert any("before the spindle turns" in words for words in helps.cautions)


def test_what_is_made_by_hand_is_marked_out_by_its_dimensions(build: Build) -> None:
    """The window is 12 by 8 about (30, 10): 24 to 36 from the left, 6 to 14 from the front."""
    pack, _ = packed(build)
    window = lines(page(pack, "base: window"))
    assert "24 mm and 36 mm from the left; 6 mm and 14 mm from the front" in window
    assert "11.90 to 12.10 mm" in window
    assert "file the inside corners out sharp" in window.lower()
    ledge = lines(page(pack, "base: ledge"))
    assert "4 mm from the left" in ledge
    assert "3.05 mm below the top face" in ledge  # the middle of 3 +0.1/0
    assert "1.5 mm from the edge on the right, 1.5 mm on the top" in lines(page(pack, "base: lip"))
    form = lines(page(pack, "cover: form"))
    assert "3: on the right edge, 30 mm from the front" in form
    for one in (window, ledge, form):
        assert "file wants its handle" in one


def test_a_bore_with_its_mate_says_how_and_which_dimension_rules(build: Build) -> None:
    pack, _ = packed(build)
    bore = lines(page(pack, "base: bore"))
    for words in ("Clamp the two together", "30 mm from the left and on the top edge",
                  "Drill both as one", "The diameter, 8 mm, rules, for both together",
                  "8.000 to 8.015 mm", "snatches"):  # fmt: skip
        assert words in bore


@pytest.mark.parametrize(("unit", "foreign"), [(Unit.MM, r"\d ?in\b"), (Unit.INCH, r"\d ?mm\b")])
def test_lengths_are_in_the_readers_unit(build: Build, unit: Unit, foreign: str) -> None:
    """But for what was refused, in the words of whoever refused it."""
    pack, _ = packed(build, unit=unit)
    for one in pack.left:
        assert not re.search(foreign, lines(one)), lines(one)


def test_it_is_all_on_paper_and_on_the_page(build: Build) -> None:
    pack, pictures = packed(build, Left(part="gone", tried=(Tried(refusal="it has no length"),)))
    paper = pymupdf.open(stream=pdf(pack, pictures, Paper.A4))
    text = " ".join(" ".join(sheet.get_text() for sheet in paper).split())
    shown = html(pack, pictures)
    for words in ("2 of 7 features are planned and proven; 5 are left to you", "all of the gone",
                  "Base: bore", "Gone", "Clamp the two together",
                  "it has no length"):  # fmt: skip
        assert words in text
        assert words in shown


def test_a_fall_back_to_hand_work_says_that_no_machine_reaches_it(build: Build) -> None:
    left = Left(part="base", features=("bolts",), how=LeftHow.BY_HAND, tried=TRIED)
    said = lines(page(packed(build, left)[0], "base: bolts"))
    assert "No machine of the workshop was found to reach it; its limits allow hand work" in said
    assert "Dot-punch" in said


def test_features_of_a_part_that_cannot_be_read_are_counted_too(tmp_path: Path) -> None:
    text = BUILD.replace("length: 50\n    width: 40", "length: 50 ±\n    width: 40")
    (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
    build = read_build(tmp_path, KINDS).readable
    assert build is not None
    pack, _ = packed(build, Left(part="cover", tried=(Tried(refusal="no length"),)))
    assert pack.left_said[0].startswith("1 of 7 features are planned and proven; 6 are left to you")
    assert ("cover", "", "", "left to you") in pack.parts


def test_pieces_that_come_from_elsewhere_are_to_be_had_before_they_are_joined() -> None:
    left = [
        Left(part="cheek", how=LeftHow.BOUGHT),
        Left(part="bridge", features=("eye", "foot"), how=LeftHow.FILED),
        Left(part="cover"),
    ]
    assert made_first(["cheek", "bridge"], left) == (
        "the cheek: bought",
        "eye and foot of the bridge: marked out and filed",
    )
