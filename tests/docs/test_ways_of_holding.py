"""A way of holding work is one file of the planner's and one of the proof's: no other knows it."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from barstock.machines import MACHINES
from barstock.planning.holding import ways as planned
from barstock.proving import holding as proven
from barstock.route import BodyKind
from barstock.workshop.holding_kits import KITS
from barstock.workshop.shop import MachineKind

from .test_layers import MODULES, SOURCE, imported

FOLDERS = ("planning/holding", "proving/holding", "words/holding")
SHARED = {"vise", *BodyKind, *MachineKind, *(kit.written for kit in KITS)}
"""What a machine, a body or what the shop owns is called as well."""


def is_way(module: Path) -> bool:
    """Does a module of a way's folder end in one?"""
    tree = ast.parse(module.read_text(encoding="utf-8"))
    return any(
        isinstance(node, ast.Assign) and any(ast.unparse(t) == "WAY" for t in node.targets)
        for node in tree.body
    )


FILES = {
    folder: {path.stem for path in (SOURCE / folder).glob("*.py") if is_way(path)}
    for folder in FOLDERS[:2]
}
OTHERS = [
    path for path in MODULES if not any(path.is_relative_to(SOURCE / folder) for folder in FOLDERS)
]


def test_plan_and_proof_know_the_same_ways() -> None:
    assert set(planned.WAYS) == set(proven.WAYS)
    assert [len(FILES[folder]) for folder in FILES] == [len(planned.WAYS)] * 2


def test_work_is_held_at_every_machine_that_makes_moves_and_the_same_in_plan_and_proof() -> None:
    for machine in MACHINES.values():
        plan = {name for name, way in planned.WAYS.items() if way.machine is machine.kind}
        proof = {name for name, way in proven.WAYS.items() if machine.kind in way.machines}
        assert plan == proof
        assert bool(plan) == bool(machine.moves)


@pytest.mark.parametrize("path", OTHERS, ids=lambda path: str(path.relative_to(SOURCE)))
def test_no_other_file_knows_a_way(path: Path) -> None:
    for line, name in imported(path):
        pieces = name.split(".")
        for folder, files in FILES.items():
            if pieces[1:3] == folder.split("/"):
                assert not files & set(pieces[3:4]), f"{path.name}:{line}: imports {name}"
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            assert node.value not in set(planned.WAYS) - SHARED, f"{path.name}:{node.lineno}"
