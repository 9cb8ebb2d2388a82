"""Real devices at the real command: a server in its own process, Chromium as wide as they are."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page, Playwright

SEEN = Path(__file__).with_name("seen")
"""Pictures of every page, to look at; not kept in the repository."""
CHROMIUM = "/usr/bin/chromium"
QUIET = ["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"]

PHONE = {"width": 360, "height": 740}
TABLET = {"width": 820, "height": 1180}
ON_ITS_SIDE = {"width": 1180, "height": 820}
WIDE = {"width": 1600, "height": 1000}
DEVICES = {"phone": PHONE, "tablet": TABLET}

SHIFTS = """() => new Promise(done => {
  let sum = 0;
  new PerformanceObserver(list => { for (const e of list.getEntries()) sum += e.value; })
    .observe({ type: 'layout-shift', buffered: true });
  setTimeout(() => done(sum), 300);
})"""


def chromium(playwright: Playwright) -> Browser:
    """The browser that Debian brings."""
    return playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET)


@contextmanager
def serving(folder: Path, *options: str) -> Iterator[tuple[str, str]]:
    """'barstock bench' on a free port: the address of its pages, and what it greets with."""
    command = [sys.executable, "-m", "barstock.cli", "bench", str(folder), "--no-browser"]
    command += ["--port", str(free_port()), *options]
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    with subprocess.Popen(command, text=True, **pipes) as server:  # type: ignore[call-overload]
        assert server.stdout
        greeting = server.stdout.readline()
        try:
            assert "http://" in greeting, greeting
            address = greeting[greeting.index("http://") :].split()[0].removesuffix("/pair")
            yield address, greeting
        finally:
            server.terminate()
            _, complaints = server.communicate(timeout=20)
            assert "Traceback" not in complaints, complaints


def free_port() -> int:
    """A port nobody listens on."""
    import socket

    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@dataclass
class Device:
    """A browser at the bench, and all it asked for and complained of."""

    name: str
    page: Page
    address: str
    asked: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    def go(self, path: str) -> Page:
        """Open a page."""
        self.page.goto(self.address + path)
        return self.page

    def look(self, name: str) -> None:
        """Take a picture; nothing may overflow, nothing be unreadable for anyone."""
        SEEN.mkdir(exist_ok=True)
        self.page.screenshot(path=SEEN / f"{self.name}-{name}.png")
        wide = self.page.evaluate("document.documentElement.scrollWidth - innerWidth")
        assert wide <= 0, f"{name} is {wide} px too wide"
        size = self.page.viewport_size
        assert size
        # what has yet to be scrolled up from under the foot of the page is not hidden by it
        self.page.set_viewport_size({**size, "height": 5000})
        tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
        found = Axe().run(self.page, options={"runOnly": tags})
        self.page.set_viewport_size(size)
        assert found.violations_count == 0, found.generate_report()

    def done(self) -> None:
        """It asked for nothing elsewhere and complained of nothing."""
        assert not [url for url in self.asked if not url.startswith(self.address + "/")]
        assert self.complaints == [], self.complaints


@contextmanager
def device(
    browser: Browser, address: str, name: str = "tablet", scheme: str = "light", **more: object
) -> Iterator[Device]:
    """A device of that name; what it asked for is judged in the end."""
    size = DEVICES.get(name, TABLET)
    context: BrowserContext = browser.new_context(
        viewport=size,
        color_scheme=scheme,
        has_touch=True,
        **more,  # type: ignore[arg-type]
    )
    context.set_default_timeout(10_000)
    found = Device(name, context.new_page(), address)
    context.on("request", lambda request: found.asked.append(request.url))
    found.page.on("pageerror", lambda wrong: found.complaints.append(str(wrong)))
    found.page.on(
        "console", lambda m: found.complaints.append(m.text) if m.type == "error" else None
    )
    try:
        yield found
        found.done()
    finally:
        context.close()
