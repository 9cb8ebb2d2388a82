"""Runs the sequencing core on process-planning cases and prints cost, bound, gap and seconds.

    python benchmarks/sequencing.py FILE.json ... [--limit S] [--seed N] [--json]

A case has `operations` (each with `after` and `choices` of machine, tool, direction, cost),
`choose_one` groups, and `changeover` with the costs of a machine, tool and setup change; a machine
change also pays tool and setup change, and its cost may be a table from -> to. With --json: a list
of objects case, cost, bound, gap, seconds, plan; the plan lists operation, machine, tool and
direction in order, so that the cost can be added up again.
"""

from __future__ import annotations

import argparse
import json
import math
import sys
from pathlib import Path
from typing import Any

from barstock.sequencing import (
    Changeover,
    Choice,
    Operation,
    Problem,
    SequencingError,
    Solution,
    solve,
)


class CaseError(ValueError):
    """A case file cannot be read: file, where, what."""


def read_case(path: Path) -> tuple[Any, Problem]:
    """The case's name (its `case`, else the file's name) and its problem.

    Raises CaseError naming the file, the place in it and what is wrong there.
    """
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise CaseError(f"{path}: cannot be read: {error.strerror}") from error
    except UnicodeDecodeError as error:
        raise CaseError(f"{path}: not UTF-8 text: {error}") from error
    except json.JSONDecodeError as error:
        where = f"line {error.lineno} column {error.colno}"
        raise CaseError(f"{path}: {where}: not JSON: {error.msg}") from error
    try:
        _want(data, dict, "the case")
        operations = _want(data.get("operations"), dict, "operations")
        if not operations:
            raise CaseError("operations: there are none")
        groups = _want(data.get("choose_one", []), list, "choose_one")
        for number, group in enumerate(groups):
            _names(group, f"choose_one[{number}]")
        problem = Problem(
            {name: _operation(name, entry) for name, entry in operations.items()},
            groups,
            _changeover(data.get("changeover")),
        )
    except (CaseError, SequencingError) as error:
        raise CaseError(f"{path}: {error}") from error
    return data.get("case", path.stem), problem


def _operation(name: str, entry: Any) -> Operation:
    where = f"operations.{name}"
    _want(entry, dict, where)
    choices = _want(entry.get("choices"), list, f"{where}.choices")
    after = _names(entry.get("after", []), f"{where}.after")
    return Operation(
        tuple(_choice(choice, f"{where}.choices[{i}]") for i, choice in enumerate(choices)),
        tuple(after),
    )


def _choice(entry: Any, where: str) -> Choice:
    _want(entry, dict, where)
    machine, tool, direction = (
        _want(entry.get(key), str, f"{where}.{key}") for key in ("machine", "tool", "direction")
    )
    return Choice(machine, tool, direction, _cost(entry.get("cost"), f"{where}.cost"))


def _changeover(entry: Any) -> Changeover:
    _want(entry, dict, "changeover")
    machine, tool, setup = (
        _costs(entry.get(key), f"changeover.{key}") for key in ("machine", "tool", "setup")
    )
    return Changeover(machine, tool, setup)


def _costs(value: Any, where: str) -> Any:
    if not isinstance(value, dict):
        return _cost(value, where)
    for key, part in value.items():
        if isinstance(part, dict):
            for other, cost in part.items():
                _cost(cost, f"{where}.{key}.{other}")
        else:
            _cost(part, f"{where}.{key}")
    return value


def _cost(value: Any, where: str) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise CaseError(f"{where}: a number is wanted, not {_shown(value)}")
    if not 0 <= value < math.inf:
        raise CaseError(f"{where}: a cost of 0 or more is wanted, not {value}")
    return value


def _names(value: Any, where: str) -> list[str]:
    for name in _want(value, list, where):
        _want(name, str, where)
    return list(value)


WANTED = {dict: "an object", list: "a list", str: "a text"}


def _want(value: Any, kind: type, where: str) -> Any:
    if not isinstance(value, kind):
        raise CaseError(f"{where}: {WANTED[kind]} is wanted, not {_shown(value)}")
    return value


def _shown(value: Any) -> str:
    return "nothing" if value is None else json.dumps(value)[:40]


def _row(case: Any, solution: Solution) -> dict[str, Any]:
    return {
        "case": case,
        "cost": solution.cost,
        "bound": solution.bound,
        "gap": solution.gap,
        "seconds": round(solution.seconds, 3),
        "plan": [
            {
                "operation": chosen.operation,
                "machine": chosen.machine,
                "tool": chosen.tool,
                "direction": chosen.setup,
            }
            for chosen in solution.plan
        ],
    }


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description="Sequence process-planning cases.")
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE.json")
    parser.add_argument("--limit", type=float, default=60.0, help="seconds a case (default 60)")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--json", action="store_true", help="a list of objects, with the plans")
    options = parser.parse_args(arguments)
    if not options.limit > 0:
        parser.error("--limit wants a number of seconds above 0")
    try:
        cases = [read_case(path) for path in options.files]
        rows = []
        if not options.json:
            print(f"{'case':>12} {'cost':>12} {'bound':>12} {'gap':>7} {'seconds':>8}")
        for path, (case, problem) in zip(options.files, cases, strict=True):
            try:
                solution = solve(problem, seconds=options.limit, seed=options.seed)
            except SequencingError as error:
                raise CaseError(f"{path}: {error}") from error
            rows.append(_row(case, solution))
            if not options.json:
                print(
                    f"{case!s:>12} {solution.cost:12.10g} {solution.bound:12.10g} "
                    f"{solution.gap:7.2%} {solution.seconds:8.2f}"
                    f"{'  proven' if solution.proven else ''}",
                    flush=True,
                )
    except CaseError as error:
        print(error, file=sys.stderr)
        return 2
    if options.json:
        json.dump(rows, sys.stdout, indent=1)
        print()
    return 0


if __name__ == "__main__":
    sys.exit(main())
