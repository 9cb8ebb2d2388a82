"""Builds drawn by chance as strangers type them, each planned by the command."""

import importlib.util
import sys
from pathlib import Path

import pytest

BENCHMARKS = Path(__file__).parents[2] / "benchmarks"
SPEC = importlib.util.spec_from_file_location("random_builds", BENCHMARKS / "random_builds.py")
assert SPEC
assert SPEC.loader
script = importlib.util.module_from_spec(SPEC)
sys.modules[SPEC.name] = script
sys.path.insert(0, str(BENCHMARKS))
SPEC.loader.exec_module(script)
sys.path.remove(str(BENCHMARKS))


def test_the_same_number_draws_the_same_again():
    first, second = (script.Draughtsman(3, 6).draw(script.faultless) for _ in range(2))
    assert first == second
    assert first != script.Draughtsman(3, 7).draw(script.faultless)


@pytest.mark.parametrize("number", [5, 6])
def test_a_build_drawn_by_chance_is_planned_and_proven(number):
    drawn = script.Draughtsman(3, number).draw(script.faultless)
    verdict = script.judge(drawn, 600.0)
    assert verdict.fate == "planned and proven", f"{verdict.words}\n{drawn.build}"
