"""What `look` says of words that are a table's own and stand not in it, and its cautions."""

import pytest

from barstock.handbook.look import UnknownWordError, look


@pytest.mark.parametrize(
    ("word", "reason"),
    [
        ("600 H7", "up to 500 mm"),
        ("24 t6", "no t"),  # ISO 286-1: t begins above 24 mm
        ("10 K9", "K ends at grade 8"),
        ("H7", "want a size before the symbol: 10 H7"),
        ("H7/g6", "want a size before the symbol: 10 H7/g6"),
        ("0.8 a11", "no a up to 1 mm"),  # ISO 286-1: a and b are not used up to 1 mm
        ("0.5 N9", "no N9 up to 1 mm"),  # nor N coarser than IT8
    ],
)
def test_a_reason_is_given(word: str, reason: str) -> None:
    with pytest.raises(UnknownWordError, match=reason):
        look(word)


def test_just_above_1_mm_all_stand() -> None:
    assert look("1.1 a11")
    assert look("1.1 N9")
    assert look("0.5 N8")


def test_the_second_letter_of_iso_2768_has_its_own_table() -> None:
    first, second = look("ISO 2768-mK")
    assert first.title.startswith("ISO 2768-m")
    assert second.title.startswith("ISO 2768-2 K")
    # ISO 2768-2 tables 1 to 4 as many drawing offices print them (from memory)
    assert ("straight and flat up to 100 mm", "0.2 mm") in second.rows
    assert ("square, shorter side up to 300 mm", "0.6 mm") in second.rows
    assert ("circular run-out", "0.2 mm") in second.rows
    assert len(look("ISO 2768-m")) == 1


# AWS A5.8 as Machinery's Handbook prints it: BAg-2a, 3 and 27 hold 20, 16 and 13 % of cadmium;
# a CAD vendor's table of it: BAg-1 24 %, BAg-2 18 %. The others from memory.
@pytest.mark.parametrize(
    "word",
    ["Ag 351", "BAg-1", "BAg-1a", "BAg-2", "BAg-2a", "BAg-3", "BAg-27", "AG 304", "Ag 340",
     "L-Ag40Cd", "AG1"],
)  # fmt: skip
def test_fillers_with_cadmium_are_refused_by_their_standard_names(word: str) -> None:
    assert "its fume kills" in dict(look(word)[0].rows)["refused"]


@pytest.mark.parametrize("word", ["BAg-5", "BAg-7", "BAg-24", "AG 999"])
def test_what_holds_none_is_not_refused(word: str) -> None:
    with pytest.raises(UnknownWordError):
        look(word)


@pytest.mark.parametrize(
    ("word", "caution"),
    [
        ("dilute sulphuric acid", "worse when hot"),
        ("citric acid", "goggles"),
        ("FH10", "holds fluorides"),
        ("FH21", "no fluorides"),
        ("Ag 155", "zinc fumes"),
        ("brass", "holds lead"),
        ("gunmetal", "holds lead"),
        ("11SMnPb30", "holds lead"),
        ("acetal", "formaldehyde"),
        ("speeds in mild steel", "cutting oils"),
    ],
)
def test_cautions_stand_where_the_figures_stand(word: str, caution: str) -> None:
    assert any(caution in dict(each.rows).get("caution", "") for each in look(word))


def test_7075_shows_its_own_figures() -> None:
    """Density 2.81, 572 MPa in T6, solidus 477 °C: data sheets of the alloy; bars hold 540."""
    found = look("7075")[0]
    rows = dict(found.rows)
    assert found.title == "high-strength aluminium (7075 T6)"
    assert rows["density"] == "2.81 g/cm³"
    assert rows["begins to melt"] == "about 477 °C"
    assert look("EN AW-7075 T6")[0].title == found.title
    assert "2014A" in look("EN AW-2014")[0].title
