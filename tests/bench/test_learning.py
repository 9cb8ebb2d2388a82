"""The shop's time figures corrected by what was clocked."""

from __future__ import annotations

from math import exp, log
from pathlib import Path

import pytest

from barstock.bench.entry import Entry, Kind
from barstock.bench.learning import learn
from barstock.bench.shop_times import with_times, write_times
from barstock.bench.timing import SAWING, SETTING_UP
from barstock.errors import WrongUseError
from barstock.workshop.shop import ShopTimes
from barstock.workshop.shop_reading import read_workshop


def clocked(figure: str, spent: float, planned: float | None) -> Entry:
    return Entry(kind=Kind.STOP, figure=figure, minutes=spent, planned=planned)


def test_the_middle_ratio_counts_drawn_towards_one() -> None:
    """Three timings at 1.5 times the plan: 1.5 to the power 3 / (3 + 3)."""
    (one,) = learn([clocked(SETTING_UP, 24, 16)] * 3, ShopTimes())
    assert one.ratio == pytest.approx(exp(log(1.5) / 2))
    assert one.figures["set up"] == (12.0, round(12 * one.ratio, 2))
    assert set(one.figures) == {"set up", "tilt", "find zero"}
    assert (one.count, one.spent, one.planned) == (3, 72, 48)


def test_a_day_with_a_visitor_in_it_does_not_count() -> None:
    usual = [clocked(SETTING_UP, 16, 16)] * 4
    (with_visitor,) = learn([*usual, clocked(SETTING_UP, 70, 16)], ShopTimes())
    assert with_visitor.ratio == pytest.approx(1.0)


def test_many_timings_settle_on_what_they_say() -> None:
    (one,) = learn([clocked(SAWING, 30, 15)] * 200, ShopTimes())
    assert one.ratio == pytest.approx(2.0, rel=0.02)
    assert one.figures["saw each"][1] == pytest.approx(6.0, rel=0.02)


@pytest.mark.parametrize("spent,planned", [(5, None), (0, 10), (200, 10), (1, 10), (0.4, 0.5)])  # noqa: PT006
def test_what_teaches_nothing(spent: float, planned: float | None) -> None:
    assert learn([clocked(SETTING_UP, spent, planned)], ShopTimes()) == []


SHOP = Path(__file__).with_name("small") / "workshop.yaml"


def test_only_the_figures_change_in_the_workshop_s_file(tmp_path: Path) -> None:
    path = tmp_path / "workshop.yaml"
    path.write_text(SHOP.read_text())
    shop, _ = read_workshop(path)
    assert shop is not None
    lessons = learn([clocked(SETTING_UP, 20, 16)] * 3, shop.times)
    write_times(path, lessons)
    before, after = SHOP.read_text().splitlines(), path.read_text().splitlines()
    wanted = {name: new for one in lessons for name, (_, new) in one.figures.items()}
    assert [line for line in after if line not in before] == [
        f"  {name}: {value:g}" for name, value in wanted.items()
    ]
    assert [line for line in before if line not in after] == ["  set up: 12"]
    learnt, faults = read_workshop(path)
    assert not faults
    assert learnt is not None
    assert learnt.times.set_up == wanted["set up"]
    assert learnt.times.tilt == wanted["tilt"]


@pytest.mark.parametrize(
    ("text", "then"),
    [
        ("workshop: shed\n", "workshop: shed\ntimes:\n  load: 2\n"),
        ("times:\r\n  load: 1 # a\r\n", "times:\r\n  load: 2 # a\r\n"),
        ("workshop: shed\r\n", "workshop: shed\r\ntimes:\r\n  load: 2\r\n"),
        ("workshop: shed\ntimes: {}\n", "workshop: shed\ntimes:\n  load: 2\n"),
        ("times: {load: 1.2, tilt: 3} # mine\n", "times: {load: 2, tilt: 3} # mine\n"),
        ("times: {tilt: 3}\n", "times: {tilt: 3, load: 2}\n"),
        ("times:\n    tilt: 3 # slow", "times:\n    tilt: 3 # slow\n    load: 2"),
        ("times:\n  load: 1\n\nunit: mm\n", "times:\n  load: 2\n\nunit: mm\n"),
    ],
)
def test_figures_are_put_where_they_stand(text: str, then: str) -> None:
    assert with_times(text, {"load": 2.0}) == then


def test_line_ends_and_who_may_read_the_file_stay(tmp_path: Path) -> None:
    path = tmp_path / "workshop.yaml"
    path.write_bytes(SHOP.read_bytes().replace(b"\n", b"\r\n"))
    path.chmod(0o640)
    lessons = learn([clocked(SETTING_UP, 20, 16)] * 3, ShopTimes())
    write_times(path, lessons)
    after = path.read_bytes()
    assert after.count(b"\n") == after.count(b"\r\n") == SHOP.read_bytes().count(b"\n") + 2
    assert path.stat().st_mode & 0o777 == 0o640


def test_a_file_the_figures_cannot_be_put_into_stays_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "workshop.yaml"
    path.write_text("times: &mine {load: 1}\nmore: *mine\n")
    with pytest.raises(WrongUseError, match="by hand"):
        write_times(path, learn([clocked(SETTING_UP, 20, 16)] * 3, ShopTimes()))
    assert path.read_text() == "times: &mine {load: 1}\nmore: *mine\n"
