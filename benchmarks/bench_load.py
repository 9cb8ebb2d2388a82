"""How quickly the setup in hand answers while twenty devices tick at once.

python benchmarks/bench_load.py [--devices 20] [--seconds 60] [--folder DIR]

Plans the sample wagon (or takes a planned build), starts 'barstock bench', and lets every device do
what one at a machine does: open the card, tick a copy, and fetch again what the others ticked, all
without a pause but the one a person makes. Fails where the setup's page takes more than 100 ms at
the median or 300 ms at the 99th percentile.
"""

from __future__ import annotations

import argparse
import http.client
import json
import random
import shutil
import socket
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path
from statistics import median
from urllib.parse import urlencode

import barstock
from barstock import api

MEDIAN, LAST = 100.0, 300.0
"""What is promised [ms]."""
PAUSE = 1.0
"""Between a device's ticks [seconds]: more than anyone ticks."""


@dataclass
class Times:
    """Of answers [ms]."""

    page: list[float] = field(default_factory=list)
    tick: list[float] = field(default_factory=list)
    boxes: list[float] = field(default_factory=list)


class Device:
    """One browser."""

    def __init__(self, port: int, seed: int) -> None:
        self.line = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
        self.origin = f"http://127.0.0.1:{port}"
        self.chance = random.Random(seed)
        self.times = Times()

    def ask(self, into: list[float], path: str, form: dict[str, object] | None = None) -> None:
        """Ask, take the time, and insist on the answer."""
        headers = {"Origin": self.origin, "HX-Request": "true", "Accept": "text/html"}
        body = None
        if form is not None:
            body = urlencode(form)
            headers["Content-Type"] = "application/x-www-form-urlencoded"
        else:
            del headers["HX-Request"]
        start = time.perf_counter()
        self.line.request("POST" if form is not None else "GET", path, body, headers)
        answer = self.line.getresponse()
        answer.read()
        into.append((time.perf_counter() - start) * 1000)
        assert answer.status == 200, (path, answer.status)

    def listen(self) -> None:
        """Keep a page open that is told of every change, beside what is asked."""
        self.told = http.client.HTTPConnection("127.0.0.1", self.line.port, timeout=30)
        self.told.request("GET", "/events")
        assert self.told.getresponse().status == 200

    def work(self, cards: list[tuple[str, int]], seconds: float) -> Times:
        """Until the time is over."""
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            time.sleep(self.chance.uniform(0.5, 1.5) * PAUSE)
            path, copies = self.chance.choice(cards)
            self.ask(self.times.page, path)
            nth = self.chance.randint(1, copies)
            done = self.chance.choice(("yes", "yes", "no"))
            self.ask(self.times.tick, f"{path}/tick", {"nth": nth, "done": done})
            self.ask(self.times.boxes, f"{path}/copies")
        return self.times


def cards_with_copies(folder: Path) -> list[tuple[str, int]]:
    """The addresses of all cards with copies to tick, and how many they are."""
    from barstock.web.cards import cards
    from barstock.web.plan_shown import load

    plan = load(folder)
    return [
        (f"/setup/{setup.id}/{card.number}", len(card.ticks.boxes))
        for setup in plan.route.setups
        for card in cards(plan.page(setup.id, "as drawn"), setup)
        if card.ticks is not None
    ]


def percentile(values: list[float], share: float) -> float:
    """The value that a share of all does not pass."""
    return sorted(values)[min(len(values) - 1, int(share * len(values)))]


def run(folder: Path, devices: int, seconds: float) -> Times:
    """All devices at once against a server of their own; the times of all answers."""
    cards = cards_with_copies(folder)
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    command = [sys.executable, "-m", "barstock.cli", "bench", str(folder), "--no-browser"]
    with subprocess.Popen([*command, "--port", str(port)], stdout=subprocess.PIPE) as server:
        assert server.stdout
        server.stdout.readline()
        try:
            working = [Device(port, seed) for seed in range(devices)]
            working[0].ask([], "/")  # the first page is answered once everything is loaded
            for one in working:
                one.listen()
            with ThreadPoolExecutor(devices) as pool:
                found = list(pool.map(lambda d: d.work(cards, seconds), working))
        finally:
            server.terminate()
    every = Times()
    for times in found:
        for name in ("page", "tick", "boxes"):
            getattr(every, name).extend(getattr(times, name))
    return every


def main() -> int:
    """0 where what is promised is kept."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--devices", type=int, default=20)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--folder", type=Path)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="barstock-") as place:
        folder = Path(place) / "build"
        if asked.folder:
            shutil.copytree(asked.folder, folder, ignore=shutil.ignore_patterns("*.db*"))
        else:
            samples = Path(barstock.__file__).parent / "samples" / "wagon"
            shutil.copytree(samples, folder)
            api.plan(folder)
        times = run(folder, asked.devices, asked.seconds)
    for name in ("page", "tick", "boxes"):
        values = getattr(times, name)
        told = {
            "asked": len(values),
            "median ms": round(median(values), 1),
            "99th percentile ms": round(percentile(values, 0.99), 1),
            "slowest ms": round(max(values), 1),
        }
        print(json.dumps({name: told}))
    kept = median(times.page) <= MEDIAN and percentile(times.page, 0.99) <= LAST
    print("kept" if kept else "NOT kept", f"(promised: {MEDIAN:.0f} and {LAST:.0f} ms)")
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
