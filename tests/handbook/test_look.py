"""One word in, every table's answer out, each with its source."""

import pytest

from barstock.handbook.look import EXAMPLES, UnknownWordError, look, printed
from barstock.quantities import Unit


@pytest.mark.parametrize("word", EXAMPLES)
@pytest.mark.parametrize("unit", list(Unit))
def test_everything_found_names_its_source(word: str, unit: Unit) -> None:
    for found in look(word, unit):
        assert found.rows
        assert found.source
        assert found.source in printed([found])


@pytest.mark.parametrize(
    ("word", "title", "row"),
    [
        ("m3", "thread M3", ("pitch", "0.5 mm (50.8 tpi)")),  # ISO 262
        ("8 H7", "limits of 8 mm H7", ("high limit", "8.015 mm")),  # ISO 286-2
        ("8 js6", "limits of 8 mm js6", ("low limit", "7.9955 mm")),  # ISO 286-2: IT6 is 9 µm
        ("8 js6", "limits of 8 mm js6", ("high limit", "8.0045 mm")),
        ("8 js6", "limits of 8 mm js6", ("deviations", "+0.0045 mm / -0.0045 mm")),
        ("10 H7/g6", "fit 10 mm H7/g6", ("least clearance", "+0.005 mm")),  # ISO 286-2
        ("No 43", "drill No 43", ("size", "2.261 mm, 0.0890 in")),  # ASME B94.11M
        ("18 SWG", "wire 18 SWG", ("diameter", "1.219 mm, 0.0480 in")),  # BS 3737
        ("Ag 155", "brazing alloy Ag 155", ("melts", "630 to 660 °C")),  # ISO 17672
        ("SH wire", "spring wire SH", ("shear modulus", "81.5 GPa")),  # EN 10270-1
        ("stainless", "spring wire 1.4310", ("shear modulus", "73 GPa")),  # EN 10270-3
        ("drills", "number drills", ("No 43", "2.261 mm")),  # ASME B94.11M
        ("brazing", "brazing alloys", ("Ag 145", "640 to 680 °C; general work")),  # ISO 17672
        ("ISO 2768-m", "ISO 2768-m", ("length up to 30 mm", "±0.2 mm")),  # ISO 2768-1
    ],
)
def test_words_lead_to_their_table(word: str, title: str, row: tuple[str, str]) -> None:
    found = [each for each in look(word) if each.title.startswith(title)]
    assert found
    assert row in found[0].rows


def test_the_users_unit_is_kept() -> None:
    assert ("major diameter", "0.1181 in") in look("M3", Unit.INCH)[0].rows  # 3 / 25.4


@pytest.mark.parametrize("word", ["", "   ", "zzzz", "M3.3", "bras", "8 H99", "gauge 113"])
def test_unknown_words_say_what_to_try(word: str) -> None:
    with pytest.raises(UnknownWordError, match=r"did you mean|try M3"):
        look(word)


def test_a_whole_series_is_listed() -> None:
    (ba,) = look("BA")
    assert [name for name, _ in ba.rows][:3] == ["0 BA", "1 BA", "2 BA"]
    assert dict(ba.rows)["6 BA"].startswith("2.8 mm, pitch 0.53 mm")  # BS 93
    assert len(look("unified")) == 3
