"""Spoilt routes are refused; what is not refused makes the very same part."""

import pytest

from barstock.proving.mutation import mutants, survey


def test_every_kind_of_mistake_is_tried(block):
    kinds = {mutant.kind for mutant in mutants(block)}
    assert kinds == {
        "drop",
        "flip a sign",
        "swap ends",
        "radius added",
        "depth",
        "neighbouring cutter",
    }
    assert all(mutant.job.setups != block.setups for mutant in mutants(block))


def test_a_sample_of_spoilt_routes_is_refused(block):
    verdicts = survey(block, every=5)
    assert len(verdicts) >= 10
    assert [
        v for v in verdicts if not v.refused and "the finished part is the same" not in v.harmless
    ] == []
    assert sum(v.refused for v in verdicts) > len(verdicts) / 2


def test_a_refused_route_is_not_worth_spoiling(block):
    with pytest.raises(ValueError, match="refused as it stands"):
        survey(block.without("drill"))
