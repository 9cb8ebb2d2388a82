"""Proofs kept by content: found again when nothing changed, never when something did."""

import json

import pytest

from barstock.drawing.build import Face, Part, Place
from barstock.proving.kept_proofs import kept_proof, key_of, read_proof
from barstock.proving.prove import prove_part
from barstock.quantities import Dimension
from barstock.route.statements import Caution, CautionKind

SIZES = [Dimension(30.0), Dimension(20.0), Dimension(12.0)]
PART = Part("block", "brass", 2, *SIZES, (), Place("build.yaml", 3, 1))


def test_a_kept_proof_comes_back_whole(block, tmp_path):
    proof = prove_part(block.without("drill"))
    assert kept_proof(tmp_path, "key", lambda: proof) is proof
    again = read_proof(tmp_path, "key")
    assert again.violations == proof.violations
    assert again.features == proof.features
    assert [s.placement for s in again.stages] == [s.placement for s in proof.stages]
    for old, new in zip(proof.stages, again.stages, strict=True):
        assert new.solid.volume == pytest.approx(old.solid.volume)
        assert new.fresh.volume == pytest.approx(old.fresh.volume)
    assert again.finished.volume == pytest.approx(proof.finished.volume)


def test_a_proof_spoilt_on_disk_is_made_again(block, tmp_path):
    proof = prove_part(block)
    kept_proof(tmp_path, "key", lambda: proof)
    assert read_proof(tmp_path, "other") is None
    (tmp_path / "key" / "proof.json").write_text(json.dumps({"part": "block"}))
    assert read_proof(tmp_path, "key") is None
    assert kept_proof(tmp_path, "key", lambda: proof) is proof
    assert read_proof(tmp_path, "key") is not None


def test_the_key_changes_with_what_is_cut_and_not_with_words(block):
    from dataclasses import replace

    def key(part=PART, wall=1.0, shop=block):
        return key_of(part, wall, shop.bars, shop.setups)

    worded = block.with_setup("drill", cautions=(Caution(kind=CautionKind.SPINDLE),), left=1)
    assert key() == key(shop=worded)
    assert key() == key(replace(PART, place=Place("build.yaml", 9, 1)))
    others = [
        key(wall=0.8),
        key(replace(PART, copies=3)),
        key(replace(PART, as_bought=frozenset({Face.TOP}))),
        key(shop=block.without("spot")),
        key(shop=block.with_setup("drill", packing=24.0)),
    ]
    assert len({key(), *others}) == 6
