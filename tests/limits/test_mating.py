"""Fits as a build names them: sizes found, paint that eats the clearance, faults at their place."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from barstock.reading.faults import fault_line
from barstock.tolerancing.fits_of_build import Mated, fit_faults
from barstock.tolerancing.limit_notes import fit_notes
from barstock.words.limits_held import fit_lines, fit_records
from barstock.words.notes import note
from barstock.words.reader import Reader

from .conftest import Written

Fitted = Callable[..., dict[str, Mated]]


def test_a_stem_left_between_two_rebates(fitted: Fitted) -> None:
    # Slot 8.0 +0.05/0 less (bar 20 +0/-0.1 less 2 x 6.2 ±0.05) less 2 x (0.02 ±0.01) of paint:
    # 8.00 - (20.0 - 12.3) - 0.06 = 0.24 to 8.05 - (19.9 - 12.5) - 0.02 = 0.63.
    box = fitted("wagon")["box on its guide"]
    assert box.fit.clearance() == (pytest.approx(0.24), pytest.approx(0.63))
    assert box.bare == (pytest.approx(0.30), pytest.approx(0.65))
    assert box.holds


def test_a_ground_pin_in_a_reamed_bore(fitted: Fitted) -> None:
    # ISO 286-2: 4 H7 is 0 to +12, 4 h6 is -8 to 0 micrometres.
    pin = fitted("wagon")["spring pin in the rocker"]
    assert pin.fit.clearance() == (pytest.approx(0.0), pytest.approx(0.020))


def test_a_clearance_that_the_paint_eats(fitted: Fitted) -> None:
    coat = ("coat: {outside: 0.02 ±0.01}", "coat: {outside: 0.06 ±0.01}")
    box = fitted("wagon", coat)["box on its guide"]
    # 0.30 - 2 x 0.07 = 0.16, wanted 0.20.
    assert box.lacks == pytest.approx(0.04)
    assert box.eaten
    assert tuple(note(one, Reader()) for one in fit_notes([box])) == (
        "Fit not guaranteed: box on its guide lacks 0.040 mm; the paint eats it.",
    )
    assert "the coats eat it" in " ".join(fit_lines([box]))


def test_too_tight_without_paint_is_not_the_paints_fault(fitted: Fitted) -> None:
    change = ("least: 0.2, most: 0.65", "least: 0.4, most: 0.5")
    box = fitted("wagon", change)["box on its guide"]
    assert not box.holds
    assert not box.eaten
    assert box.over == pytest.approx(0.13)


def test_chance_keeps_within_what_limits_leave(fitted: Fitted) -> None:
    found = fitted("wagon")
    for mate in found.values():
        spread = mate.by_chance(samples=1_000_000)
        low, high = mate.fit.clearance()
        assert low < spread.low < spread.mean < spread.high < high


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("axlebox/guide slots/width", "axlebocks/guide slots/width",
         "a fit names 'axlebocks', no part of the build; did you mean 'axlebox'?"),
        ("axlebox/guide slots/width", "axlebox/guide slot/width",
         "a fit names 'guide slot', no feature of 'axlebox'; did you mean 'guide slots'?"),
        ("axlebox/guide slots/width", "axlebox/guide slots",
         "a fit names 'axlebox/guide slots', but none of its dimensions"),
        ("of: horn guide/width", "of: horn guide/widht",
         "a fit names 'widht', no feature of 'horn guide'; did you mean 'width'?"),
        ("least: 0.2, most: 0.65", "least: 0.7, most: 0.65",
         "the most clearance is less than the least; change them over"),
        ("{size: 4 h6}", "{size: 4 q6}", "'q6' is no symbol of ISO 286"),
        ("{size: 4 h6}", "{less: [rocker/length]}", "one of the two is not given"),
        ("{outside: 0.02 ±0.01}", "{outside: 0.02 ±0.03}", "limits wider than the size itself"),
    ],
)  # fmt: skip
def test_faults_are_told_where_they_stand(written: Written, old: str, new: str, told: str) -> None:
    build, _, faults = written("wagon", (old, new))
    assert build is None
    lines = [fault_line(f) for f in faults if f.grade == "error"]
    assert len(lines) == 1
    assert told in lines[0]
    place = faults[-1].place
    text = Path(place.file).read_text(encoding="utf-8").splitlines()[place.line - 1]
    assert place.column > 1
    assert new.split()[0].strip("{,:") in text or "most" in text


def test_an_unknown_dimension_is_told_with_the_nearest(written: Written) -> None:
    build, _, _ = written("wagon", ("rocker/pin holes/bore", "rocker/pin holes/boar"))
    assert build is not None
    faults = fit_faults(build)
    assert [f.what for f in faults] == ["a fit names 'boar', no dimension of 'rocker/pin holes'"]
    assert faults[0].mend == "did you mean 'bore'?"
    assert faults[0].place.line > 200


def test_records_are_plain(fitted: Fitted) -> None:
    listed = fit_records(list(fitted("wagon").values()))
    assert next(r["fit"] for r in listed) == "box on its guide"
    assert all(r["holds"] and 0.99 < r["share"] <= 1 for r in listed)
