"""Which springs will do, how they are wound, and which goes where."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from itertools import permutations
from math import pi

import pytest

from barstock.api import spring_choices as springs
from barstock.errors import WrongUseError
from barstock.handbook.spring_wire import SIZES
from barstock.mechanism.springs.compression_spring import Compression
from barstock.mechanism.springs.extension_spring import Extension
from barstock.mechanism.springs.spring_chart import chart
from barstock.mechanism.springs.spring_matching import TooFewError, matched
from barstock.mechanism.springs.spring_winding import Trial, UnwindableError, springback_of, winding
from barstock.mechanism.springs.spring_words import record, spring_lines

WANTED = {"load": "30 N", "rest deflection": "2.5", "travel": "2"}
POCKETS = ["6 x 10"]


def test_every_choice_carries_the_load_at_the_deflection_and_keeps_its_room() -> None:
    found = springs.spring(WANTED, POCKETS).choices.found
    assert found
    for choice in found:
        coil = choice.spring
        assert isinstance(coil, Compression)
        assert coil.rate == pytest.approx(12)  # 30 N over 2.5 mm
        assert coil.free - coil.length_at(30) == pytest.approx(2.5)
        bump = coil.free - 4.5
        assert bump >= coil.least - 1e-9  # solid, and the standard's gaps
        assert bump > 10  # stands proud of both hollows
        assert coil.swollen < 6
        assert coil.stress(coil.solid_load) <= 0.56 * choice.strength + 1e-6
        assert coil.wire in SIZES


def test_they_are_ranked_by_their_nearest_limit() -> None:
    uses = [max(0.7, one.use) for one in springs.spring(WANTED, POCKETS).choices.found]
    assert uses == sorted(uses)


def test_what_is_left_out_would_not_do() -> None:
    """Every wire sold and every half turn is judged again by hand, by the standard's formulas."""
    found = {(c.spring.wire, c.spring.turns) for c in springs.spring(WANTED, POCKETS).choices.found}
    for wire in (0.8, 0.9, 1.0, 1.1):
        for half in range(6, 41):
            active = half / 2
            mean = (81500 * wire**4 / (8 * 12 * active)) ** (1 / 3)
            solid = (active + 2) * wire
            gaps = active * (0.0015 * mean**2 / wire + 0.1 * wire)
            low = max(solid + gaps, 10.5) + 4.5
            free = -(-(low - 1e-9) // 0.5) * 0.5
            pitch = (free - wire) / active
            swell = 0.1 * (pitch**2 - 0.8 * pitch * wire - 0.2 * wire**2) / mean
            index = mean / wire
            from barstock.handbook.spring_grades import wire_grade

            strong = wire_grade("SH").strength(wire)
            full = 8 * mean * 54 / (pi * wire**3) * (index + 0.5) / (index - 0.75)
            good = (
                4 <= index <= 16
                and mean + wire + max(0, swell) <= 5.8
                and 8 * mean * 12 * (free - solid) / (pi * wire**3) <= 0.56 * strong
                and full <= 0.45 * strong
            )
            assert ((wire, active + 2) in found) == good, (wire, active)


def test_none_will_do_in_a_hole_too_small_and_it_is_said_why() -> None:
    one = springs.spring({**WANTED, "load": "90 N"}, ["4 x 10"])
    words = "\n".join(spring_lines(one))
    assert one.taken is None
    assert "none will do" in words
    assert "in its hollow" in words


def test_at_a_length_the_load_is_met_there() -> None:
    one = springs.spring({"load": "20 N", "rate": "4 N/mm", "at length": "20", "travel": "3"})
    assert one.taken is not None
    coil = one.taken.spring
    assert isinstance(coil, Compression)
    assert coil.load_at(20) == pytest.approx(20)


def test_an_extension_spring_opens_by_what_is_wanted() -> None:
    one = springs.spring({"kind": "extension", "load": "10 N", "rest deflection": "8"})
    assert one.taken is not None
    coil = one.taken.spring
    assert isinstance(coil, Extension)
    assert coil.length_at(10) - coil.free == pytest.approx(8)
    assert 0 < coil.initial < 10


def test_a_torsion_spring_clears_its_rod_when_wound_up() -> None:
    wanted = {"kind": "torsion", "moment": "100 N mm", "at angle": "40", "rod": "5", "travel": "20"}
    one = springs.spring(wanted)
    assert one.taken is not None
    turned = one.taken.spring.turns + 60 / 360
    inside = one.taken.spring.mean * one.taken.spring.turns / turned - one.taken.spring.wire
    assert inside >= 5.2


@pytest.mark.parametrize(
    ("given", "hollows", "words"),
    [
        ({"load": "heavy", "rest deflection": "2"}, [], "no force"),
        ({"load": "3 stone", "rest deflection": "2"}, [], "no unit of force"),
        ({"rest deflection": "2"}, [], "what load"),
        ({"load": "3 N"}, [], "how stiff"),
        ({"load": "3 N", "rate": "2", "rest deflection": "2"}, [], "both"),
        ({"load": "3 N", "rate": "2", "wire": "string"}, [], "no spring wire 'string'"),
        ({"load": "3 N", "rate": "2"}, ["wide"], "no hollow"),
        ({"kind": "torsion", "moment": "3 N mm"}, [], "its rod"),
    ],
)
def test_what_cannot_be_asked(given: dict[str, str], hollows: list[str], words: str) -> None:
    with pytest.raises(WrongUseError, match=words):
        springs.spring(given, hollows)


def test_a_trial_coil_corrects_the_mandrel() -> None:
    """Wound on the corrected mandrel, a wire of the trial's springback gives the coil wanted."""
    taken = springs.spring(WANTED, POCKETS).taken
    assert taken is not None
    coil = taken.spring
    trial = Trial(4.0, 7.2)
    how = winding(taken, trial)
    back = 2 / (4.0 + coil.wire) - 2 / (7.2 - coil.wire)
    opened = 2 / (2 / (how.mandrel + coil.wire) - back) + coil.wire
    assert opened == pytest.approx(coil.outside)
    assert springback_of(coil.wire, trial) == pytest.approx(back)


def test_a_trial_coil_corrects_the_length() -> None:
    """Five turns that came out a tenth longer than fed are fed a tenth less."""
    taken = springs.spring(WANTED, POCKETS).taken
    assert taken is not None
    wire = taken.spring.wire
    as_fed = winding(taken, Trial(4.0, 7.2, 2.0, 5 * 2.0 + wire))
    long = winding(taken, Trial(4.0, 7.2, 2.0, 5 * 2.2 + wire))
    assert as_fed.feed == winding(taken, Trial(4.0, 7.2)).feed
    assert long.feed == pytest.approx(as_fed.feed / 1.1)
    assert long.mandrel == as_fed.mandrel
    with pytest.raises(UnwindableError, match="length of the coil let go"):
        winding(taken, Trial(4.0, 7.2, 2.0, 40.0))


def test_the_sheet_asks_for_what_the_trial_option_takes() -> None:
    one = springs.spring(WANTED, POCKETS)
    assert one.taken is not None
    told = "\n".join(spring_lines(one))
    right = springs.trial(told.split("--trial ")[1].split()[0])
    how = winding(one.taken, right)
    assert how.feed == pytest.approx(winding(one.taken).feed, rel=5e-3)
    assert how.mandrel == pytest.approx(winding(one.taken).mandrel, abs=0.01)


def test_the_mandrel_is_smaller_by_plastic_bending() -> None:
    """A bar bent all plastic springs back by M/EI, with M = S d³/6 and I = π d⁴/64."""
    taken = springs.spring(WANTED, POCKETS).taken
    assert taken is not None
    coil = taken.spring
    back = (taken.strength * coil.wire**3 / 6) / (206000 * pi * coil.wire**4 / 64)
    assert winding(taken).springback == pytest.approx(back)
    assert winding(taken).mandrel < coil.mean - coil.wire


def test_wire_and_length_are_kept_as_the_coil_opens() -> None:
    taken = springs.spring(WANTED, POCKETS).taken
    assert taken is not None
    assert isinstance(taken.spring, Compression)
    how, coil = winding(taken), taken.spring
    shrinks = coil.mean / (how.mandrel + coil.wire)
    assert how.turns - 1.5 == pytest.approx(coil.turns * shrinks)
    assert how.feed * coil.active * shrinks == pytest.approx(coil.free - 2 * coil.wire)


def test_a_trial_coil_smaller_than_its_mandrel_is_refused() -> None:
    with pytest.raises(UnwindableError, match="mandrel's diameter first"):
        springback_of(1.0, Trial(6.0, 7.5))


def test_one_spring_each_goes_where_all_other_ways_are_worse() -> None:
    loads = [12.4, 11.1, 13.0, 12.2]
    wanted = {"a": 12.0, "b": 12.6, "c": 11.4, "d": 12.9}
    found = matched(loads, wanted)
    scale = sum(loads) / sum(wanted.values())
    best = min(
        sum((x / (w * scale) - 1) ** 2 for x, w in zip(order, wanted.values(), strict=True))
        for order in permutations(loads)
    )
    got = sum((found.loads[p] / (w * scale) - 1) ** 2 for p, w in wanted.items())
    assert got == pytest.approx(best)


def test_two_each_are_shared_so_that_the_worst_place_is_best() -> None:
    loads = [10.0, 10.4, 10.9, 11.1, 11.6, 12.3]
    found = matched(loads, {"a": 1.0, "b": 1.0, "c": 1.0}, 2)
    mean = sum(loads) / 3
    best = min(
        max(abs(order[i] + order[i + 1] - mean) / mean for i in (0, 2, 4))
        for order in permutations(loads)
    )
    assert found.spread == pytest.approx(best)
    assert sorted(n for ns in found.places.values() for n in ns) == [1, 2, 3, 4, 5, 6]


def test_too_few_springs() -> None:
    with pytest.raises(TooFewError, match="3 springs are measured, but 4 are wanted"):
        matched([1.0, 2.0, 3.0], dict.fromkeys("abcd", 1.0))


def test_the_chart_shows_every_choice_and_fills_the_one_taken() -> None:
    one = springs.spring(WANTED, POCKETS)
    root = ET.fromstring(chart(one))
    marks = [e for e in root.iter() if e.tag.endswith("circle") and len(e)]
    assert len(marks) == len(one.choices.found)
    assert [m.get("fill") for m in marks].count("#000") == 1


def test_the_record_holds_what_the_words_say() -> None:
    one = springs.spring(WANTED, POCKETS)
    data = record(one)
    assert data["taken"]["spring"]["rate"] == pytest.approx(12)
    assert data["winding"]["mandrel"] < data["taken"]["spring"]["outside"]
    assert "eye protection" in data["caution"]
    assert any("eye protection" in line for line in spring_lines(one))
