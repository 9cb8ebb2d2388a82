"""The bar a part names is the rack's bar of those sides, in whatever units they are written."""

from dataclasses import replace
from pathlib import Path

import pytest

from barstock import api
from barstock.drawing.bars_wanted import check_against
from barstock.drawing.build import Build, Part
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.quantities import Dimension, Unit, parse_length
from barstock.reading.faults import Place
from barstock.stocking.bar_choice import NoBarError, choose_bar
from barstock.workshop.shop import BarStock, Vise, Workshop


def _part(section: str, unit: Unit) -> Part:
    sizes = (Dimension(40.0), Dimension(25.4), Dimension(6.35))
    return Part("plate", "brass", 1, *sizes, (), Place("build.yaml", 1, 1), unit, section=section)


def _shop(name: str) -> Workshop:
    """An mm workshop with one bar on its rack."""
    width, height = (parse_length(side) for side in name.split(" x "))
    bar = BarStock(name, "brass", "rectangle", width, height, 300.0, 1)
    return Workshop("shop", (), (), (), (), (), (bar,))


def _faults(part: Part, shop: Workshop) -> list[str]:
    build = Build("plates", Path(), (part,))
    return [f"{f.what}; {f.mend}" for f in check_against(build, shop)]


@pytest.mark.parametrize("rack", ["1 in x 1/4", "25.4 x 6.35", "1/4 x 25.4"])
def test_an_inch_name_finds_the_bar_of_that_size(rack: str) -> None:
    part = _part("1 x 1/4", Unit.INCH)
    assert _faults(part, _shop(rack)) == []
    assert choose_bar(part, _shop(rack)).bar.name == rack


def test_like_letters_of_another_size_are_another_bar() -> None:
    part, shop = _part("1 x 1/4", Unit.INCH), _shop("1 x 1/4")
    (fault,) = _faults(part, shop)
    assert "the rack's '1 x 1/4' is 1 mm x 6.35 mm" in fault
    with pytest.raises(NoBarError):
        choose_bar(part, shop)


def test_a_bar_that_no_vise_holds_is_taken_only_for_want_of_another() -> None:
    """30 x 25.4 x 6.35: a flat of that thickness leaves a face less to cut, but 100 mm wide."""
    part = replace(_part("", Unit.MM), as_bought=frozenset())
    flat = BarStock("100 x 6.35", "brass", "rectangle", 100.0, 6.35, 300.0, 1)
    square = BarStock("30 x 30", "brass", "rectangle", 30.0, 30.0, 300.0, 1)
    vise = Vise("vise", 100.0, 28.0, 85.0)
    shop = replace(_shop("30 x 30"), vises=(vise,), rack=(flat, square))
    assert choose_bar(part, shop).bar.name == "30 x 30"
    assert choose_bar(part, replace(shop, rack=(flat,))).bar.name == "100 x 6.35"
    wider = replace(shop, vises=(replace(vise, opening=120.0),))
    assert choose_bar(part, wider).bar.name == "100 x 6.35"


def _strip(folder: Path, sizes: str) -> tuple[Part | None, list[str]]:
    (folder / "build.yaml").write_text(
        "build: Trial\nunit: inch\ngeneral tolerance: {fractions: ±1/64, .xxx: ±.003}\nparts:\n"
        f"  strip: {{material: brass, length: 2, {sizes}, as bought: [front, back, top, bottom]}}\n"
    )
    reading = read_build(folder, KINDS)
    part = reading.build.parts[0] if reading.build else None
    return part, [f"{f.grade}: {f.what}" for f in reading.faults]


def test_a_strip_a_hair_thinner_than_drawn_is_a_note_within_the_limits(tmp_path: Path) -> None:
    """3/32 is .09375; the drawing's .094 may be as little as .091."""
    part, told = _strip(tmp_path, "width: 1/2, height: .094, bar: 1/2 x 3/32")
    assert told == [
        "warning: the height is drawn as 0.0940 in, and the bar has 0.09375 in, which is within "
        "its limits"
    ]
    assert part is not None
    assert part.height.nominal == pytest.approx(25.4 * 3 / 32)
    assert part.height.low == pytest.approx(25.4 * 0.091)
    assert part.height.high == pytest.approx(25.4 * 0.097)


def test_a_strip_thinner_than_the_limits_is_refused(tmp_path: Path) -> None:
    part, told = _strip(tmp_path, "width: 1/2, height: .100, bar: 1/2 x 3/32")
    assert part is None
    assert [line.partition(":")[0] for line in told] == ["error"]


@pytest.mark.parametrize(
    ("sizes", "bar", "told"),
    [
        ("width: 16, height: 6", "10 x 5", "does not come out of a bar 10 x 5"),
        ("width: 16, height: 6", "round 12", "does not come out of a bar 'round 12'"),
        ("diameter: 15", "round 20", "15 mm, is not that of its bar"),
        ("width: 16, height: 6", "17 x 6", "no brass bar '17 x 6'"),
    ],
)
def test_a_wrong_bar_is_told_once(sizes: str, bar: str, told: str, tmp_path: Path) -> None:
    part = f"{{material: brass, length: 40, {sizes}, bar: {bar}}}"
    (tmp_path / "build.yaml").write_text(f"build: One\nparts:\n  p: {part}\n", encoding="utf-8")
    shop = Path(__file__).parents[1] / "drawings" / "metric_shop" / "workshop.yaml"
    (tmp_path / "workshop.yaml").write_text(shop.read_text(encoding="utf-8"), encoding="utf-8")
    (fault,) = [fault for fault in api.check(tmp_path) if fault.grade == "error"]
    assert told in fault.what
