"""What moves as one HTML page: verdicts, the block to set moving, pictures, charts. Nothing is
fetched; the little script and the solids lie in the page.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from barstock.mechanism.guides.guide_assembly import Stood, stood
from barstock.mechanism.guides.guide_chart import region_chart
from barstock.mechanism.guides.guide_check import Judged
from barstock.mechanism.guides.guide_words import CAUTION, guide_lines, made_lines
from barstock.mechanism.guides.turning_room import region
from barstock.mechanism.mechanism_check import Moved
from barstock.mechanism.ride_words import verdicts
from barstock.pack.guide_pictures import pictures
from barstock.pack.guide_record import FILE as RECORD
from barstock.pack.guide_record import record
from barstock.pack.guide_scene import scripts
from barstock.pack.webpage import environment, picture_data, style
from barstock.store.whole_files import write_whole

VENDOR = Path(__file__).parents[1] / "web" / "static" / "vendor" / "three"
PAGE = "move.html"
TITLES = {
    "together": "together", "apart": "drawn apart",
    "cut along": "cut along its middle, seen from the right",
    "cut across": "cut across its middle, seen from above",
}  # fmt: skip


def write(found: Moved, folder: Path) -> list[Path]:
    """The page and every picture, each file whole or not at all. Raises OSError."""
    folder.mkdir(parents=True, exist_ok=True)
    standing = {name: stood(one.guide, found.build) for name, one in found.guides.items()}
    drawn = {name: _drawn(one, standing[name]) for name, one in found.guides.items()}
    files, shown = [], dict[str, dict[str, str]]()
    for number, (name, named) in enumerate(drawn.items(), 1):
        shown[name] = {}
        for title, svg in named.items():
            path = folder / f"guide-{number}-{title.replace(' ', '-')}.svg"
            write_whole(path, svg.encode())
            files.append(path)
            shown[name][path.name] = _words(title)
    told = record(found, standing, _verdicts(found), shown)
    data = folder / RECORD
    write_whole(data, json.dumps(told).encode())
    page = folder / PAGE
    write_whole(page, html(found, drawn, told).encode())
    return [page, *files, data]


def _words(title: str) -> str:
    return TITLES.get(title, f"{title}: the room for both at once")


def _drawn(judged: Judged, standing: Sequence[Stood]) -> dict[str, str]:
    """Pictures and charts of a guide by title."""
    drawn = pictures(standing)
    if judged.goes_in:
        asked = {name: freedom.asked for name, freedom in judged.freedoms.items()}
        title = f"{judged.guide.name}: tilt and pitch together"
        room = region(judged.faces, "tilt", "pitch")
        drawn["tilt and pitch"] = region_chart(title, room, asked)
    return drawn


def html(found: Moved, drawn: dict[str, dict[str, str]], told: dict[str, Any]) -> str:
    """The page as HTML. drawn: SVG texts by guide and title; told: the record written beside it."""
    vendor = {path.name: path.read_text(encoding="utf-8") for path in VENDOR.glob("*.js")}
    guides = [
        {
            "name": one.guide.name,
            "lines": list(guide_lines(one))[1:],
            "scene": _scene(of["scene"]),
            "pictures": [
                (_words(title), picture_data(svg)) for title, svg in drawn[one.guide.name].items()
            ],
        }
        for one, of in zip(found.guides.values(), told["guides"], strict=True)
    ]
    return (
        environment()
        .get_template("move.html")
        .render(
            title=f"{found.build.name}: will it move?",
            style=style("page.css", "guide_page.css"),
            imports=json.dumps({"imports": scripts(vendor)}),
            script=Path(__file__).with_name("guide_scene.js").read_text(encoding="utf-8"),
            first=told["first"],
            caution=CAUTION,
            guides=guides,
        )
    )


def _verdicts(found: Moved) -> list[str]:
    """Of the ride and of sets as made."""
    lines: list[str] = []
    if found.ride is not None:
        for verdict in verdicts(found.ride):
            lines.append(("" if verdict.holds is not False else "NOT GOOD: ") + verdict.words)
    for name, made in found.made.items():
        lines += [line.strip() for line in made_lines(name, made)]
    return lines


def _scene(scene: Any) -> str:
    """The scene as it stands within a script, where "</" may not."""
    return json.dumps(scene).replace("</", "<\\/") if scene is not None else ""
