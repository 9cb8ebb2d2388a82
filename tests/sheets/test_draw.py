"""Sheets as a machinist reads them: views in their places, every dimension there and legible."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from itertools import combinations, pairwise
from pathlib import Path
from xml.etree import ElementTree

import ezdxf
import pymupdf
import pytest

from barstock.drawing.build import Build, Part
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.sheets.draw import draw_all, draw_part
from barstock.sheets.labels import label, lines
from barstock.sheets.sheet import Area, Layer, Sheet, Text, extent
from barstock.solids.strokes import Arc, Segment
from tests.solids.step_reading import read_step

DAY = date(2026, 3, 1)
MakeBlock = Callable[[str], Build]
Sheets = dict[str, list[tuple[Part, Sheet]]]


def drawn(build: Build, paper: str = "a4") -> Sheet:
    return draw_part(build.parts[0], build, paper, DAY)


def full_lines(sheet: Sheet, length: float, level: bool) -> list[float]:
    """Where the visible lines of a true length lie across their run, in true mm from the first."""
    along, off = (0, 1) if level else (1, 0)
    found = {
        round(s.start[off] / sheet.scale, 3)
        for s in sheet.strokes(Layer.VISIBLE)
        if isinstance(s, Segment)
        and abs(s.start[off] - s.end[off]) < 1e-6
        and abs(abs(s.start[along] - s.end[along]) - length * sheet.scale) < 1e-6
    }
    return sorted(found)


def gaps(places: list[float]) -> list[float]:
    return [round(b - a, 2) for a, b in pairwise(places)]


# ISO 5456-2, clauses 5.1 and 5.2: where the view from above stands
@pytest.mark.parametrize(
    ("projection", "from_below"), [("third angle", [16, 24]), ("first angle", [24, 16])]
)
def test_the_plan_stands_above_in_third_angle_and_below_in_first(
    block: MakeBlock, projection: str, from_below: list[float]
) -> None:
    first, _, last = gaps(full_lines(drawn(block(projection)), 40, level=True))
    assert [first, last] == from_below


# the end hole shows from the right: that view stands on the right in third angle, left in first
@pytest.mark.parametrize(
    ("projection", "from_left"), [("third angle", [40, 24]), ("first angle", [24, 40])]
)
def test_the_view_from_the_right_stands_right_in_third_angle_and_left_in_first(
    block: MakeBlock, projection: str, from_left: list[float]
) -> None:
    first, _, last = gaps(full_lines(drawn(block(projection)), 16, level=False))
    assert [first, last] == from_left


# ISO 5456-2, figures 3 and 6: the symbol is itself drawn in the projection it names. The cone's
# small end is on the left and the circles show it from the left, as both are seen in full.
@pytest.mark.parametrize(("projection", "ring_first"), [("third angle", 1), ("first angle", 0)])
def test_the_symbol_follows_its_own_projection(
    block: MakeBlock, projection: str, ring_first: int
) -> None:
    sheet = drawn(block(projection))
    rings = [s for s in sheet.strokes(Layer.FRAME) if isinstance(s, Arc)]
    x, y = rings[0].centre
    ends = sorted(
        (s.start[0], abs(s.start[1] - s.end[1]))
        for s in sheet.strokes(Layer.FRAME)
        if isinstance(s, Segment)
        and s.start[0] == s.end[0]
        and abs((s.start[1] + s.end[1]) / 2 - y) < 1e-9
        and abs(s.start[0] - x) < 20
        and abs(s.start[1] - s.end[1]) < 7
    )
    assert len(ends) == 2
    assert ends[0][1] < ends[1][1]
    assert (x < ends[0][0]) == bool(ring_first)


def test_a_blind_hole_is_hidden_seen_from_the_side(block: MakeBlock) -> None:
    sheet = drawn(block("third angle"))
    # full diameter 6 to depth 10: two plumb dashed lines, 6 apart and at least 10 long
    plumb = [
        s
        for s in sheet.strokes(Layer.HIDDEN)
        if isinstance(s, Segment)
        and abs(s.start[0] - s.end[0]) < 1e-6
        and abs(abs(s.start[1] - s.end[1]) / sheet.scale - 10) < 0.01
    ]
    xs = sorted({round(s.start[0] / sheet.scale, 3) for s in plumb})
    assert round(xs[1] - xs[0], 2) == 6.0


def test_centre_lines_cross_every_hole(block: MakeBlock) -> None:
    sheet = drawn(block("third angle"))
    centres = sheet.strokes(Layer.CENTRE)
    rings = [s for s in sheet.strokes(Layer.VISIBLE) if isinstance(s, Arc) and s.sweep == 360]
    assert sorted(round(r.radius / sheet.scale, 3) for r in rings) == [2.5, 3.0]
    for ring in rings:
        x, y = ring.centre
        through = [
            s
            for s in centres
            if isinstance(s, Segment)
            and min(s.start[0], s.end[0]) - 0.01 < x < max(s.start[0], s.end[0]) + 0.01
            and min(s.start[1], s.end[1]) - 0.01 < y < max(s.start[1], s.end[1]) + 0.01
        ]
        assert len(through) == 2


def test_every_dimension_of_every_part_is_lettered(wagon_sheets: Sheets) -> None:
    for part, sheet in wagon_sheets["third angle"]:
        words = sheet.words
        for feature in part.features:
            for dimension in KINDS[feature.kind].drawn(feature.spec, part):
                for row in lines(label(dimension)):
                    assert row in words, (part.name, feature.name, row)
        for axis in range(3):
            assert part.dimension(axis).text in words


@pytest.mark.parametrize("projection", ["third angle", "first angle"])
def test_no_lettering_overlaps_and_all_stays_in_the_frame(
    wagon_sheets: Sheets, projection: str
) -> None:
    for part, sheet in wagon_sheets[projection]:
        frame = Area(20, 10, sheet.width - 10, sheet.height - 10)
        boxes = {one: extent(one) for one in sheet.ink if isinstance(one, Text)}
        for (a, here), (b, there) in combinations(boxes.items(), 2):
            assert not here.meets(there), (part.name, a.words, b.words)
        for one in sheet.ink:
            assert extent(one).within(frame.grown(0.01)), (part.name, one)


def test_the_title_block_says_what_the_sheet_is(block: MakeBlock) -> None:
    words = drawn(block("third angle")).words
    for said in ("Bench block", "block", "brass", "2", "ISO 2768-m", "millimetres", "2026-03-01"):
        assert said in words


# ISO 5455, table 1
def test_the_scale_is_one_of_the_standard(wagon_sheets: Sheets) -> None:
    for _, sheet in wagon_sheets["third angle"]:
        assert sheet.scale in (10, 5, 2, 1, 0.5, 0.2, 0.1)
        assert {"10:1", "5:1", "2:1", "1:1", "1:2", "1:5", "1:10"} & set(sheet.words)


def test_an_unknown_paper_is_named(block: MakeBlock) -> None:
    with pytest.raises(ValueError, match="'a9' is no paper known here; say a4 or letter"):
        drawn(block("third angle"), "a9")


@pytest.mark.parametrize(("paper", "size"), [("a4", (297, 210)), ("letter", (279.4, 215.9))])
def test_files_can_be_read_by_others(
    block: MakeBlock, tmp_path: Path, paper: str, size: tuple[float, float]
) -> None:
    build = block("third angle")
    files = {path.suffix: path for path in draw_all(build, tmp_path / "out", paper=paper)}
    assert sorted(files) == [".dxf", ".pdf", ".step", ".svg"]
    assert sorted(p.name for p in (tmp_path / "out").iterdir()) == sorted(
        p.name for p in files.values()
    )

    page = pymupdf.open(files[".pdf"])[0]
    mm = 25.4 / 72
    assert page.rect.width * mm == pytest.approx(size[0], abs=0.1)
    assert page.rect.height * mm == pytest.approx(size[1], abs=0.1)
    text = page.get_text()
    assert "Bench block" in text
    assert "12 ±0.05" in text

    root = ElementTree.parse(files[".svg"]).getroot()
    assert root.get("width") == f"{size[0]:g}mm"

    drawing = ezdxf.readfile(files[".dxf"])
    assert not drawing.audit().errors
    assert {layer.value for layer in Layer} <= {layer.dxf.name for layer in drawing.layers}
    rings = drawing.modelspace().query('CIRCLE[layer=="visible"]')
    # true size whatever the scale: the 6 and the 5 mm hole
    assert sorted(round(ring.dxf.radius, 6) for ring in rings) == [2.5, 3.0]
    texts = [text.dxf.text for text in drawing.modelspace().query("TEXT")]
    assert "16 ±0.1" in texts

    # 40 x 24 x 16 less a flat 5 mm hole 7 deep and a pointed 6 mm hole at least 10 deep
    volume = read_step(files[".step"]).volume
    plain = 40 * 24 * 16 - 3.14159265 * (2.5**2 * 7 + 3**2 * 10)
    assert plain - 3.15 * 3**2 * 6 < volume <= plain + 1e-3


def test_one_part_is_drawn_when_named(block: MakeBlock, tmp_path: Path) -> None:
    with pytest.raises(KeyError):
        draw_all(block("third angle"), tmp_path / "out", part="lid")
    names = [p.name for p in draw_all(block("third angle"), tmp_path / "out", part="block")]
    assert names == ["block.svg", "block.dxf", "block.pdf", "block.step"]


# ISO 6410-1, clause 3.2.2; M2.5: major diameter 2.5 (ISO 261), tapping drill 2.05 (ISO 2306)
def test_a_tapped_hole_has_a_thick_crest_and_a_thin_root_three_quarters_round(
    wagon_sheets: Sheets,
) -> None:
    sheet = next(sheet for part, sheet in wagon_sheets["third angle"] if part.name == "spring seat")
    roots = [s for s in sheet.strokes(Layer.DIMENSION) if isinstance(s, Arc) and s.sweep == 270]
    crests = [s for s in sheet.strokes(Layer.VISIBLE) if isinstance(s, Arc) and s.sweep == 360]
    assert [round(s.radius / sheet.scale, 4) for s in roots] == [1.25, 1.25]
    assert [round(s.radius / sheet.scale, 4) for s in crests] == [1.025, 1.025]
    assert {s.centre for s in roots} == {s.centre for s in crests}


def test_a_parts_own_general_tolerance_stands_on_its_sheet(tmp_path: Path) -> None:
    """A sheet states what holds where a dimension has no limits (ISO 2768-1, clause 5)."""
    (tmp_path / "build.yaml").write_text(
        "build: Two\nunit: mm\ngeneral tolerance: {whole: ±0.5, .x: ±0.2}\nparts:\n"
        "  plate: {material: brass, copies: 1, length: 40, width: 20, height: 5, features: {}}\n"
        "  strip: {material: brass, copies: 1, unit: inch, length: 2, width: 1, height: 1,\n"
        "    general tolerance: {whole: ±.02, .xx: ±.010}, features: {}}\n"
    )
    build = read_build(tmp_path, KINDS).build
    assert build is not None
    said = {part.name: " ".join(draw_part(part, build, "a4", DAY).words) for part in build.parts}
    assert "whole ±0.5, .x ±0.2" in said["plate"]
    assert "whole ±.02, .xx ±.010" in said["strip"]
    assert "whole ±0.5" not in said["strip"]
