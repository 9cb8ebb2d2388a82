"""Pieces are sawn to one length: that which is printed, proved, and taken from the bar."""

from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from barstock.drawing.build import Part
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.quantities import INCH, Unit
from barstock.route import SawOff
from barstock.stocking.bar_choice import CLEAN_UP, Stock, cut_up
from barstock.words.operation_titles import title
from barstock.words.reader import Reader
from barstock.workshop.shop import BarStock

from .conftest import sample
from .small_part import proved, read, shop, written


@pytest.mark.parametrize("unit", ["mm", "inch"])
def test_a_bar_is_never_shorter_than_its_pieces(unit: str, tmp_path: Path) -> None:
    """So many pieces and the saw's cuts between them, whatever the length: 200 by chance."""
    chance = Random(f"lengths {unit}")
    part = read(written("1 x 0.5 x 0.5", unit=unit, copies=9), tmp_path).parts[0]
    bar = BarStock("the bar", "brass", "rectangle", 12.0, 12.0, 600.0)
    stock = Stock(bar, (0.0, 12.0), (0.0, 12.0), False, ())
    for _ in range(200):
        sixty_fourths = chance.randint(10, 400)
        mm = sixty_fourths * INCH / 64 if unit == "inch" else round(chance.uniform(5, 150), 2)
        one = _of_length(part, mm)
        lengths = cut_up(one, stock, shop(unit), 600.0)
        assert lengths.each >= mm + 2 * CLEAN_UP - 1e-9
        needed = lengths.pieces * lengths.each + (lengths.pieces - 1) * lengths.kerf
        assert needed <= lengths.length + 1e-9 <= 600.0 + 1e-9
        # as set at the saw, and no more than one step of its stop longer than needed
        step = INCH / 100 if unit == "inch" else 0.1
        assert lengths.each / step == pytest.approx(round(lengths.each / step))
        assert lengths.each < mm + 2 * CLEAN_UP + step


def _of_length(part: Part, mm: float) -> Part:
    return replace(part, length=replace(part.length, nominal=mm))


@pytest.mark.parametrize("length", ["1-5/16", "1-9/16", "2-3/64"])
def test_three_inch_pieces_come_out_of_their_bar(length: str, tmp_path: Path) -> None:
    route = proved(written(f"{length} x 1/2 x 3/8", unit="inch", copies=3), tmp_path)
    sawing = next(s.saws for s in route.setups if s.saws)
    assert sawing is not None
    assert sawing.pieces == 3
    assert route.bars[0].length >= 3 * sawing.each + 2 * sawing.kerf - 1e-9


def test_what_is_printed_to_saw_is_what_is_proved() -> None:
    """34.92 mm and a clean-up at both ends is 36.42 mm, 1.4339 in: at the saw 1.44, never 1.43."""
    assert Reader(Unit.INCH).sawn(36.42) == "1.44 in"
    assert Reader(Unit.MM).sawn(36.42) == "36.5 mm"


@pytest.mark.parametrize("unit", ["mm", "inch"])
def test_the_saws_title_is_the_length_of_the_route(unit: str, tmp_path: Path) -> None:
    route = proved(written("33.33 x 12 x 10" if unit == "mm" else "1-5/16 x 1/2 x 3/8",
                           unit=unit, copies=2), tmp_path)  # fmt: skip
    saw = next(o for s in route.setups if s.saws for o in s.operations)
    move = saw.moves[0]
    assert isinstance(move, SawOff)
    figure = float(title(saw, Reader(Unit(unit))).removeprefix("saw to ").split()[0])
    assert figure * (INCH if unit == "inch" else 1.0) == pytest.approx(move.each, abs=1e-6)


def test_the_bracket_in_threes() -> None:
    build, owned = sample("bracket")
    many = replace(build, parts=tuple(replace(p, copies=3) for p in build.parts))
    proof = prove(plan_build(many, owned, steps=300_000), many)
    assert not [v for v in proof.violations if v.severity == "error"]
