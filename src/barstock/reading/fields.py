"""What may be written under a name, as pydantic records; each slip is found at its place."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Any, TypeVar, get_args

from pydantic import BaseModel, BeforeValidator, ConfigDict, ValidationError, WithJsonSchema

from barstock.reading.faults import Fault, Place, nearest
from barstock.reading.nodes import Entry, Listing, Node, Table, Text, plain, sort


def _as_text(value: Any) -> Any:
    if value == "":
        raise ValueError("nothing is written")
    return str(value) if isinstance(value, int | float) and not isinstance(value, bool) else value


NUMBER_OR_TEXT = {"anyOf": [{"type": "string"}, {"type": "number"}]}

Written = Annotated[str, BeforeValidator(_as_text), WithJsonSchema(NUMBER_OR_TEXT)]
"""A size, length or angle as the drawing gives it: 12.0 ±0.05, 8 H7, 1-3/8, No 36."""


class Fields(BaseModel):
    """The base of what may be written under a name; names are written with spaces."""

    model_config = ConfigDict(
        extra="forbid",
        frozen=True,
        populate_by_name=True,
        alias_generator=lambda name: name.rstrip("_").replace("_", " "),
    )


STAND_IN = "?"
"""Stands for a word that is needed and not given."""

Model = TypeVar("Model", bound=BaseModel)

WANTED = {
    "string_type": "a size or a word",
    "list_type": "a list",
    "tuple_type": "a list",
    "dict_type": "a table",
    "model_type": "a table",
    "model_attributes_type": "a table",
    "bool_parsing": "true or false",
    "bool_type": "true or false",
    "int_parsing": "a whole number",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "float_parsing": "a number",
    "float_type": "a number",
}


def names_of(model: type[BaseModel]) -> list[str]:
    """The names that may be written, in order."""
    return [info.alias or name for name, info in model.model_fields.items()]


def validate(
    model: type[Model], node: Table, place: Place, called: str
) -> tuple[Model | None, list[Fault]]:
    """The record written in a table, and its faults; None where too little is right to go on.

    place: where the table's own name stands. called: what it is, to say in a fault ("hole").
    """
    given = plain(node)
    faults: list[Fault] = []
    for _ in range(len(given) + 2):
        try:
            return model.model_validate(given), faults
        except ValidationError as wrong:
            found = wrong.errors(include_url=False, include_context=True)
        faults += _faults(model, node, place, called, found)
        spoilt = {error["loc"][0] for error in found if error["loc"]} & given.keys()
        if not spoilt:
            return None, faults
        # the rest is checked too; a needed field that was wrong is not then called missing
        needed = {info.alias or name for name, info in model.model_fields.items()
                  if info.is_required()}  # fmt: skip
        given = {name: value for name, value in given.items() if name not in spoilt}
        if spoilt & needed:
            return None, faults
    return None, faults


def as_far(
    model: type[Model], node: Table, place: Place, called: str
) -> tuple[Model | None, list[Fault]]:
    """As `validate`, but what is needed and missing or wrong is stood in for, so that the rest can
    be read on: the faults tell of it.
    """
    record, faults = validate(model, node, place, called)
    if record is not None:
        return record, faults
    stand_ins = {}
    for name, info in model.model_fields.items():
        word = info.alias or name
        given = node.entries.get(word)
        written = given is not None and isinstance(given.value, Text) and given.value.text
        if info.is_required() and info.annotation is not str:
            stand_ins[word] = Entry(place, Table(place))
        elif info.is_required() and not written:
            stand_ins[word] = Entry(place, Text(place, STAND_IN))
    return validate(model, Table(node.place, {**node.entries, **stand_ins}), place, called)[
        0
    ], faults


def in_words(message: str) -> str:
    """A complaint of pydantic's about a value, as one says it.

    >>> in_words("Input should be a valid integer, unable to parse string as an integer")
    'it should be a whole number'
    >>> in_words("Input should be greater than 0"), in_words("Value error, 'a3' is no paper")
    ('it should be greater than 0', "'a3' is no paper")
    """
    rule = message.partition(", unable to")[0].removeprefix("Value error, ")
    for term, word in (("Input should", "it should"), ("a valid integer", "a whole number"),
                       ("a valid ", "a "), ("Field required", "it is missing")):  # fmt: skip
        rule = rule.replace(term, word)
    return rule


def _faults(
    model: type[BaseModel], node: Table, place: Place, called: str, found: list[Any]
) -> Iterator[Fault]:
    grouped: dict[tuple[str | int, ...], list[Any]] = {}
    for error in found:
        path = _path(node, error)
        lacking = error["loc"][-1] if error["type"] == "missing" else ""
        grouped.setdefault((*path, lacking), []).append(error)
    paths = {key[:-1] for key in grouped}
    for (*steps, lacking), errors in grouped.items():
        path = tuple(steps)
        # of a value that may be written in several ways, only the nearest one's slip is told
        error = min(errors, key=lambda e: e["type"] in WANTED)
        if error["type"] in WANTED and (
            any(path == p[: len(path)] != p for p in paths)
            or any(key[:-1] == path and key[-1] != "" for key in grouped)
        ):
            continue
        kind, name = error["type"], str(path[-1]) if path else ""
        at, here = _step(Entry(place, node), path)
        if path and kind not in ("extra_forbidden", "missing"):
            at = here.place
        owner = _owner(model, path[:-1])
        of = _table_named(path[:-1], called)
        if kind == "extra_forbidden":
            yield Fault(at, f"{_a(of)} has no '{name}'", nearest(name, names_of(owner)))
        elif kind == "missing" and isinstance(lacking, int):
            yield Fault(at, f"'{name}' is too short a list", f"give {lacking + 1}")
        elif kind == "missing":
            of = _table_named(path, called)
            yield Fault(at, f"'{lacking}' is missing in {_a(of)}", f"add '{lacking}: …'")
        elif isinstance(here, Text) and not here.text:
            mend = "give it, or take the name out (what follows a # is a comment)"
            yield Fault(at, f"nothing is written after '{name}'", mend)
        elif kind in ("literal_error", "enum"):
            words = [
                w.strip(" '") for w in error["ctx"]["expected"].replace(" or ", ",").split(",")
            ]
            what = f"'{_last_name(path)}' cannot be {sort(here)}"
            yield Fault(at, what, nearest(_word(here), words))
        elif kind in WANTED:
            wanted = dict.fromkeys(WANTED.get(e["type"], "a size or a word") for e in errors)
            what = f"'{_last_name(path)}' cannot be {sort(here)}"
            yield Fault(at, what, f"give {' or '.join(wanted)}")
        else:
            yield Fault(at, f"'{_last_name(path)}' is {sort(here)}", in_words(error["msg"]))


def _path(node: Node, error: Any) -> tuple[str | int, ...]:
    """The error's path in the file: pydantic's, less the names of the types it tried."""
    path: list[str | int] = []
    for step in error["loc"]:
        if isinstance(node, Table) and step in node.entries:
            node = node.entries[step].value
        elif isinstance(node, Listing) and isinstance(step, int) and step < len(node.items):
            node = node.items[step]
        else:
            continue
        path.append(step)
    return tuple(path)


def _step(entry: Entry, path: tuple[str | int, ...]) -> tuple[Place, Node]:
    """The place of the name at the end of a path, and its value."""
    place, node = entry.place, entry.value
    for step in path:
        if isinstance(node, Table):
            place, node = node.entries[str(step)].place, node.entries[str(step)].value
        elif isinstance(node, Listing):
            node = node.items[int(step)]
            place = node.place
    return place, node


def _owner(model: type[BaseModel], path: tuple[str | int, ...]) -> type[BaseModel]:
    """The record that the table at a path is read as."""
    for step in path:
        if isinstance(step, int):
            continue
        for name, info in model.model_fields.items():
            if step in (name, info.alias):
                model = next(_models(info.annotation), model)
    return model


def _models(annotation: Any) -> Iterator[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for part in get_args(annotation):
        yield from _models(part)


def _table_named(path: tuple[str | int, ...], called: str) -> str:
    """What the table at a path is called in a fault."""
    if not path:
        return called
    name = f"'{_last_name(path)}'"
    return f"{name} item {path[-1] + 1}" if isinstance(path[-1], int) else name


def _word(node: Node) -> str:
    return node.text if isinstance(node, Text) else ""


def _last_name(path: tuple[str | int, ...]) -> str:
    return next((step for step in reversed(path) if isinstance(step, str)), "")


def _a(noun: str) -> str:
    if noun.startswith("'"):
        return noun
    return f"an {noun}" if noun[0] in "aeiou" else f"a {noun}"
