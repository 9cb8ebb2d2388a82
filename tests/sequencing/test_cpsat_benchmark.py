"""benchmarks/sequencing_cpsat.py: the general solver finds what the core finds."""

from __future__ import annotations

import importlib.util
import json
from pathlib import Path

import pytest

from tests.sequencing.test_benchmark_script import plate

FOLDER = Path(__file__).parents[2] / "benchmarks"


@pytest.fixture
def script(monkeypatch):
    monkeypatch.syspath_prepend(str(FOLDER))
    spec = importlib.util.spec_from_file_location("cpsat", FOLDER / "sequencing_cpsat.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_each_solver_proves_the_plate_of_the_other_script(script, tmp_path, capsys):
    case = plate()
    case["changeover"]["machine"] = 50
    (tmp_path / "plate.json").write_text(json.dumps(case))
    assert script.main([str(tmp_path), "--limit", "60"]) == 0
    lines = [line.split()[:4] for line in capsys.readouterr().out.splitlines()[1:]]
    assert lines == [["plate", name, "133", "133"] for name in ("core", "warm", "cold")]


def test_changes_that_cost_differently_are_told(script, tmp_path, capsys):
    (tmp_path / "plate.json").write_text(json.dumps(plate()))
    assert script.main([str(tmp_path)]) == 2
    assert "cost differently" in capsys.readouterr().err


def test_a_folder_without_cases_is_told(script, tmp_path, capsys):
    with pytest.raises(SystemExit):
        script.main([str(tmp_path)])
    assert "no .json file there" in capsys.readouterr().err
