"""What is told of a whole route: each thing in the unit it is read in."""

from __future__ import annotations

from pathlib import Path

from barstock.drawing.build import Build, Part
from barstock.quantities import Dimension, Unit
from barstock.reading.faults import Place
from barstock.route import Summary
from barstock.route.statements import Item, ItemKind
from barstock.words.summary import told_summary

SIZE = Dimension(25.4)
LUG = Part("lug", "brass", 1, SIZE, SIZE, SIZE, (), Place("build.yaml", 1, 1), Unit.INCH)


def test_what_is_of_a_part_is_told_in_its_unit_and_all_else_in_the_shops() -> None:
    pins = Item(kind=ItemKind.PINS, names={"part": "lug"}, lengths={"go": 25.4, "not_go": 25.5})
    gauge = Item(kind=ItemKind.TOUCH_GAUGE, lengths={"size": 10.0}, setups=("1", "2"))
    summary = Summary(hours=1.0, buy=(pins, gauge))
    told = told_summary(summary, Build("works", Path("."), (LUG,)), Unit.MM).buy
    assert told == (
        "a pin of 1.0000 in that enters and one of 1.0039 in that does not, or a plug gauge",
        "gauge to touch cutters on, 10 mm: a block or a pin of that size, for setups 1, 2",
    )
