"""Growth to soldering heat, against handbook arithmetic, a standard and a published example."""

from __future__ import annotations

from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barstock.fabricating.growth import (
    Hold,
    Side,
    gap_change,
    holds_too_tight,
    hole_growths,
    pitch_after,
    radial_change,
    spigot_change,
)
from barstock.fabricating.joining_findings import Mistake
from barstock.handbook.heat import NoFigureError, elongation, heat_taken, mean_expansion
from barstock.handbook.materials import UnknownMaterialError


@pytest.mark.parametrize(
    ("name", "to", "mean", "within"),
    [
        # EN 1993-1-2:2005 clause 3.4.1.1 at 600 C: 1.2e-5 x 600 + 0.4e-8 x 600^2 - 2.416e-4
        # = 0.0083984, over 580 K
        ("mild steel", 600, 14.480, 0.001),
        # the Metals Handbook's mean for plain carbon steel, 20 to 700 C: 14.8 (from memory)
        ("mild steel", 700, 14.8, 0.3),
        # a published chart of wrought copper alloys, 20 to 300 C
        ("brass", 300, 20.5, 0.01),
        ("soft brass", 300, 19.9, 0.01),
        ("aluminium bronze", 300, 16.8, 0.01),
        # the same chart, 20 to 100 C
        ("copper", 100, 16.8, 0.3),
        # another published chart, copper alloy of 60 % copper, 20 to 600 C: 20.8
        ("brass", 600, 20.8, 1.1),
        # copper from 20 to 650 C: 18.6 (from memory, reference material SRM 736)
        ("copper", 650, 18.6, 0.4),
        # 1.4301 from 20 to 500 C: 18.0 (EN 10088-1 table E.1, from memory)
        ("stainless steel", 500, 18.0, 0.6),
    ],
)
def test_mean_coefficients(name: str, to: float, mean: float, within: float) -> None:
    assert mean_expansion(name, to) == pytest.approx(mean, abs=within)


def test_what_a_gram_takes_to_warm() -> None:
    # copper: 0.385 J/gK at 27 C and 0.427 at 627 C (from memory): about 0.406 between
    assert heat_taken("copper", 627) == pytest.approx(0.406 * 607, rel=0.02)
    # EN 1993-1-2 clause 3.4.1.2 at 20 C: 425 + 0.773 x 20 - ... = 439.8 J/kgK
    assert heat_taken("mild steel", 21) == pytest.approx(0.4398, rel=0.002)


def test_no_growth_is_made_up() -> None:
    with pytest.raises(NoFigureError, match="aluminium"):
        elongation("aluminium", 650)  # begins to melt at 575
    with pytest.raises(NoFigureError, match="20 °C"):
        elongation("brass", 20)
    with pytest.raises(UnknownMaterialError):
        elongation("cheese", 650)


def test_a_published_example_of_a_sleeve() -> None:
    """Titanium tube of 5.860 in bore over a steel sleeve of 5.810 in, warmed by 925 K: 10.21 and
    18.59 millionths; the bore becomes 5.915, the sleeve 5.910 in, a gap of 0.005 in across."""
    cold = (5.860 - 5.810) / 2
    bore = radial_change(5.860, 10.21e-6 * 925, 0.0)
    sleeve = radial_change(5.810, 0.0, 18.59e-6 * 925)
    assert 2 * (cold + bore + sleeve) == pytest.approx(0.005, abs=0.0006)
    assert 5.860 + 2 * bore == pytest.approx(5.915, abs=0.0005)


def test_a_brass_spigot_closes_in_a_steel_bore() -> None:
    # 20 mm, brass over steel by 1.365 % less 0.925 % at 650 C, on the radius
    both = elongation("mild steel", 650) - elongation("brass", 650)
    assert spigot_change(20, "mild steel", "brass", 650) == pytest.approx(10 * both)
    assert -0.055 < spigot_change(20, "mild steel", "brass", 650) < -0.035
    assert spigot_change(20, "brass", "mild steel", 650) > 0


def test_like_metals_as_hot_keep_their_gap() -> None:
    low, high = Side("a", 10, 30), Side("b", 50, 30)
    same = {"a": "mild steel", "b": "mild steel"}
    least, most = gap_change(low, high, same, "mild steel", 650, lag=0)
    assert least == most == pytest.approx(0, abs=1e-12)
    # a fixture 150 K behind holds the pieces closer: the gap closes by its missing growth over 40
    least, most = gap_change(low, high, same, "mild steel", 650)
    missing = 40 * (elongation("mild steel", 650) - elongation("mild steel", 500))
    assert least == pytest.approx(-missing)
    assert most == pytest.approx(0, abs=1e-12)


@given(st.floats(-200, 200), st.floats(0, 80), st.floats(0, 80))
def test_a_gap_does_not_care_where_the_datum_is(moved: float, a: float, b: float) -> None:
    mats = {"a": "brass", "b": "mild steel"}
    here = gap_change(Side("a", 0, a), Side("b", a + b, a), mats, "mild steel", 650)
    there = gap_change(
        Side("a", moved, a + moved), Side("b", a + b + moved, a + moved), mats, "mild steel", 650
    )
    assert here == pytest.approx(there, abs=1e-9)


def leg(hole: float) -> tuple[Hold, ...]:
    """A leg held by a close screw at one end and another 60 mm away."""
    return (
        Hold("near", "leg", (10, 10), 3.2, 3.0, locates=True),
        Hold("far", "leg", (70, 10), hole, 3.0),
    )


def test_a_tight_far_hole_on_a_fixture_that_grows_less_is_named() -> None:
    growths = hole_growths(leg(3.2), {"leg": "brass"}, "mild steel", 680)
    near, far = growths
    assert near.shift == (0, 0)
    assert near.spare > 0
    # brass 22 and steel 15 millionths: at 680 C the two are some 0.3 mm apart over 60 mm if as hot,
    # more with the fixture behind
    assert 0.28 < far.shift[0] < 0.55
    (found,) = holds_too_tight(growths)
    assert found.mistake is Mistake.FIXTURE
    assert found.about == "far"
    assert "open the hole to" in found.mend
    wide = float(found.mend.split()[4])
    assert wide == pytest.approx(3 + 2 * (hypot(*far.shift) + 0.05), abs=0.1)
    again = hole_growths(leg(wide), {"leg": "brass"}, "mild steel", 680)
    assert holds_too_tight(again) == ()


def test_a_fixture_of_the_same_metal_needs_room_only_while_it_lags() -> None:
    _, as_hot = hole_growths(leg(3.2), {"leg": "brass"}, "brass", 680, lag=0)
    assert as_hot.shift == (0, 0)
    _, behind = hole_growths(leg(3.2), {"leg": "brass"}, "brass", 680)
    assert behind.shift[0] == pytest.approx(
        60 * (elongation("brass", 680) - elongation("brass", 530))
    )


def test_which_way_a_pitch_goes() -> None:
    brass = pitch_after((("brass", 80.0),), "mild steel", 630)
    # steel is 0.894 % longer at 630 C, brass shrinks by 1.33 %: 80 x 1.00894 / 1.0133
    assert brass.after == pytest.approx(80 * 1.00894 / 1.0133, abs=0.03)
    assert brass.change < 0
    steel = pitch_after((("mild steel", 80.0),), "brass", 630)
    assert steel.change > 0
    alike = pitch_after((("mild steel", 30.0), ("mild steel", 50.0)), "mild steel", 630)
    assert alike.change == pytest.approx(0.0, abs=1e-9)
    again = pitch_after((("brass", brass.set_cold),), "mild steel", 630)
    assert again.after == pytest.approx(80.0, abs=1e-9)
