"""benchmarks/sequencing.py: reading cases, its output, and its errors."""

from __future__ import annotations

import importlib.util
import json
from pathlib import Path

import pytest

SCRIPT = Path(__file__).parents[2] / "benchmarks" / "sequencing.py"
SPEC = importlib.util.spec_from_file_location("sequencing_benchmark", SCRIPT)
script = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(script)


def way(machine, tool, direction, cost):
    return {"machine": machine, "tool": tool, "direction": direction, "cost": cost}


def plate():
    """A plate faced, drilled and tapped; the hole is either drilled or bored.

    By hand: face on the mill (10), then drill there (6 + tool 20) or bore there (9, same tool),
    then tap: on the mill from the other side (4 + tool 20 + setup 90 = 114) or on the drill press
    (2 + machine 50 + tool 20 + setup 90 = 162). So face, bore, tap on the mill: 10 + 9 + 114 = 133.
    """
    return {
        "case": "plate",
        "objective": "cost",
        "operations": {
            "face": {"after": [], "choices": [way("mill", "cutter", "+z", 10)]},
            "drill": {"after": ["face"], "choices": [way("mill", "drill", "+z", 6)]},
            "bore": {"after": ["face"], "choices": [way("mill", "cutter", "+z", 9)]},
            "tap": {
                "after": ["drill", "bore"],
                "choices": [way("mill", "tap", "-z", 4), way("press", "tap", "+z", 2)],
            },
        },
        "choose_one": [["drill", "bore"]],
        "changeover": {
            "machine": {"mill": {"press": 50}, "press": {"mill": 70}},
            "tool": 20,
            "setup": 90,
        },
    }


@pytest.fixture
def run(tmp_path, capsys):
    def go(case, *options, name="plate.json"):
        path = tmp_path / name
        path.write_text(case if isinstance(case, str) else json.dumps(case))
        code = script.main([str(path), *options])
        return (code, *capsys.readouterr(), path)

    return go


def test_json_gives_the_plan_in_order(run):
    code, out, _, _ = run(plate(), "--json", "--limit", "5")
    (row,) = json.loads(out)
    assert code == 0
    assert list(row) == ["case", "cost", "bound", "gap", "seconds", "plan"]
    assert (row["case"], row["cost"], row["bound"], row["gap"]) == ("plate", 133, 133, 0)
    assert row["plan"] == [
        {"operation": "face", "machine": "mill", "tool": "cutter", "direction": "+z"},
        {"operation": "bore", "machine": "mill", "tool": "cutter", "direction": "+z"},
        {"operation": "tap", "machine": "mill", "tool": "tap", "direction": "-z"},
    ]


def test_a_machine_change_pays_tool_and_setup_too(run):
    case = plate()
    case["operations"]["tap"]["choices"] = [way("press", "cutter", "+z", 2)]
    _, out, _, _ = run(case, "--json")
    # same names of tool and setup, yet 50 + 20 + 90 for going to the press
    assert json.loads(out)[0]["cost"] == 10 + 9 + 50 + 20 + 90 + 2


def test_an_operation_after_an_alternative_not_chosen_need_not_wait(run):
    case = plate()
    case["operations"]["tap"] = {
        "after": ["drill"],
        "choices": [way("mill", "cutter", "+z", 1)],
    }
    case["operations"]["bore"]["after"] = ["tap", "face"]
    _, out, _, _ = run(case, "--json")
    row = json.loads(out)[0]
    assert [step["operation"] for step in row["plan"]] in (
        ["face", "tap", "bore"],
        ["tap", "face", "bore"],
    )
    assert row["cost"] == 10 + 1 + 9


def test_a_line_for_reading(run):
    _, out, _, _ = run(plate())
    assert out.split()[5:8] == ["plate", "133", "133"]
    assert "proven" in out


def test_a_case_without_a_name_is_called_by_its_file(run):
    case = plate()
    del case["case"]
    _, out, _, _ = run(case, "--json", name="small.json")
    assert json.loads(out)[0]["case"] == "small"


def change(path, value):
    """The plate with one entry replaced (or removed, for None)."""
    case = plate()
    *keys, last = path
    at = case
    for key in keys:
        at = at[key]
    if value is None:
        del at[last]
    else:
        at[last] = value
    return case


@pytest.mark.parametrize(
    ("case", "message"),
    [
        ("{", "line 1 column 2: not JSON"),
        ("[]", "the case: an object is wanted, not []"),
        (change(["operations"], None), "operations: an object is wanted, not nothing"),
        (change(["operations"], {}), "operations: there are none"),
        (change(["operations", "face", "choices"], []), "'face' has no choice"),
        (change(["operations", "face", "after"], ["fase"]), "'face' comes after 'fase', not an op"),
        (change(["operations", "face", "after"], ["tap"]), "wait for each other"),
        (
            change(["operations", "tap", "choices", 1, "cost"], "2"),
            'operations.tap.choices[1].cost: a number is wanted, not "2"',
        ),
        (
            change(["operations", "tap", "choices", 1, "cost"], -2),
            "operations.tap.choices[1].cost: a cost of 0 or more is wanted, not -2",
        ),
        (
            change(["operations", "tap", "choices", 0, "tool"], None),
            "operations.tap.choices[0].tool: a text is wanted, not nothing",
        ),
        (change(["choose_one"], [["drill", "boer"]]), "choose-one group names 'boer'"),
        (change(["choose_one"], [["drill"], ["drill"]]), "'drill' stands twice"),
        (change(["changeover"], None), "changeover: an object is wanted, not nothing"),
        (change(["changeover", "tool"], None), "changeover.tool: a number is wanted"),
        (
            change(["changeover", "machine", "mill"], {}),
            "lacks the cost of changing machine mill -> press",
        ),
    ],
)
def test_a_wrong_file_is_told_by_name_and_place(run, case, message):
    code, out, error, path = run(case)
    assert code == 2
    assert out == "" or "proven" not in out
    assert error.startswith(f"{path}: ")
    assert message in error


def test_a_missing_file_is_told(tmp_path, capsys):
    path = tmp_path / "none.json"
    assert script.main([str(path)]) == 2
    assert capsys.readouterr().err == f"{path}: cannot be read: No such file or directory\n"
