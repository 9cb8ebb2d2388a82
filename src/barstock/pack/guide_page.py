"""What moves as one HTML page: verdicts, the block to set moving, pictures, charts. Nothing is
fetched; the little script and the solids lie in the page."""

from __future__ import annotations

import json
from base64 import b64encode
from collections.abc import Iterator, Sequence
from html import escape
from pathlib import Path
from typing import Any

from barstock.mechanism.guides.assembly import Stood, stood
from barstock.mechanism.guides.chart import region_chart
from barstock.mechanism.guides.judged import Judged
from barstock.mechanism.guides.region import region
from barstock.mechanism.guides.said import CAUTION, made_said, said
from barstock.mechanism.ride_said import verdicts
from barstock.mechanism.whole import Moved
from barstock.pack.guide_pictures import pictures
from barstock.pack.guide_record import FILE as RECORD
from barstock.pack.guide_record import record
from barstock.pack.guide_scene import scripts
from barstock.sheets.whole_files import write_whole

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
    """The page. drawn: SVG texts by guide and title; told: the record written beside it."""
    style, own, script = (
        Path(__file__).with_name(name).read_text(encoding="utf-8")
        for name in ("page.css", "guide_page.css", "guide_scene.js")
    )
    vendor = {path.name: path.read_text(encoding="utf-8") for path in VENDOR.glob("*.js")}
    imports = json.dumps({"imports": scripts(vendor)})
    title = escape(f"{found.build.name}: will it move?")
    body = [
        f'<section class="sheet"><h1>{title}</h1><div class="rule"></div>{_first(told["first"])}'
    ]
    body.append(f'<div class="caution"><b>Caution.</b> {escape(CAUTION)}</div></section>')
    body += [
        _guide(one, of["scene"], drawn[one.guide.name])
        for one, of in zip(found.guides.values(), told["guides"], strict=True)
    ]
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{title}</title>\n<style>\n{style}{own}</style>\n"
        f'<script type="importmap">{imports}</script></head>\n<body>\n'
        + "\n".join(body)
        + f'\n<script type="module">\n{script}</script>\n</body></html>\n'
    )


def _verdicts(found: Moved) -> list[str]:
    """Of the ride and of sets as made."""
    lines: list[str] = []
    if found.ride is not None:
        for verdict in verdicts(found.ride):
            lines.append(("" if verdict.holds is not False else "NOT GOOD: ") + verdict.words)
    for name, made in found.made.items():
        lines += [line.strip() for line in made_said(name, made)]
    return lines


def _first(verdicts: Sequence[str]) -> str:
    items = "".join(f"<li>{escape(line)}</li>" for line in verdicts)
    return f'<ul class="verdicts">{items}</ul>' if items else ""


def _guide(judged: Judged, scene: Any, drawn: dict[str, str]) -> str:
    lines = list(said(judged))[1:]
    items = "".join(
        f"<li{' class=more' if line.startswith('    ') else ''}>{escape(line.strip())}</li>"
        for line in lines
    )
    name = escape(judged.guide.name)
    return (
        f'<section class="sheet"><h2>{name[:1].upper()}{name[1:]}</h2><div class="rule"></div>'
        f'<ul class="verdicts">{items}</ul>{_scene(scene)}'
        f'<div class="pictures">{"".join(_figures(drawn))}</div></section>'
    )


def _figures(drawn: dict[str, str]) -> Iterator[str]:
    for title, svg in drawn.items():
        words = escape(_words(title))
        data = b64encode(svg.encode()).decode()
        yield (
            f'<figure><img alt="{words}" src="data:image/svg+xml;base64,{data}">'
            f"<figcaption>{words}</figcaption></figure>"
        )


def _scene(scene: Any) -> str:
    if scene is None:
        return ""
    data = json.dumps(scene).replace("</", "<\\/")  # "</" may not stand within a script
    return (
        f'<div class="scene"><script type="application/json">{data}</script>'
        '<div class="handles"><button type="button">move it</button>'
        "<label>motion <select></select></label>"
        '<label>from stop to stop <input class="amount" type="range" min="-1" max="1" '
        'step="0.01" value="0"></label>'
        '<label>apart <input class="apart" type="range" min="0" max="1" step="0.01" value="0">'
        '</label><label><input class="glass" type="checkbox"> guide as of glass</label></div>'
        '<div class="stage"></div><p><output></output></p></div>'
    )
