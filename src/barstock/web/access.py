"""Who may ask what of the pages; this is checked before anything else sees a request.

Names of this machine only (so that no other site's name can be made to point here), writes only
from our own pages, bodies of limited size, paired devices only where others can reach us; and on
every answer the headers that keep browsers from fetching, framing or guessing anything.
"""

from __future__ import annotations

import asyncio
from contextlib import suppress
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie
from pathlib import Path

from fastapi import FastAPI
from sqlalchemy.exc import SQLAlchemyError
from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import Message, Receive, Scope, Send

from barstock.reading.nodes import LARGEST
from barstock.web.page_words import say
from barstock.web.pairing import COOKIE, Pairing
from barstock.web.rendering import log_away

MOST = 64 * 1024
"""Largest body of a request [bytes]."""
MOST_HISTORY = 16 * 1024 * 1024
"""Largest history brought in [bytes]."""
LARGER = {"/log/bring-in": MOST_HISTORY, "/edit/text": 2 * LARGEST}
"""Bodies that may be larger: a history, and a whole build with what a form adds to it."""
LONGEST_PATH = 2000
FONTS = Path(__file__).with_name("static") / "fonts"
OPEN = {"/pair", "/static/bench.css", "/static/pair.js", "/static/mark.svg"} | {
    f"/static/fonts/{path.name}" for path in FONTS.glob("*.woff2")
}
"""All that a device may have before it is paired."""
READS = frozenset({"GET", "HEAD"})

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; "
        "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
}
HERE = "this computer"
"""The device's name where no pairing is asked."""


class TooLargeError(Exception):
    """A body that goes on past what is allowed."""


@dataclass
class Access:
    """Lets requests through to the pages, or refuses them. hosts: the names with ports we answer
    to; pairing: None where only loopback reaches us.
    """

    app: FastAPI
    hosts: frozenset[str]
    pairing: Pairing | None = None

    def let_go(self) -> None:
        """End the answers that go on for ever: the server is to stop."""
        self.app.state.watch.over = True

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request, or refuse to."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        most = LARGER.get(scope["path"], MOST)
        over = False

        async def limited() -> Message:
            nonlocal most, over
            message = await receive()
            most -= len(message.get("body", b""))
            over = over or most < 0
            if over:
                raise TooLargeError
            return message

        async def guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                found = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    found.setdefault(name, value)
                found.setdefault("Cache-Control", _cache_control(scope["path"]))
            await send(message)

        refused = self._refused(scope, headers, most) or await self._unpaired(scope, headers)
        if refused is not None:
            await refused(scope, receive, guarded)
            return

        async def unless_over(message: Message) -> None:
            if not over:
                await guarded(message)

        with suppress(TooLargeError):
            await self.app(scope, limited, unless_over)
        if over:
            await PlainTextResponse(say("too large"), 413)(scope, receive, guarded)

    def _refused(self, scope: Scope, headers: Headers, most: int) -> Response | None:
        host = headers.get("host", "").lower()
        if host not in self.hosts:
            return PlainTextResponse(say("wrong host"), 421)
        if len(scope["raw_path"] or b"") + len(scope["query_string"]) > LONGEST_PATH:
            return PlainTextResponse(say("too large"), 414)
        if scope["method"] not in READS and not _ours(headers, host):
            return PlainTextResponse(say("from elsewhere"), 403)
        length = headers.get("content-length", "0")
        if not length.isdigit() or int(length) > most:
            return PlainTextResponse(say("too large"), 413)
        return None

    async def _unpaired(self, scope: Scope, headers: Headers) -> Response | None:
        scope["state"] = {**scope.get("state", {}), "device": HERE if self.pairing is None else ""}
        if self.pairing is None or scope["path"] in OPEN:
            return None
        a_page = "text/html" in headers.get("accept", "") and scope["method"] in READS
        try:
            if self.pairing.stale:
                await asyncio.to_thread(self.pairing.refresh)
        except SQLAlchemyError as wrong:
            return log_away(wrong, a_page)
        device = self.pairing.device(cookie(headers, COOKIE))
        if device is None:
            told = PlainTextResponse(say("not paired"), 401)
            return RedirectResponse("/pair", 303) if a_page else told
        scope["state"]["device"] = device
        return None


def _cache_control(path: str) -> str:
    """How long a browser keeps an answer: founts for good, scripts as long as they stay alike."""
    if path.startswith("/static/fonts/"):
        return "max-age=31536000, immutable"
    return "no-cache" if path.startswith("/static/") else "no-store"


def cookie(headers: Headers, name: str) -> str | None:
    """The value of a cookie."""
    try:
        found = SimpleCookie(headers.get("cookie", "")).get(name)
    except CookieError:
        return None
    return found.value if found else None


def _ours(headers: Headers, host: str) -> bool:
    """Does a write come from one of our own pages? Browsers say from where it comes."""
    if headers.get("sec-fetch-site", "same-origin") != "same-origin":
        return False
    return headers.get("origin", "").lower() == f"http://{host}"
