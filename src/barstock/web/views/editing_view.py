"""The pages that edit the build's file by forms, with the drawing beside them."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import Response

from barstock.bench.revisions import ChangedMeanwhileError, mark_of
from barstock.methods import KINDS
from barstock.reading.editing import EditError, remove
from barstock.reading.faults import Fault, fault_line
from barstock.reading.spans import Path, spans
from barstock.web.forms import (
    Form,
    form_at,
    forms_of,
    judged,
    new_errors,
    owners,
    proposed,
    typed,
)
from barstock.web.page_words import say
from barstock.web.rendering import bench_of, onward, part_of_page, whole_page
from barstock.web.views.edited import checker_of, common, file_of, given_of, text_of
from barstock.web.views.editing_text import text_page

router = APIRouter()
DEEPEST = 4
"""Most names on the way to a table that has a form."""


# -- pages -----------------------------------------------------------------------------------------


@router.get("/edit")
def contents(request: Request) -> Response:
    """The page with the parts to choose from."""
    file = file_of(bench_of(request))
    text = text_of(file)
    try:
        listed = owners(text)
    except ValueError:
        return onward("/edit/text")
    faults, _ = checker_of(request).check(text)
    wrong = {name: sum(f.part == name and f.grade == "error" for f in faults) for _, name in listed}
    return whole_page(
        request, "edit.html", "edit", listed=listed, wrong=wrong, **common(file, text),
        elsewhere=[fault_line(f) for f in faults if not f.part],
    )  # fmt: skip


@router.get("/edit/part/{number:int}")
def part(request: Request, number: int, kind: str = "") -> Response:
    """The page with the forms of the build (0) or of a part. kind: of a feature to be added."""
    text = text_of(file_of(bench_of(request)))
    return _shown(request, text, _owner(text, number), kind=kind)


@router.get("/edit/new")
def new(request: Request) -> Response:
    """The form of a part to be added."""
    text = text_of(file_of(bench_of(request)))
    return _shown(request, text, ("parts", ""))


def _owner(text: str, number: int) -> Path:
    try:
        listed = owners(text)
    except ValueError:
        raise HTTPException(404) from None
    if not 0 <= number <= len(listed):
        raise HTTPException(404)
    return listed[number - 1] if number else ()


def _shown(
    request: Request,
    text: str,
    owner: Path,
    *,
    kind: str = "",
    mine: Form | None = None,
    title: str = "",
    message: str = "",
    status: int = 200,
) -> Response:
    """A part's page. mine: the form just sent, as typed, instead of the same as it stands."""
    file, checker = file_of(bench_of(request)), checker_of(request)
    listed = owners(text)
    forms = _forms(text, owner, kind)
    name = str(owner[-1]) if owner else ""
    if mine is not None:
        same = [n for n, form in enumerate(forms) if form.path == mine.path]
        forms[same[0] if same else len(forms) : same[0] + 1 if same else len(forms)] = [mine]
    faults, drawing = checker.check(text, name)
    elsewhere: list[Fault] = faults
    for n, form in enumerate(forms):
        if form is not mine:
            forms[n], elsewhere = judged(text, form, elsewhere, checker.file)
    return whole_page(
        request,
        "edit_part.html",
        "edit",
        status,
        title=name,
        number=listed.index(owner) + 1 if owner in listed else 0,
        owner=owner,
        forms=forms,
        paths=[json.dumps(form.path) for form in forms],
        mine=mine,
        typed_title=title,
        kinds={k: v.summary for k, v in KINDS.items()},
        drawing=drawing,
        message=message or (say("edit saved") if "saved" in request.query_params else ""),
        elsewhere=[fault_line(f) for f in elsewhere if not owner or f.part == name],
        **common(file, text),
    )


def _forms(text: str, owner: Path, kind: str) -> list[Form]:
    if owner == ("parts", ""):
        return [form_at(text, owner)]
    forms = forms_of(text, owner) if owner else [form_at(text, ())]
    if kind in KINDS and owner:
        forms.append(form_at(text, (*owner, "features", ""), kind))
    return forms


# -- trying and saving -----------------------------------------------------------------------------


def _path(given: Mapping[str, str]) -> Path:
    try:
        found = json.loads(given.get("path", ""))
    except ValueError:
        raise HTTPException(404) from None
    if not isinstance(found, list) or len(found) > DEEPEST or not all(
        isinstance(step, str) for step in found
    ):  # fmt: skip
        raise HTTPException(404)
    return tuple(found)


def _meant(text: str, given: Mapping[str, str]) -> tuple[str, Form, str]:
    """The text as a form would have it, the form as typed, and the table's name as typed."""
    path = _path(given)
    title = " ".join(given.get("title", "").split()) or (str(path[-1]) if path else "")
    try:
        form = form_at(text, path, given.get("kind", ""))
    except (KeyError, ValueError):
        raise HTTPException(404) from None
    form = typed(form, given)
    if path and path[-1] == "":  # not there yet
        if not title or title in _names(text, path[:-1]):
            wrong = say("edit name taken", name=title) if title else say("edit name lacking")
            return text, replace(form, faults=(wrong,)), title
        form = replace(form, path=(*path[:-1], title))
    meant, form = proposed(text, form, title)
    return meant, form, title


def _part_of(path: Path) -> str:
    return str(path[1]) if path else ""


def _names(text: str, path: Path) -> set[str | int]:
    try:
        return set(spans(text).at(path).inner)
    except KeyError:
        return set()


@router.post("/edit/try")
async def attempt(request: Request) -> Response:
    """Show the drawing and the faults as they would be; nothing is written."""
    given = await given_of(request)
    return await asyncio.to_thread(_attempt, request, given)


def _attempt(request: Request, given: dict[str, str]) -> Response:
    text, checker = text_of(file_of(bench_of(request))), checker_of(request)
    meant, form, _ = _meant(text, given)
    faults, drawing = checker.check(meant, _part_of(form.path))
    form, elsewhere = judged(meant, form, faults, checker.file)
    return part_of_page(
        "edit_try.html",
        form=form,
        at=given.get("at", "0")[:4],
        drawing=drawing,
        title=_part_of(form.path),
        changed=meant != text,
        elsewhere=[fault_line(f) for f in new_errors(checker.check(text)[0], elsewhere)],
    )


@router.post("/edit/save")
async def save(request: Request) -> Response:
    """Write what was typed, where that brings no new fault."""
    given = await given_of(request)
    return await asyncio.to_thread(_save, request, given)


def _save(request: Request, given: dict[str, str]) -> Response:
    file, checker = file_of(bench_of(request)), checker_of(request)
    text = text_of(file)
    meant, form, title = _meant(text, given)
    sent = _path(given)
    owner = ("parts", "") if sent == ("parts", "") else sent[:2]
    again: dict[str, Any] = {"kind": form.kind if sent[-1:] == ("",) else "", "title": title}
    if mark_of(text) != given.get("mark"):
        return _refused(request, text, owner, form, sent, say("edit meanwhile"), again)
    before, _ = checker.check(text)
    faults, _ = checker.check(meant, _part_of(form.path))
    form, elsewhere = judged(meant, form, faults, checker.file)
    wrong = new_errors(before, faults)
    if wrong or form.faults or any(f.faults for f in form.fields if f.written != f.was):
        others = [fault_line(f) for f in new_errors(before, elsewhere)]
        form = replace(form, faults=(*form.faults, *others))
        return _refused(request, text, owner, form, sent, say("edit refused"), again)
    try:
        file.write(meant, str(given["mark"]))
    except ChangedMeanwhileError:
        return _refused(request, text_of(file), owner, form, sent, say("edit meanwhile"), again)
    to = owners(meant).index(form.path[:2]) + 1 if form.path else 0
    return onward(f"/edit/part/{to}?saved=1")


def _refused(
    request: Request, text: str, owner: Path, form: Form, sent: Path, words: str,
    again: dict[str, Any],
) -> Response:  # fmt: skip
    form = replace(form, path=sent)
    return _shown(request, text, owner, mine=form, message=words, status=422, **again)


@router.post("/edit/remove")
async def take_out(request: Request) -> Response:
    """Take a part or a feature out."""
    given = await given_of(request)
    return await asyncio.to_thread(_take_out, request, given)


def _take_out(request: Request, given: dict[str, str]) -> Response:
    file, checker = file_of(bench_of(request)), checker_of(request)
    text, path = text_of(file), _path(given)
    owner = path[:2]
    try:
        meant = remove(text, path)
    except EditError as wrong:
        return _shown(request, text, owner, message=str(wrong), status=422)
    except (KeyError, ValueError):
        raise HTTPException(404) from None
    if given.get("sure") != "yes":
        lost = new_errors(checker.check(text)[0], checker.check(meant)[0])
        if lost:
            return _confirm_removal(request, text, meant, given, lost)
    try:
        file.write(meant, given.get("mark", ""))
    except ChangedMeanwhileError:
        return _shown(request, text, owner, message=say("edit meanwhile"), status=422)
    listed = owners(text_of(file))
    return onward(f"/edit/part/{listed.index(owner) + 1}?saved=1" if owner in listed else "/edit")


def _confirm_removal(
    request: Request, text: str, meant: str, given: dict[str, str], lost: list[Fault]
) -> Response:
    """The places of the file that refer to what is to be taken out."""
    path = _path(given)
    start = text.count("\n", 0, spans(text).at(path).key[0])
    gone = text.count("\n") - meant.count("\n")
    lines = [f.place.line + (gone if f.place.line > start else 0) for f in lost]
    return whole_page(
        request,
        "edit_out.html",
        "edit",
        name=path[-1],
        lost=[(line, fault.what) for line, fault in zip(lines, lost, strict=True)],
        sent={name: given.get(name, "") for name in ("path", "mark")},
        back=f"/edit/part/{owners(text).index(path[:2]) + 1}",
    )


@router.post("/edit/step")
async def step(request: Request) -> Response:
    """Take the last change back, or make it again."""
    given = await given_of(request)
    which = given.get("which", "")
    if which not in ("undo", "redo"):
        raise HTTPException(404)
    back = given.get("back", "/edit")
    try:
        await asyncio.to_thread(file_of(bench_of(request)).step, which)
    except ChangedMeanwhileError:
        return await asyncio.to_thread(text_page, request, None, [say("edit undo not")], 422)
    return onward(back if back.startswith("/edit") else "/edit")


@router.get("/edit/sheet/{key}.svg")
def sheet(request: Request, key: str) -> Response:
    """A drawing that was just made, as SVG."""
    found = checker_of(request).drawing(key)
    if found is None:
        raise HTTPException(404)
    return Response(found, media_type="image/svg+xml")
