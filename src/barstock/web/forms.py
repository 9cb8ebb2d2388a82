"""A table of build.yaml as a form: its fields come from the record that reads it, with the faults
beside each.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from pydantic import BaseModel

from barstock.drawing.build_fields import BuildFields, FabricationFields, PartFields
from barstock.methods import KINDS
from barstock.reading.editing import EditError, put, remove, rename, source
from barstock.reading.faults import Fault
from barstock.reading.spans import Path, Span, spans

APART = {"parts", "fabrications", "features"}
"""Tables that have forms of their own, one for each name in them."""


@dataclass(frozen=True)
class FieldRule:
    """What may be written in a field. choices: all there are, where they can be listed."""

    name: str
    about: str
    needed: bool
    choices: tuple[str, ...]
    wide: bool


@dataclass(frozen=True)
class Field:
    """A field as the form shows it. written: what stands or was typed; was: what stood when it was
    typed.
    """

    asked: FieldRule
    written: str
    was: str
    faults: tuple[str, ...] = ()

    @property
    def rows(self) -> int:
        """How many lines of the page the field takes."""
        return min(24, max(1, self.written.count("\n") + 1, -(-len(self.written) // 60)))


@dataclass(frozen=True)
class Form:
    """A table of build.yaml as a form. path: to it; title: its name; faults: those that concern
    none of its fields.
    """

    path: Path
    title: str
    kind: str
    fields: tuple[Field, ...]
    faults: tuple[str, ...] = ()

    @property
    def given(self) -> list[Field]:
        """The fields that are filled in or must be."""
        return [f for f in self.fields if f.written or f.was or f.asked.needed or f.faults]

    @property
    def more(self) -> list[Field]:
        """The fields that are left empty and may be."""
        shown = self.given
        return [f for f in self.fields if f not in shown]

    @property
    def faulty(self) -> bool:
        """Is anything wrong in it?"""
        return bool(self.faults or any(f.faults for f in self.fields))


@cache
def rules_of(model: type[BaseModel]) -> tuple[FieldRule, ...]:
    """What may be written in each field of a record, in its order."""
    schema = model.model_json_schema(by_alias=True)
    defs = schema.get("$defs", {})
    needed = set(schema.get("required", ()))
    return tuple(
        FieldRule(
            name,
            one.get("description", ""),
            name in needed,
            _choices(one, defs) or (),
            any(s.get("type") in ("object", "array") for s in _either(one, defs)),
        )
        for name, one in schema["properties"].items()
        if name not in APART and name != "kind"
    )


def _either(one: Mapping[str, Any], defs: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    if "$ref" in one:
        return _either(defs[one["$ref"].rsplit("/", 1)[1]], defs)
    if "anyOf" in one:
        return [found for each in one["anyOf"] for found in _either(each, defs)]
    return [one]


def _choices(one: Mapping[str, Any], defs: Mapping[str, Any]) -> tuple[str, ...] | None:
    found: list[str] = []
    for each in _either(one, defs):
        if each.get("type") == "null":
            continue
        if each.get("type") == "boolean":
            found += ["true", "false"]
        elif "enum" in each:
            found += map(str, each["enum"])
        elif "const" in each:
            found.append(str(each["const"]))
        else:
            return None
    return tuple(found)


def model_at(path: Path, kind: str) -> type[BaseModel]:
    """The record that reads the table at a path. Raises KeyError where no form is for it."""
    match path:
        case ():
            return BuildFields
        case ("parts", _):
            return PartFields
        case ("fabrications", _):
            return FabricationFields
        case ("parts" | "fabrications", _, "features", _):
            return KINDS[kind].fields
    raise KeyError(path)


def owners(text: str) -> list[Path]:
    """The parts and fabrications of a build. Raises ValueError where the text cannot be read."""
    whole = spans(text)
    return [
        (table, name)
        for table in ("parts", "fabrications")
        for name in (whole.inner[table].inner if table in whole.inner else ())
    ]


def forms_of(text: str, owner: Path) -> list[Form]:
    """The forms of a part: its own, then one for each feature. Raises KeyError."""
    own = spans(text).at(owner)
    features = own.inner.get("features", Span(0, 0)).inner
    return [form_at(text, owner), *(form_at(text, (*owner, "features", n)) for n in features)]


def form_at(text: str, path: Path, kind: str = "") -> Form:
    """A table as it stands, or an empty one where there is none yet. Raises KeyError."""
    try:
        span = spans(text).at(path)
    except KeyError:
        span = Span(0, 0)
    kind = span.inner["kind"].text if "kind" in span.inner else kind
    asked = rules_of(model_at(path, kind)) if len(path) < 3 or kind in KINDS else ()
    known = {one.name for one in asked}
    also = [
        FieldRule(str(n), "", False, (), True)
        for n in span.inner
        if n not in known | APART and n != "kind"
    ]
    fields = []
    for one in (*asked, *also):
        was = source(text, (*path, one.name)) if one.name in span.inner else ""
        fields.append(Field(one, was, was))
    # what is written comes first, in the order it is written
    order = [str(name) for name in span.inner]
    fields.sort(key=lambda f: order.index(f.asked.name) if f.asked.name in order else len(order))
    return Form(path, str(path[-1]) if path else "", kind, tuple(fields))


def typed(form: Form, given: Mapping[str, str]) -> Form:
    """The form with what was typed; what was not touched stays as it is in the text now."""
    fields = []
    for field in form.fields:
        name = field.asked.name
        new = given.get(f"f:{name}", field.was).replace("\r\n", "\n").strip()
        was = given.get(f"was:{name}", field.was).replace("\r\n", "\n").strip()
        fields.append(replace(field, written=field.was if new == was else new))
    return replace(form, fields=tuple(fields))


def proposed(text: str, form: Form, title: str) -> tuple[str, Form]:
    """The text as the form would have it; the form with what cannot be written said in it."""
    path, fields, faults = form.path, [], []
    try:
        spans(text).at(path)
    except KeyError:
        try:
            text = _begun(text, form)
        except EditError as wrong:
            return text, replace(form, faults=(str(wrong),))
    for field in form.fields:
        where = (*path, field.asked.name)
        try:
            if field.written and field.written != field.was:
                text = put(text, where, field.written)
            elif field.was and not field.written:
                text = remove(text, where)
        except EditError as wrong:
            fields.append(replace(field, faults=(str(wrong),)))
        else:
            fields.append(field)
    if path and title != path[-1]:
        try:
            text = rename(text, path, title)
            path = (*path[:-1], title)
        except EditError as wrong:
            faults.append(str(wrong))
    return text, replace(form, path=path, fields=tuple(fields), faults=tuple(faults))


def _begun(text: str, form: Form) -> str:
    """The text with a table begun: a feature by its kind, a part by the first it needs."""
    if form.path[-2] not in spans(text).at(form.path[:-2]).inner:
        text = put(text, form.path[:-1], "{}")
    first = next((f for f in form.fields if f.written), None)
    if form.kind:
        return put(text, form.path, f"kind: {form.kind}")
    if first is None:
        raise EditError("write at least one of its fields")
    begun = put(text, form.path, "{}")
    return put(begun, (*form.path, first.asked.name), first.written)


def judged(text: str, form: Form, faults: Iterable[Fault], file: str) -> tuple[Form, list[Fault]]:
    """The form with each fault beside the field it concerns, and the faults that lie elsewhere."""
    try:
        table = spans(text).at(form.path)
    except (KeyError, ValueError):
        return form, list(faults)
    start = table.key[0] if table.key[0] >= 0 else 0
    lines = [0]
    for line in text.split("\n"):
        lines.append(lines[-1] + len(line) + 1)
    fields = {f.asked.name: list(f.faults) for f in form.fields}
    own, elsewhere = list(form.faults), []
    for fault in faults:
        at = -1
        if fault.place.file == file and fault.place.line < len(lines):
            at = lines[fault.place.line - 1] + fault.place.column - 1
        inside = (n for n, s in table.inner.items() if s.key[0] <= at < max(s.end, s.key[1] + 1))
        name = next(inside, None)
        if name in fields and at >= 0:
            fields[str(name)].append(_fault_words(fault))
        elif start <= at < table.end and name not in APART and form.path:
            own.append(_fault_words(fault))
        else:
            elsewhere.append(fault)
    found = tuple(replace(f, faults=tuple(fields[f.asked.name])) for f in form.fields)
    return replace(form, fields=found, faults=tuple(own)), elsewhere


def _fault_words(fault: Fault) -> str:
    return f"{fault.what}; {fault.mend}" if fault.mend else fault.what


def new_errors(before: Sequence[Fault], after: Sequence[Fault]) -> list[Fault]:
    """The errors that were not there before."""
    known = {(f.what, f.part, f.feature) for f in before}
    return [f for f in after if f.grade == "error" and (f.what, f.part, f.feature) not in known]
