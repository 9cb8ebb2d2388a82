"""Keeps the proofs of parts by the content they rest on."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Callable, Sequence
from dataclasses import asdict
from functools import partial
from pathlib import Path

from barstock.drawing.build import Part
from barstock.proving.machining import WORDS
from barstock.proving.proof_record import PartProof, Stage, Violation
from barstock.route import BarPiece, Setup
from barstock.solids.brep_files import load, save
from barstock.solids.shapes import Placement
from barstock.store.content import key
from barstock.store.kept_folders import Kept

PROOFS = "proofs"
"""The folder of the kept work that proofs are in."""


def key_of(part: Part, least_wall: float, bars: Sequence[BarPiece], setups: Sequence[Setup]) -> str:
    """The key a part's proof is kept by, made from all that it rests on."""
    return key(
        least_wall,
        part,
        [bar.model_dump(mode="json") for bar in bars],
        [setup.model_dump(mode="json", exclude=WORDS) for setup in setups],
    )


def kept_proof(cache: Path, name: str, prove: Callable[[], PartProof]) -> PartProof:
    """The proof kept under `name`, made now where there is none or where it is spoilt."""
    known = read_proof(cache, name)
    if known is not None:
        return known
    proof = prove()
    kept = Kept(cache, name, partial(_write, proof))
    kept.discard()
    kept.fetch()
    return proof


def _write(proof: PartProof, place: Path) -> None:
    solids = {"finished": proof.finished} if proof.finished is not None else {}
    for n, stage in enumerate(proof.stages):
        solids |= {f"{n}.solid": stage.solid, f"{n}.fresh": stage.fresh}
    for name, solid in solids.items():
        save(place / name, solid)
    content = {
        "part": proof.part,
        "deviation": proof.deviation,
        "left": proof.left,
        "gouged": proof.gouged,
        "features": proof.features,
        "violations": [asdict(v) for v in proof.violations],
        "stages": [
            {
                "setup": s.setup,
                "placement": [s.placement.rotation, s.placement.shift],
                "opening": s.opening,
            }
            for s in proof.stages
        ],
        "solids": {name: _sum(place / name) for name in solids},
    }
    (place / "proof.json").write_text(json.dumps(content), encoding="utf-8")


def _sum(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def _placement(rotation: list[list[float]], shift: list[float]) -> Placement:
    a, b, c, d = ((x, y, z) for x, y, z in (*rotation, shift))
    return Placement((a, b, c), d)


def read_proof(cache: Path, name: str) -> PartProof | None:
    """The proof kept under `name`; None if there is none, or if it cannot be read whole."""
    place = cache / name
    try:
        content = json.loads((place / "proof.json").read_text())
        if any(_sum(place / name) != was for name, was in content["solids"].items()):
            return None
        os.utime(place)  # it was used today
        stages = [
            Stage(
                content["part"],
                s["setup"],
                load(place / f"{n}.solid"),
                load(place / f"{n}.fresh"),
                _placement(*s["placement"]),
                s["opening"],
            )
            for n, s in enumerate(content["stages"])
        ]
        faults = [
            Violation(**{**v, "where": v["where"] and tuple(v["where"])})
            for v in content["violations"]
        ]
        return PartProof(
            content["part"],
            content["deviation"],
            content["left"],
            content["gouged"],
            content["features"],
            tuple(faults),
            tuple(stages),
            load(place / "finished") if "finished" in content["solids"] else None,
        )
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return None
