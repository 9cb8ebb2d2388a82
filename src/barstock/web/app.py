"""The application behind the bench pages: its pages, its static files, and what guards them."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import Response
from fastapi.staticfiles import StaticFiles
from sqlalchemy.exc import SQLAlchemyError
from starlette.exceptions import HTTPException

from barstock.solids.workers import Workers
from barstock.web.access import Access
from barstock.web.bench_state import BenchState
from barstock.web.long_work import LongWork, Tell
from barstock.web.page_words import say
from barstock.web.pairing import Pairing
from barstock.web.rendering import asks_a_piece, log_away, whole_page
from barstock.web.replanning import Planner
from barstock.web.text_check import TextCheck, TextChecker
from barstock.web.views import (
    clocks,
    devices,
    editing_text,
    editing_view,
    handbook,
    hearth_view,
    live,
    log_view,
    long_work_view,
    measuring,
    mechanism_view,
    overview,
    parts_view,
    round_view,
    setup_view,
)
from barstock.web.views.live import LogWatch

STATIC = Path(__file__).with_name("static")
PAGES = (
    overview,
    setup_view,
    round_view,
    measuring,
    mechanism_view,
    parts_view,
    hearth_view,
    clocks,
    handbook,
    log_view,
    devices,
    editing_view,
    editing_text,
    long_work_view,
    live,
)


class MoveWriter(Protocol):
    """Works out what moves in a folder and writes it there, as `movement.write_moving` does."""

    def __call__(self, folder: Path, *, progress: Tell) -> object:
        """Work out what moves in the folder, telling how far it has come."""


@dataclass(frozen=True)
class ProgramFunctions:
    """The functions of the program that the pages have carried out. They are pickled."""

    plan: Planner
    look: TextCheck
    move: MoveWriter


def make_app(
    bench: BenchState,
    program: ProgramFunctions,
    hosts: frozenset[str],
    address: str,
    pairing: Pairing | None = None,
) -> Access:
    """The application that serves a build's pages. hosts: names with ports it answers to; address:
    of the first page.

    pairing: who may come in; None where only this computer reaches it.
    """

    @asynccontextmanager
    async def life(app: FastAPI) -> AsyncIterator[None]:
        app.state.watch = LogWatch(bench)
        watching = asyncio.create_task(app.state.watch.run())
        with Workers(1) as workers:
            app.state.workers = workers
            app.state.checker = TextChecker(bench.folder, program.look, workers)
            yield
        for long_work in app.state.long_works.values():
            long_work.stop()
        watching.cancel()
        with suppress(asyncio.CancelledError):
            await watching

    app = FastAPI(docs_url=None, redoc_url=None, openapi_url=None, lifespan=life)
    app.state.bench, app.state.pairing, app.state.address = bench, pairing, address
    app.state.program, app.state.shown_code = program, ""
    app.state.long_works = {name: LongWork() for name in long_work_view.PAGES}
    for pages in PAGES:
        app.include_router(pages.router)
    app.mount("/static", StaticFiles(directory=STATIC))
    app.add_exception_handler(HTTPException, _refused)  # type: ignore[arg-type]
    app.add_exception_handler(404, _not_here)
    app.add_exception_handler(RequestValidationError, _not_here)
    app.add_exception_handler(SQLAlchemyError, _out_of_reach)
    app.add_exception_handler(Exception, _broken)
    return Access(app, hosts, pairing)


def _page(request: Request, status: int, title: str, words: str) -> Response:
    if asks_a_piece(request):
        return Response(words, status)
    return whole_page(request, "error.html", "", status, title=title, words=words)


async def _not_here(request: Request, wrong: Exception) -> Response:
    return await asyncio.to_thread(_page, request, 404, say("not here title"), say("not here"))


async def _refused(request: Request, wrong: HTTPException) -> Response:
    return Response(str(wrong.detail), wrong.status_code)


async def _out_of_reach(request: Request, wrong: Exception) -> Response:
    reads = request.method in ("GET", "HEAD") and not asks_a_piece(request)
    return log_away(wrong, reads and "text/html" in request.headers.get("accept", ""))


async def _broken(request: Request, wrong: Exception) -> Response:
    logging.getLogger("barstock").error("%s %s", request.method, request.url.path, exc_info=wrong)
    return await asyncio.to_thread(_page, request, 500, say("broken title"), say("broken"))
