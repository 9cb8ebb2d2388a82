"""Cuts that meet, touch or lie flush are planned and proven, one of each sort."""

import importlib.util
import sys
from pathlib import Path

import pytest

SCRIPT = Path(__file__).parents[2] / "benchmarks" / "meeting_cuts.py"
SPEC = importlib.util.spec_from_file_location("meeting_cuts", SCRIPT)
assert SPEC
assert SPEC.loader
meeting_cuts = importlib.util.module_from_spec(SPEC)
sys.modules[SPEC.name] = meeting_cuts
SPEC.loader.exec_module(meeting_cuts)


@pytest.mark.parametrize(
    ("sort", "number"),
    [
        ("tangent_end", 1),
        ("end_on_axis", 2),
        ("crossing", 2),
        ("tangent_sides", 25),
        ("flush_ends", 4),
        ("coaxial", 24),
        ("slot_on_face", 5),
        ("pocket_of_cutter", 6),
        ("bolt_circle", 7),
        ("hole_in_wall", 8),
    ],
)
def test_one_of_each_sort_is_proven(sort, number):
    meeting, fate, words = meeting_cuts.sound(1, number, sort)
    assert meeting.sort == sort
    assert (fate, words) == ("proven", "")


@pytest.mark.parametrize(("seed", "number"), [(2, 71), (2, 83), (2, 104), (7, 234), (7, 7)])
def test_what_once_failed_is_proven(seed, number):
    """A film between step and slot, the same against a jaw, a phantom in a port's hollow, and a
    squared end held to the limits of a reamed hole.
    """
    assert meeting_cuts.sound(seed, number)[1:] == ("proven", "")


def test_the_same_number_draws_the_same_again():
    drawn = [meeting_cuts.Draughtsman(5, 3).draw() for _ in range(2)]
    assert drawn[0] == drawn[1]
    assert meeting_cuts.Draughtsman(5, 4).draw() != drawn[0]
