"""Every machine is one file, and what is made at it is what the proof can cut."""

from __future__ import annotations

import ast
from pathlib import Path
from typing import get_args

import pytest

import barstock
from barstock.machines import MACHINES, machine_type
from barstock.proving.sweeps import SWEEPS
from barstock.route import Move
from barstock.workshop.shop import Holder, MachineKind, ShopTimes, ToolKind

SOURCE = Path(barstock.__file__).parent
KINDS = {move.model_fields["kind"].default for move in get_args(Move)}


def test_every_kind_of_machine_has_its_file() -> None:
    assert set(MACHINES) == set(MachineKind)


def test_every_kind_of_move_is_made_somewhere_and_cut_by_the_proof() -> None:
    assert set().union(*(machine.moves for machine in MACHINES.values())) == KINDS
    assert set(SWEEPS) == set(get_args(Move))


@pytest.mark.parametrize(
    ("holder", "tool", "minutes"),
    [
        (Holder.COLLET, ToolKind.END_MILL, 1.5 + 0.6),
        (Holder.CHUCK, ToolKind.DRILL, 0.8 + 0.6),
        (Holder.ARBOR, ToolKind.SLITTING_SAW, 4.0 + 0.6),
        (Holder.HAND, ToolKind.TAP, 0.8 + 3.0 + 0.6),  # the head goes up for it
    ],
)
def test_a_tool_is_changed_by_what_holds_it(holder: Holder, tool: ToolKind, minutes: float) -> None:
    """The usual figures: collet 1.5, chuck 0.8, arbor 4, head 3, touching off 0.6 minutes."""
    for kind in (MachineKind.MILL, MachineKind.DRILL_PRESS):
        assert machine_type(kind).changing(holder, tool, ShopTimes()) == pytest.approx(minutes)
    assert machine_type(MachineKind.BENCH).changing(holder, tool, ShopTimes()) == 0.0


def test_a_cut_takes_as_long_as_it_is_fed_and_filing_as_much_as_is_filed() -> None:
    """300 mm at 100 mm/min, approached twice at 0.25 minutes; 300 mm filed at 8 minutes a 100."""
    mill, bench = machine_type(MachineKind.MILL), machine_type(MachineKind.BENCH)
    assert mill.minutes(300.0, 2, 100.0, ShopTimes()) == pytest.approx(3.0 + 0.5)
    assert bench.minutes(300.0, 2, 100.0, ShopTimes()) == pytest.approx(24.0)
    assert bench.minutes(1.0, 1, 100.0, ShopTimes()) == 1.0  # nothing is done at it in less


@pytest.mark.parametrize(
    "layer",
    [
        "bench",
        "fabricating",
        "pack",
        "planning",
        "proving",
        "stocking",
        "tolerancing",
        "web",
        "words",
    ],
)
def test_nobody_compares_machines_to_treat_one_apart(layer: str) -> None:
    found = []
    for path in sorted((SOURCE / layer).rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Compare):
                names = {name.id for name in ast.walk(node) if isinstance(name, ast.Name)}
                if "MachineKind" in names:
                    found.append(f"{path.relative_to(SOURCE)}:{node.lineno}")
    assert not found
