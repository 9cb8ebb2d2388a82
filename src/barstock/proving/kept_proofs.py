"""Proofs of parts kept by the content they rest on."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path

from barstock.drawing.build import Part
from barstock.drawing.content import plain, program
from barstock.proving.machining import WORDS
from barstock.proving.proof_record import PartProof, Stage, Violation
from barstock.route import BarPiece, Setup
from barstock.solids.brep_files import load, save
from barstock.solids.shapes import Placement

ROAD = ("methods", "solids", "proving")  # packages whose words a proof rests on


def key_of(part: Part, least_wall: float, bars: Sequence[BarPiece], setups: Sequence[Setup]) -> str:
    """A digest of all that a part's proof rests on, and of nothing else."""
    content = [
        program(*ROAD),
        least_wall,
        plain(part),
        [bar.model_dump(mode="json") for bar in bars],
        [setup.model_dump(mode="json", exclude=WORDS) for setup in setups],
    ]
    return hashlib.sha256(json.dumps(content, sort_keys=True).encode()).hexdigest()[:32]


def write_proof(folder: Path, key: str, proof: PartProof) -> None:
    """Keep a proof; a half-written one is never found."""
    place = folder / key
    place.mkdir(parents=True, exist_ok=True)
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
    draft = place / f".proof.{os.getpid()}"
    draft.write_text(json.dumps(content))
    os.replace(draft, place / "proof.json")


def _sum(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def _placement(rotation: list[list[float]], shift: list[float]) -> Placement:
    a, b, c, d = ((x, y, z) for x, y, z in (*rotation, shift))
    return Placement((a, b, c), d)


def read_proof(folder: Path, key: str) -> PartProof | None:
    """The proof kept under `key`; None if there is none, or if it cannot be read whole."""
    place = folder / key
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
