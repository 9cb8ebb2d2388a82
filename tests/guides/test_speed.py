"""A hundred thousand assemblies of a box in its horns, in less than ten seconds of one core."""

from __future__ import annotations

from time import process_time

from barstock.mechanism.guides.chance import by_chance, throw
from barstock.mechanism.guides.envelope import MOTIONS
from barstock.mechanism.guides.faces import faces
from barstock.mechanism.guides.sizes import variants

from .conftest import HORNS, Written


def test_a_hundred_thousand_assemblies(written: Written) -> None:
    build = written(HORNS)
    assert build.mechanism
    found = faces(build.mechanism.guides[0], variants(build))
    thrown = throw(found, samples=100_000)
    start = process_time()
    spread, amounts = by_chance(found, MOTIONS["pitch"], thrown, 1.5)
    assert process_time() - start < 10
    assert len(amounts) == 100_000
    assert spread.low < spread.mean < spread.high
