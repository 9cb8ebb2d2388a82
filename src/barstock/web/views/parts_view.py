"""The pages of the parts with their drawings, and their sizes as made."""

from __future__ import annotations

import re

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import FileResponse, Response

from barstock.bench.progress import SetupLeft
from barstock.drawing.build import Part
from barstock.quantities import Unit
from barstock.route import Expect
from barstock.web.bench_state import BenchSnapshot
from barstock.web.rendering import bench_of, unit_of, whole_page
from barstock.web.views.measuring import Judgement, judged
from barstock.words.left_to_you import made_as

router = APIRouter()
_BOX = re.compile(r'viewBox="[\d.\s-]*?([\d.]+)[\s,]+([\d.]+)"')


@router.get("/parts")
def parts(request: Request) -> Response:
    """The page of all parts, and how many of each are done."""
    bench = bench_of(request)
    route = bench.plan.route
    listed = [
        {"part": part, "done": _done(lefts), "made": made_as(part, route.left), "setups": lefts}
        for part in bench.plan.build.parts
        for lefts in [_lefts(bench, part)]
    ]
    return whole_page(request, "parts.html", "parts", listed=listed)


def _lefts(bench: BenchSnapshot, part: Part) -> list[SetupLeft]:
    return [one for one in bench.lefts if bench.plan.part_of(one.setup) == part.name]


def _done(lefts: list[SetupLeft]) -> int:
    """Pieces that have every operation; none as long as a setup of the part is not begun."""
    pieces = [left.done for left in lefts if left.setup.stage == "piece"]
    return min(pieces, default=0)


def _part(request: Request, number: int) -> Part:
    found = bench_of(request).plan.build.parts
    if not 1 <= number <= len(found):
        raise HTTPException(404)
    return found[number - 1]


@router.get("/parts/{number:int}")
def part(request: Request, number: int) -> Response:
    """A part's drawing, its setups and its sizes as made."""
    bench, one = bench_of(request), _part(request, number)
    path = bench.plan.drawings.get(one.name)
    box = _BOX.search(path.read_text(encoding="utf-8")[:2000]) if path else None
    return whole_page(
        request,
        "part.html",
        "parts",
        part=one,
        lefts=_lefts(bench, one),
        drawing=f"/drawing/{number}?{bench.plan.stamp}" if path else "",
        wide=box[1] if box else "297",
        high=box[2] if box else "210",
        sizes=_sizes(request, bench, one),
        left=[p for p in bench.plan.pack(unit_of(request)).left if p.part == one.name],
    )


def _sizes(request: Request, bench: BenchSnapshot, one: Part) -> list[Judgement]:
    checks: dict[str, Expect] = {
        check.name: check
        for s in bench.plan.route.setups
        if bench.plan.part_of(s) == one.name
        for o in s.operations
        for check in o.checks
    }
    wanted = unit_of(request)
    unit = Unit(wanted) if wanted in list(Unit) else one.unit
    last = {(e.dimension, e.nth): e for e in bench.log_state.work.sizes if e.work == one.name}
    found = sorted(last.items(), key=lambda item: item[0])
    return [judged(checks[name], entry, unit) for (name, _), entry in found if name in checks]


@router.get("/drawing/{number:int}")
def drawing(request: Request, number: int) -> Response:
    """A part's drawing as SVG."""
    path = bench_of(request).plan.drawings.get(_part(request, number).name)
    if path is None or not path.is_file():
        raise HTTPException(404)
    return FileResponse(
        path, media_type="image/svg+xml", headers={"Cache-Control": "private, max-age=86400"}
    )
