"""The build's file under several hands."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock.bench.revisions import ChangedMeanwhileError, Revisions, mark_of


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "build.yaml"
    path.write_text("build: A\n")
    return path


def test_each_change_is_taken_back_and_made_again_also_after_a_restart(file: Path) -> None:
    for before, after in ("AB", "BC", "CD"):
        Revisions(file).write(f"build: {after}\n", mark_of(f"build: {before}\n"))
    seen = []
    while Revisions(file).can("undo"):
        Revisions(file).step("undo")
        seen.append(file.read_text())
    assert seen == ["build: C\n", "build: B\n", "build: A\n"]
    Revisions(file).step("redo")
    Revisions(file).step("redo")
    assert file.read_text() == "build: C\n"
    Revisions(file).write("build: E\n", mark_of("build: C\n"))
    assert not Revisions(file).can("redo")
    Revisions(file).step("undo")
    assert file.read_text() == "build: C\n"


def test_whoever_comes_second_is_told_and_nothing_is_lost(file: Path) -> None:
    mark = mark_of(file.read_text())
    Revisions(file).write("build: B\n", mark)
    with pytest.raises(ChangedMeanwhileError):
        Revisions(file).write("build: C\n", mark)
    assert file.read_text() == "build: B\n"


def test_what_an_editor_changed_is_not_undone_with_it(file: Path) -> None:
    Revisions(file).write("build: B\n", mark_of("build: A\n"))
    file.write_text("build: by hand\n")
    assert not Revisions(file).can("undo")
    with pytest.raises(ChangedMeanwhileError):
        Revisions(file).step("undo")
    assert file.read_text() == "build: by hand\n"
    Revisions(file).write("build: C\n", mark_of("build: by hand\n"))
    Revisions(file).step("undo")
    assert file.read_text() == "build: by hand\n"


def test_the_file_keeps_its_rights_and_no_draft_stays(file: Path) -> None:
    file.chmod(0o640)
    Revisions(file).write("build: B\n", mark_of("build: A\n"))
    assert file.stat().st_mode & 0o777 == 0o640
    assert sorted(p.name for p in file.parent.iterdir()) == [".barstock-undo", "build.yaml"]
