"""The pack's pictures: the work in each setup, and the parts' drawings; kept by content."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from functools import partial
from pathlib import Path

from barstock import methods, pack, sheets, solids
from barstock.drawing.model import Build
from barstock.pack.kept import digest, kept, program
from barstock.planning.route import Route, Setup
from barstock.proving.record import Proof, Stage
from barstock.proving.stored import key_of
from barstock.workshop.model import MachineKind

Progress = Callable[[str, float], None]

HOLDING = (MachineKind.MILL, MachineKind.DRILL_PRESS)
"""Machines whose vise is drawn."""
WORDS = {"why", "minutes", "picture"}
"""Fields of a setup that its picture does not show."""


def setup_pictures(
    route: Route, proof: Proof, cache: Path, progress: Progress
) -> dict[str, str]:
    """The SVG of every setup whose work the proof has held, by the setup's id."""
    from barstock.pack.pictures import setup_picture

    source = program(pack) + program(solids)
    stages = proof.stages
    shown = {}
    for n, setup in enumerate(route.setups):
        stage = stages.get(setup.id)
        if stage is None or setup.machine_kind not in HOLDING:
            continue
        progress(f"picture of setup {setup.id}", n / len(route.setups))

        def draw(draft: Path, setup: Setup = setup, stage: Stage = stage) -> None:
            svg = setup_picture(setup, stage.solid, stage.fresh)
            (draft / "picture.svg").write_text(svg, encoding="utf-8")

        key = digest(*_until(route, setup, stage.part), source)
        made = kept(cache / "pictures", key, draw)
        shown[setup.id] = (made / "picture.svg").read_text(encoding="utf-8")
    return shown


def _until(route: Route, last: Setup, part: str) -> list[str]:
    """All that the work of a setup is made by: its bars, and its setups to this one."""
    bars = [bar for bar in route.bars if bar.part == part]
    works = {part, *(bar.id for bar in bars)}
    setups = route.setups[: route.setups.index(last) + 1]
    made = [bar.model_dump_json() for bar in bars]
    return made + [s.model_dump_json(exclude=WORDS) for s in setups if s.work in works]


def part_drawings(
    build: Build, folder: Path, paper: str, cache: Path
) -> tuple[dict[str, str], list[Path]]:
    """Draw every part into a folder; each drawing's SVG by the part's name, and the files."""
    from barstock.sheets.draw import draw_all

    folder.mkdir(parents=True, exist_ok=True)
    source = program(sheets) + program(methods)
    shown, files = {}, []
    for part in build.parts:
        on_part = key_of(part, build.least_wall, [], [])
        key = digest(on_part, build.name, build.projection, build.general, paper, source)
        made = kept(cache / "drawings", key, partial(draw_all, build, part=part.name, paper=paper))
        for file in sorted(made.iterdir()):
            files.append(Path(shutil.copy(file, folder)))
            if file.suffix == ".svg":
                shown[part.name] = file.read_text(encoding="utf-8")
    return shown, files
