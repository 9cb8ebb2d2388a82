"""The page of what moves, as `barstock move` last found it: verdicts, and the block to turn and set
moving.
"""

from __future__ import annotations

import json
from functools import partial
from importlib.resources import files
from pathlib import Path
from typing import Any

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import FileResponse, Response

from barstock.pack.guide_record import FILE, FOLDER, read_record
from barstock.web.long_work import Tell
from barstock.web.rendering import asks_a_piece, bench_of, onward, part_of_page, whole_page
from barstock.web.views.long_work_view import long_work_of

router = APIRouter()
THREE = "/static/vendor/three/three.module.min.js"


@router.get("/mechanism")
def mechanism(request: Request) -> Response:
    """The page with the verdicts and the scenes."""
    bench = bench_of(request)
    found = read_record(bench.folder / FOLDER)
    guides = found["guides"] if found else []
    return whole_page(
        request,
        "mechanism.html",
        "build",
        found=found,
        scenes=[_data(guide["scene"]) for guide in guides],
        **_working(request),
    )


def _working(request: Request) -> dict[str, Any]:
    """What is to be said of working it out."""
    folder = bench_of(request).folder
    worked = (folder / FOLDER / FILE).is_file()
    stale = not worked or _changed(folder)
    return {"worked": worked, "stale": stale, "moving": long_work_of(request, "move").state}


@router.post("/mechanism/work-out")
def work_out(request: Request) -> Response:
    """Begin to work out what moves."""
    move = partial(_move, request.app.state.program.move, bench_of(request).folder)
    long_work_of(request, "move").start(move)
    if not asks_a_piece(request):
        return onward("/mechanism")
    return part_of_page("working_out.html", **_working(request))


def _move(move: Any, folder: Path, tell: Tell) -> None:
    """Work out what moves, in the other process."""
    move(folder, progress=tell)


def _data(scene: dict[str, Any] | None) -> str:
    # "</" may not stand within a script
    return json.dumps(scene).replace("</", "<\\/") if scene else ""


def _changed(folder: Path) -> bool:
    """Was the drawing written since?"""
    written = folder / "build.yaml"
    return written.stat().st_mtime > (folder / FOLDER / FILE).stat().st_mtime


@router.get("/mechanism/show.js")
def show() -> Response:
    """The script that shows a scene: the pack's own, with its libraries where they lie here."""
    text = (files("barstock") / "pack" / "guide_scene.js").read_text("utf-8")
    text = text.replace('from "three"', f'from "{THREE}"')
    return _script(text.replace('from "orbit"', 'from "/mechanism/orbit.js"'))


@router.get("/mechanism/orbit.js")
def orbit() -> Response:
    """The script that turns a scene with a finger, likewise."""
    vendor = files("barstock") / "web" / "static" / "vendor" / "three" / "OrbitControls.js"
    text = vendor.read_text("utf-8")
    return _script(text.replace("from 'three'", f"from '{THREE}'"))


def _script(text: str) -> Response:
    return Response(text, media_type="text/javascript")


@router.get("/mechanism/picture/{number:int}/{name}")
def picture(request: Request, number: int, name: str) -> Response:
    """A picture of a guide that was written, and no other file."""
    folder = bench_of(request).folder / FOLDER
    found = read_record(folder)
    guides = found["guides"] if found else []
    if not 1 <= number <= len(guides) or name not in guides[number - 1]["pictures"]:
        raise HTTPException(404)
    path = folder / name
    if path.parent != folder or not path.is_file():
        raise HTTPException(404)
    return FileResponse(path, media_type="image/svg+xml")
