"""How standard parts are asked for, and what is reckoned of them."""

import pytest

from barstock.handbook.dividing import indexing
from barstock.handbook.look import UnknownWordError, look
from barstock.handbook.tempering import COLOURS
from barstock.handbook.threads import thread
from barstock.quantities import INCH, Unit


@pytest.mark.parametrize(
    ("word", "title", "row"),
    [
        ("counterbore M4", "socket head screw M4", ("counterbore", "8 mm")),  # DIN 974-1
        ("M4 cap screw", "socket head screw M4", ("hexagon key", "3 mm")),  # ISO 4762
        ("cap screw #10", "socket head screw 10", ("head diameter", "7.925 mm")),  # 0.312 in
        ("countersunk 6", "flat head machine screw 6", ("angle", "82°")),  # ASME B18.6.3
        ("spanner M6", "hexagon head and nut M6", ("across flats (spanner)", "10 mm")),
        ("spanner 10 mm", "a spanner of 10 mm turns", ("hexagon head and nut", "M6")),  # ISO 4032
        ("7/16 AF", "a spanner of", ("UNC and UNF hexagon", "1/4")),  # ASME B18.2.1
        ("nut 2 BA", "BA hexagon", ("across flats (spanner)", "8.23 mm")),  # 0.324 in
        ("nut 1/4 BSF", "BSW and BSF", ("across flats (spanner)", "11.303 mm")),  # 0.445 in
        ("nut 1/4 UNC", "UNC and UNF", ("nut across flats (spanner)", "11.1125 mm")),  # 7/16
        ("washer M5", "flat washer M5", ("outside", "10 mm")),  # ISO 7089
        ("mt 2", "Morse taper MT2", ("taper", "1 in 20.020 on the diameter")),  # ISO 296
        ("R8 taper", "R8 taper", ("included angle", "16° 51'")),
        ("taper pin 4/0", "taper pin No 4/0", ("taper", "1 in 48 on the diameter")),
        ("key 1/2", "square key for a shaft over 7/16 to 9/16 in", ("key width", "3.175 mm")),
        ("circlip 10", "circlip for a bore of 10 mm", ("groove diameter", "10.4 mm")),
        ("internal circlip 10 mm", "circlip for a bore", ("groove diameter", "10.4 mm")),
        ("o-ring 12", "O-ring 012", ("inside diameter", "9.25 mm")),
        ("o-ring BS 012", "O-ring 012", ("section", "1.78 mm")),
        ("608ZZ", "ball bearing 608", ("outside", "22 mm")),
        ("bearing R8", "ball bearing R8", ("bore", "12.7 mm")),
        ("17 teeth", "dividing by 17", ("worm of 40 to 1", "2 turns and 6 holes of 17")),
        ("temper straw", "tempering colours", ("220 °C, straw", COLOURS[220][1])),
        ("sheet 18", "sheet gauge 18", ("SWG, British sheet and tube", "1.219 mm")),
        ("20 bwg", "20 BWG", ("BWG, tube walls", "0.889 mm")),
    ],
)
def test_words_lead_to_their_part(word: str, title: str, row: tuple[str, str]) -> None:
    found = [each for each in look(word) if each.title.startswith(title)]
    assert found
    assert row in found[0].rows


@pytest.mark.parametrize("word", ["circlip 23", "washer M7", "key 500 mm", "o-ring 999"])
def test_a_size_that_is_not_made_is_said_so(word: str) -> None:
    with pytest.raises(UnknownWordError, match="there is no"):
        look(word)


def test_a_whole_table_is_listed() -> None:
    shaft, bore = look("circlips")
    assert "groove diameter 9.6 mm" in dict(shaft.rows)["10 mm"]
    assert "groove diameter 10.4 mm" in dict(bore.rows)["10 mm"]


def test_gauges_and_dividing_are_shown_whole() -> None:
    assert dict(look("sheet gauges")[0].rows)["18"].startswith("SWG 1.219 mm, AWG 1.024 mm")
    assert "BWG 0.889 mm" in dict(look("tube")[0].rows)["20"]
    assert "37, 39, 41" in dict(look("dividing")[0].rows)["circles"]


def test_an_inch_shop_is_told_inches() -> None:
    (found,) = look("washer M5", Unit.INCH)
    assert ("outside", "0.3937 in") in found.rows  # 10 / 25.4


def test_one_inch_and_number_one_are_told_apart() -> None:
    assert thread('1" UNC').major == thread("1 in UNC").major == thread("1-8").major == INCH
    assert thread("1-64").major == thread("#1 UNC").major == pytest.approx(0.073 * INCH)
    assert thread("1-1/8-7").major == pytest.approx(1.125 * INCH)


def test_indexing_goes_by_the_rule() -> None:
    # An army text: 40/6 is 6 turns and 12 holes of 18, or 26 of 39; 40/42 is 20 of 21, 40 of 42.
    assert indexing(6, 40, (18,)) == (6, 12, 18)
    assert indexing(6, 40, (39,)) == (6, 26, 39)
    assert indexing(42, 40, (21,)) == (0, 20, 21)
    assert indexing(42, 40, (42,)) == (0, 40, 42)


@pytest.mark.parametrize("divisions", range(2, 51))
def test_so_many_turns_and_holes_make_a_whole_circle(divisions: int) -> None:
    turns, holes, circle = indexing(divisions, 40)
    assert turns * divisions + (holes * divisions / circle if circle else 0) == 40


@pytest.mark.parametrize(
    ("colour", "heat"),
    # a steel maker's list (°F turned into °C), and a gunsmiths' forum's
    [("dark yellow", 240), ("brown", 250), ("purple", 270), ("violet", 282), ("blue", 302)],
)
def test_colours_come_within_ten_degrees_of_other_lists(colour: str, heat: int) -> None:
    assert any(abs(at - heat) <= 10 and colour in name for at, (name, _) in COLOURS.items())


def test_hot_work_has_its_caution() -> None:
    assert "goggles" in dict(look("tempering")[0].rows)["caution"]
