"""Starts the bench pages: chooses names and port, opens the browser, greets with the mark to pair
by.
"""

from __future__ import annotations

import io
import socket
import sys
import threading
import webbrowser
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from types import FrameType

import segno
import uvicorn

from barstock.bench.log import Log
from barstock.errors import WrongUseError
from barstock.web.access import Access
from barstock.web.app import ProgramFunctions, make_app
from barstock.web.bench_state import BenchState
from barstock.web.pairing import Pairing, spaced

PORT = 7319
LOOPBACK = ("127.0.0.1", "localhost", "[::1]")


@dataclass(frozen=True)
class Serving:
    """How the pages are served. lan: to other devices too; browser: opened at the start."""

    port: int = PORT
    lan: bool = False
    browser: bool = True


def serve(folder: Path, log: Log, program: ProgramFunctions, how: Serving) -> None:
    """Serve a build's pages until stopped. Raises WrongUseError where the port is taken."""
    bound = _bind("0.0.0.0" if how.lan else "127.0.0.1", how.port)
    port = bound.getsockname()[1]
    names = {*LOOPBACK, *(_names() if how.lan else ())}
    hosts = frozenset(f"{name.lower()}:{port}" for name in names)
    address = f"http://{_address() if how.lan else LOOPBACK[0]}:{port}"
    pairing = Pairing(log) if how.lan else None
    if how.lan:
        program = replace(program, plan=partial(program.plan, bench_address=address))
    app = make_app(BenchState(folder, log), program, hosts, address, pairing)
    print(_greeting(address, pairing), flush=True)
    if how.browser:
        _open(f"http://{LOOPBACK[0]}:{port}", pairing)
    config = uvicorn.Config(app, log_level="warning", server_header=False, date_header=False,
                            timeout_graceful_shutdown=2)  # fmt: skip
    with suppress(KeyboardInterrupt):
        _Server(config, app).run(sockets=[bound])


class _Server(uvicorn.Server):
    """A server that lets go of the pages that listen for changes when it is to stop."""

    def __init__(self, config: uvicorn.Config, pages: Access) -> None:
        super().__init__(config)
        self.pages = pages

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """Let the listening pages go, then stop."""
        self.pages.let_go()
        super().handle_exit(sig, frame)


def _bind(name: str, port: int) -> socket.socket:
    # named as TCP, so that what it accepts sends small answers at once and not 40 ms later
    found = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        found.bind((name, port))
        found.listen()
    except OSError as wrong:
        raise WrongUseError(
            f"port {port} cannot be had ({wrong.strerror}); name another with --port"
        ) from wrong
    return found


def _address() -> str:
    """This computer's own address in its network."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # nothing is sent: it only picks the way out
        except OSError:
            return LOOPBACK[0]
        return str(probe.getsockname()[0])


def _names() -> set[str]:
    """The names other devices know this computer by."""
    name = socket.gethostname()
    return {_address(), name, f"{name}.local"}


def _greeting(address: str, pairing: Pairing | None) -> str:
    if pairing is None:
        return f"the bench pages: {address}  (stop with Ctrl-C)"
    code = pairing.code()
    mark = io.StringIO()
    segno.make(f"{address}/pair#{code}", error="m", micro=False).terminal(mark, compact=True)
    told = f"pair a device: read this mark, or open {address}/pair and type {spaced(code)}"
    shown = mark.getvalue() if sys.stdout.isatty() else ""
    return f"{shown}\n{told}\n(good once, for ten minutes; stop with Ctrl-C)".lstrip("\n")


def _open(address: str, pairing: Pairing | None) -> None:
    url = f"{address}/pair#{pairing.code()}" if pairing else address
    threading.Timer(0.7, webbrowser.open, (url,)).start()
