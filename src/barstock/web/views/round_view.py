"""A setup's work in the round, turned with a finger and played from operation to operation."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, HTTPException, Query, Request
from fastapi.responses import FileResponse, Response

from barstock.pack.pack_pages import SetupPage
from barstock.pack.round_views import file_of, turned
from barstock.route import Setup
from barstock.store.kept_folders import CACHE
from barstock.web.bench_state import BenchSnapshot
from barstock.web.cards import Ticks
from barstock.web.page_words import say
from barstock.web.rendering import bench_of, whole_page
from barstock.web.views.finding import found_setup
from barstock.web.views.setup_view import picture_of
from barstock.words.operation_titles import title

router = APIRouter()
Step = Annotated[int | None, Query(ge=0, le=10_000)]


@router.get("/setup/{name}/round")
def turning(request: Request, name: str, step: Step = None) -> Response:
    """The page of the work after a step of the setup; without a step, as the log says it stands."""
    setup, page, cards = found_setup(request, name)
    bench = bench_of(request)
    steps = _steps(setup, page, bench)
    ticks = [card.ticks for card in cards if card.ticks is not None]
    at = _operations_done(setup, ticks, bench) if step is None else min(step, len(steps) - 1)
    return whole_page(
        request,
        "round.html",
        "setup",
        setup=setup,
        page=page,
        steps=steps,
        at=at,
        file=f"/round/{name}?{bench.plan.stamp}",
        picture=picture_of(bench, setup, page),
    )


def _steps(setup: Setup, page: SetupPage, bench: BenchSnapshot) -> list[tuple[str, str]]:
    """Title and tool of each step; the first is the work as it is loaded."""
    boxes = {box.number: box for one in page.passes for box in one.operations}
    found, read = [(say("round loaded"), "")], bench.plan.reader(setup)
    for n, operation in enumerate(setup.operations, 1):
        box = boxes.get(n)
        found.append((box.title, box.tool) if box else (title(operation, read), ""))
    return found


def _operations_done(setup: Setup, ticks: list[Ticks], bench: BenchSnapshot) -> int:
    """How many of its operations the copy in hand has: the first copy that lacks one."""
    work = bench.log_state.work
    copies = range(1, max((len(one.boxes) for one in ticks), default=0) + 1)
    for nth in copies:
        has = [work.has(operation.id, nth) for operation in setup.operations]
        if not all(has):
            return has.index(False)
    return len(setup.operations)


@router.get("/round/{name}")
def shapes(request: Request, name: str) -> Response:
    """The triangles of a setup, gzipped."""
    setup, _, _ = found_setup(request, name)
    bench = bench_of(request)
    part, file = file_of(bench.plan.route, setup)
    kept = turned(bench.plan.route, part, bench.folder / CACHE)
    try:
        path = request.app.state.workers.made(kept).result() / file
    except (ValueError, ArithmeticError):  # a route changed by hand that cannot be cut
        raise HTTPException(404) from None
    headers = {"Content-Encoding": "gzip", "Cache-Control": "private, max-age=86400"}
    return FileResponse(path, media_type="application/octet-stream", headers=headers)
