"""The examples of docs/limits.md are what the functions say."""

import doctest
from pathlib import Path


def test_the_examples_run() -> None:
    page = Path(__file__).parents[2] / "docs" / "limits.md"
    failed, tried = doctest.testfile(str(page), module_relative=False)
    assert tried > 10
    assert failed == 0
