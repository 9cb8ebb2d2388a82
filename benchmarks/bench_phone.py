"""How the pages come and turn on a phone: a browser 360 px wide, DPR 3, slowed six times.

python benchmarks/bench_phone.py DIR [--slow 6]

DIR is a planned build. Says of each page when something is first painted and how far things jump
while it comes (cumulative layout shift), and of the work in the round how many pictures a second
are drawn while a finger turns it. Drawing is done in software here: a phone has a processor for it.
"""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from statistics import median
from typing import Any

from playwright.sync_api import Page, sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.web.browsing import CHROMIUM, PHONE, SHIFTS, serving
from tests.web.test_round import SOFTLY

LEAST, MOST = 30.0, 0.1
"""Pictures a second and layout shift that are promised."""
TURNS = 120
"""Steps of the finger."""
PAINTED = """() => new Promise((done) => new PerformanceObserver((list) => {
  for (const e of list.getEntries()) if (e.name === 'first-contentful-paint') done(e.startTime);
}).observe({ type: 'paint', buffered: true }))"""
COUNTED = """() => { window.drawn = 0; window.begun = performance.now();
  new MutationObserver((all) => { window.drawn += all.length; window.last = performance.now(); })
    .observe(document.getElementById('round'), { attributeFilter: ['data-drawn'] }); }"""


def turned(page: Page, line: Any) -> float:
    """Pictures a second while a finger goes over the work."""
    page.wait_for_selector("#round[data-drawn]")
    page.wait_for_timeout(500)
    box = page.locator("#round").bounding_box()
    assert box
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.evaluate(COUNTED)
    touch = lambda kind, points: line.send(  # noqa: E731
        "Input.dispatchTouchEvent", {"type": kind, "touchPoints": points}
    )
    touch("touchStart", [{"x": x, "y": y}])
    for n in range(TURNS):
        touch("touchMove", [{"x": x + 100 * ((n % 40) / 20 - 1), "y": y + n % 7}])
    touch("touchEnd", [])
    drawn, spent = page.evaluate("[window.drawn, window.last - window.begun]")
    return float(1000 * drawn / spent)


def main() -> int:
    """0 where what is promised is kept."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--slow", type=float, default=6.0)
    parser.add_argument("--setup", default="", help="the one turned; the largest without it")
    asked = parser.parse_args()
    files = sorted((asked.folder / "out" / "round").iterdir(), key=lambda f: f.stat().st_size)
    setup = asked.setup or files[-1].name.split(".")[0].removeprefix("setup-")
    kept = True
    with serving(asked.folder) as (address, _), sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=SOFTLY)
        for path in ("/", f"/setup/{setup}/1", f"/setup/{setup}/3", f"/setup/{setup}/round"):
            painted, shifts, rate = [], 0.0, 0.0
            for _ in range(3):
                context = browser.new_context(
                    viewport=PHONE,
                    device_scale_factor=3,
                    has_touch=True,
                    is_mobile=True,  # type: ignore[arg-type]
                )
                page = context.new_page()
                line = context.new_cdp_session(page)
                line.send("Emulation.setCPUThrottlingRate", {"rate": asked.slow})
                page.goto(address + path)
                if path.endswith("round"):
                    rate = max(rate, turned(page, line))
                painted.append(page.evaluate(PAINTED))
                shifts = max(shifts, page.evaluate(SHIFTS))
                context.close()
            told = {"first paint ms": round(median(painted)), "layout shift": round(shifts, 3)}
            if rate:
                told["pictures a second"] = round(rate, 1)
                kept = kept and rate >= LEAST
            kept = kept and shifts <= MOST
            print(path, json.dumps(told), flush=True)
        browser.close()
    print("kept" if kept else "NOT kept")
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
