"""Tells every open page when something was entered, on whatever device."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator

from fastapi import APIRouter, Request
from fastapi.responses import StreamingResponse
from sqlalchemy.exc import SQLAlchemyError

from barstock.web.bench_state import BenchState

router = APIRouter()
EVERY = 1.0
"""How often the log is looked at [seconds]: also what other servers wrote into it shows."""


class LogWatch:
    """Watches the log for all pages together. over: the server stops, so pages are let go."""

    def __init__(self, bench: BenchState) -> None:
        self.bench = bench
        self.row = bench.log_state.row
        self.over = False
        self._changed = asyncio.Condition()

    async def run(self) -> None:
        """Look at the log again and again until the server stops."""
        while True:
            await asyncio.sleep(EVERY)
            try:
                row = await asyncio.to_thread(lambda: self.bench.log_state.row)
            except SQLAlchemyError:  # out of reach for now; whoever asks is told
                row = self.row
            async with self._changed:
                self.row = row
                self._changed.notify_all()

    async def rows(self) -> AsyncIterator[bytes]:
        """The last row at first, then after every change, with a sign of life in between."""
        told = -1
        while not self.over:
            if self.row != told:
                told = self.row
                yield f"data: {told}\n\n".encode()
            else:
                yield b": \n\n"
            async with self._changed:
                await self._changed.wait()


@router.get("/events")
async def events(request: Request) -> StreamingResponse:
    """The stream of the log's last row, as it changes."""
    watch: LogWatch = request.app.state.watch
    return StreamingResponse(watch.rows(), media_type="text/event-stream")
