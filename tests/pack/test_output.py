"""Output is whole or not there; a route reads back as it was written."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from barstock.pack.route_file import read_route, route_text
from barstock.pack.whole_folder import whole_folder
from barstock.route import Route
from barstock.store.content import digest
from barstock.store.kept_folders import Kept


def test_a_route_reads_back_the_same(route: Route, tmp_path: Path) -> None:
    path = tmp_path / "route.json"
    path.write_text(route_text(route), encoding="utf-8")
    assert read_route(path) == route


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("{", "is no JSON"),
        ("[" * 100_000, "is no JSON"),
        ("[]", "version None"),
        ('{"version": 99}', "version 99"),
        ('{"version": 2}', "is no route: build: it is missing"),
    ],
)
def test_what_is_no_route_is_refused_in_words(tmp_path: Path, text: str, words: str) -> None:
    path = tmp_path / "route.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ValueError, match=r"route\.json") as wrong:
        read_route(path)
    assert words in str(wrong.value)


@pytest.mark.parametrize("figure", ["NaN", "Infinity", "-Infinity", "1e999"])
def test_a_figure_that_is_none_is_refused_in_words(
    route: Route, tmp_path: Path, figure: str
) -> None:
    path = tmp_path / "route.json"
    text, changed = re.subn(r'"z": [-0-9.]+', f'"z": {figure}', route_text(route), count=1)
    path.write_text(text, encoding="utf-8")
    assert changed
    with pytest.raises(ValueError, match=r"is no route: setups\.\d+\..*z: .*finite number"):
        read_route(path)


def test_the_documentation_names_every_field() -> None:
    words = (Path(__file__).parents[2] / "docs" / "route.md").read_text(encoding="utf-8")
    schema = Route.model_json_schema()
    records = [schema, *schema["$defs"].values()]
    fields = {name for record in records for name in record.get("properties", {})}
    assert len(fields) > 80
    assert {field for field in fields if f"`{field}`" not in words} == set()


def _files(folder: Path) -> set[str]:
    return {str(p.relative_to(folder)) for p in folder.rglob("*")}


def test_a_folder_is_replaced_as_a_whole(tmp_path: Path) -> None:
    out = tmp_path / "out"
    for name in ("first", "second"):
        with whole_folder(out) as draft:
            (draft / "route.json").write_text("{}")
            (draft / name).write_text("")
    assert _files(tmp_path) == {"out", "out/route.json", "out/second"}


@pytest.mark.parametrize("fault", [KeyboardInterrupt, OSError, ValueError])
def test_what_stops_half_way_leaves_the_old_output(
    tmp_path: Path, fault: type[BaseException]
) -> None:
    out = tmp_path / "out"
    with whole_folder(out) as draft:
        (draft / "route.json").write_text("old")

    def stopped() -> None:
        with whole_folder(out) as draft:
            (draft / "route.json").write_text("new")
            raise fault

    with pytest.raises(fault):
        stopped()
    assert (out / "route.json").read_text() == "old"
    assert _files(tmp_path) == {"out", "out/route.json"}


def test_a_folder_of_the_users_own_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "notes.txt").write_text("mine")
    with pytest.raises(FileExistsError, match="move them"), whole_folder(tmp_path / "out"):
        pass
    assert _files(tmp_path) == {"out", "out/notes.txt"}


def test_what_is_kept_is_made_once_for_the_same_content(tmp_path: Path) -> None:
    made: list[str] = []

    def make(text: str) -> str:
        def fill(draft: Path) -> None:
            made.append(text)
            (draft / "text").write_text(text)

        return (Kept(tmp_path / "cache", digest(text), fill).fetch() / "text").read_text()

    assert [make("a"), make("a"), make("b")] == ["a", "a", "b"]
    assert made == ["a", "b"]
    assert digest("ab", "c") != digest("a", "bc")


def test_what_fails_to_be_made_is_not_kept(tmp_path: Path) -> None:
    def fail(draft: Path) -> None:
        (draft / "half").write_text("half")
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        Kept(tmp_path / "cache", "key", fail).fetch()
    assert _files(tmp_path) == {"cache"}
