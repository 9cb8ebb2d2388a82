"""A round part as the drawing has it: what is written, its solid, its sheet."""

from __future__ import annotations

from datetime import date
from math import acos, pi, sqrt
from pathlib import Path

import pytest

from barstock.drawing.bars_wanted import check_against
from barstock.drawing.build import Build
from barstock.methods.drawn_solid import drawn_solid
from barstock.methods.part_checks import check_part
from barstock.reading.faults import fault_line
from barstock.sheets.draw import draw_part
from barstock.sheets.sheet import Layer, Text
from barstock.solids.strokes import Arc, Segment
from barstock.workshop.shop_reading import read_workshop
from round_bars.conftest import FLAT, PIN, SAMPLES, built, written

FEATURES = "    features:\n"


def test_the_solid_is_a_cylinder_less_its_features(pin: Build) -> None:
    """Bar pi/4 d2 L; the flat a circular segment, r2 acos((r-h)/r) - (r-h) sqrt(2rh - h2); the oil
    way a cylinder: elementary geometry."""
    r, h = 8.0, 2.5
    segment = r * r * acos((r - h) / r) - (r - h) * sqrt(2 * r * h - h * h)
    left = pi * r * r * 48 - segment * 12 - pi * 2 * 2 * 20
    assert drawn_solid(pin.parts[0]).volume == pytest.approx(left, rel=1e-6)


def test_the_sheet_shows_the_circle_its_centre_lines_and_the_diameter_once(tmp_path: Path) -> None:
    """ISO 129-1, 5.4.3: the symbol stands before the value; ISO 128-2, 04.1: centre lines of what
    is round. From memory."""
    plain = built(PIN.replace("    features:\n", ""), tmp_path)
    sheet = draw_part(plain.parts[0], plain, "a4", date(2026, 3, 1))
    words = [ink.words for ink in sheet.ink if isinstance(ink, Text)]
    assert [word for word in words if "16" in word and "bar" not in word] == ["Ø16"]
    whole = [s for s in sheet.strokes(Layer.VISIBLE) if isinstance(s, Arc)]
    assert [round(arc.radius / sheet.scale, 3) for arc in whole] == [8.0]
    assert sum(arc.sweep for arc in whole) == pytest.approx(360, abs=0.5)
    centre = whole[0].centre
    through = [
        s
        for s in sheet.strokes(Layer.CENTRE)
        if isinstance(s, Segment) and s.start[0] <= centre[0] <= s.end[0] + 1e-6
        and s.start[1] <= centre[1] <= s.end[1] + 1e-6
    ]  # fmt: skip
    assert len(through) == 2


@pytest.mark.parametrize(
    ("change", "to", "told"),
    [
        ("    diameter: 16\n", "    diameter: 16\n    width: 16\n",
         "a round part has no 'width'; give the diameter alone"),
        ("    diameter: 16\n", "    width: 16\n",
         "'height' is missing in a part; add 'height: …'"),
        ("    diameter: 16\n", "    width: 16\n    height: 16\n",
         "a part with width and height does not come out of a bar 'round 16'"),
        ("diameter: 16", "diameter: 15",
         "the diameter, 15 mm, is not that of its bar; a lesser diameter is turned"),
        ("diameter: 16", "diameter: 18", "18 mm across, is thicker than its bar"),
        ("bar: round 16", "bar: 20 x 20", "a round part does not come out of a bar '20 x 20'"),
        (FEATURES, f"{FEATURES}      a: {{kind: edge, between: [left, top], bevel: 1}}\n",
         "needs a part with straight edges, and this one is round; round ends and shoulders are "
         "turned"),
        (FEATURES, f"{FEATURES}      a: {{kind: hole, face: top, diameter: 3, depth: 4, "
         "at: {left: 9, front: 4}}\n", "the hole starts 4 mm beside the crest of the round"),
        (FEATURES, f"{FEATURES}      a: {{kind: hole, face: left, diameter: 3, depth: 4, "
         "at: {front: 3.8, bottom: 2.4}}\n", "the hole runs 0.5 mm out of the round"),
    ],
)  # fmt: skip
def test_what_a_round_part_cannot_have(change: str, to: str, told: str, tmp_path: Path) -> None:
    """Of the last, hypot(8 - 3.8, 8 - 2.4) + 1.5 - 8 = 7 + 1.5 - 8 [mm]."""
    reading = written(PIN.replace(change, to), tmp_path)
    assert reading.build is None
    lines = [fault_line(fault) for fault in reading.faults]
    assert any(told in line for line in lines), lines
    assert all(":" in line and "build.yaml" in line for line in lines)


def test_a_feature_beside_the_round_is_refused(tmp_path: Path) -> None:
    """A slot 1 mm deep along the front corner of the square that the round stands in."""
    beside = (
        "      groove: {kind: slot, face: top, along: length, position: {front: 1}, width: 1.5,\n"
        "        depth: 1}\n"
    )
    part = built(PIN + beside, tmp_path).parts[0]
    found = [fault for fault in check_part(part) if fault.grade == "error"]
    assert [fault.feature for fault in found] == ["groove"]
    assert "takes nothing off the part" in found[0].what


def test_a_round_bar_that_the_rack_has_not(tmp_path: Path) -> None:
    shop, _ = read_workshop(SAMPLES / "new" / "workshop.yaml")
    assert shop is not None
    faults = check_against(built(PIN.replace("    bar: round 16\n", "") + FLAT, tmp_path), shop)
    assert [fault.what for fault in faults] == ["the rack has no round mild steel 16 mm across"]


@pytest.mark.parametrize(
    ("mouth", "grade"), [("", "lacking"), (", countersink: {depth: 1}", "error")]
)
def test_a_mouth_below_what_is_yet_to_be_turned_is_refused(
    mouth: str, grade: str, tmp_path: Path
) -> None:
    hole = "kind: hole, face: front, at: {left: 20, height: centre}, diameter: 3, depth: through"
    text = PIN + f"      eye: {{{hole}, starts below: 3{mouth}}}\n"
    (fault,) = check_part(built(text, tmp_path).parts[0])
    assert fault.grade == grade
    assert "in solid metal" in fault.what
