"""The pack's pictures: the work in each setup, and the parts' drawings; kept by content."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from concurrent.futures import Future
from functools import partial
from pathlib import Path

from barstock.drawing.build import Build
from barstock.machines import machine_type
from barstock.pack.drawing_date import issued
from barstock.pack.heat_pages import heat_picture_name
from barstock.proving.proof_record import Proof, Stage
from barstock.route import Fabrication, Heat, Route, Setup
from barstock.solids.shapes import Solid
from barstock.solids.workers import Workers
from barstock.store.content import key
from barstock.store.kept_folders import Kept

Progress = Callable[[str, float], None]

WORDS = {"id", "pieces", "left", "steps", "cautions", "why", "minutes", "marks", "picture"}
"""Fields of a setup that its picture does not show."""


def draw_parts(build: Build, paper: str, cache: Path, workers: Workers) -> dict[str, Future[Path]]:
    """Have each part drawn; the folder of its drawing files, by the part's name."""
    wanted = _drawings(build, paper, cache / "drawings")
    return {part: workers.made(one) for part, one in wanted.items()}


def picture_setups(
    route: Route, proof: Proof, cache: Path, workers: Workers, progress: Progress
) -> dict[str, str]:
    """The SVG of each setup's work, by the setup's id. Raises OSError."""
    wanted = _pictures(route, proof, cache / "pictures")
    asked = {setup: workers.made(one) for setup, one in wanted.items()}
    shown: dict[str, str] = {}
    for n, (setup, answer) in enumerate(asked.items()):
        progress(wanted[setup].name, n / len(asked))
        shown |= _picture_of(setup, answer)
    return shown


def picture_heats(
    route: Route, proof: Proof, cache: Path, workers: Workers, progress: Progress
) -> dict[str, str]:
    """The SVG of each heat of a fabrication, by the picture's name. Raises OSError."""
    solids_of = {one.part: one.finished for one in proof.parts if one.finished is not None}
    asked, as_drawn = {}, {left.part for left in route.left}
    for n, one in enumerate(route.fabrications, 1):
        parts = [*(p.part for p in one.pieces), *([one.fixture.part] if one.fixture else [])]
        finished = {name: solids_of[name] for name in parts if name in solids_of}
        if len(finished) < len(set(parts)):
            continue
        made = [text for name in finished for text in made_by(route, name)]
        made += [f"{name}: {finished[name].volume:.6f}" for name in finished if name in as_drawn]
        for heat in one.heats:
            name = heat_picture_name(n, heat)
            draw = partial(_heat_picture, one, heat, finished)
            picture = Kept(
                cache / "pictures", key(made, one, heat.number), draw, f"picture of {name}"
            )
            asked[name] = workers.made(picture)
    shown: dict[str, str] = {}
    for n, (name, answer) in enumerate(asked.items()):
        progress(name, n / len(asked))
        shown |= _picture_of(name, answer)
    return shown


def _picture_of(name: str, answer: Future[Path]) -> dict[str, str]:
    """A picture by its name; none where the solids cannot be shown, which stops no page."""
    wrong = answer.exception()
    if wrong is not None and not isinstance(wrong, OSError):
        return {}
    return {name: (answer.result() / "picture.svg").read_text(encoding="utf-8")}


def blanks(route: Route) -> dict[str, str]:
    """Empty pictures, by the names of all that a route can be shown by."""
    from barstock.pack.drawing_style import framed

    names = [setup.id for setup in route.setups if machine_type(setup.machine_kind).table]
    for n, one in enumerate(route.fabrications, 1):
        names += [heat_picture_name(n, heat) for heat in one.heats]
    return dict.fromkeys(names, framed(()))


def _heat_picture(
    one: Fabrication, heat: Heat, finished: Mapping[str, Solid], folder: Path
) -> None:
    from barstock.pack.heat_pictures import heat_picture

    (folder / "picture.svg").write_text(heat_picture(one, heat, finished), encoding="utf-8")


def made_by(route: Route, part: str) -> list[str]:
    """Everything that a part is made by: its bars, and all its setups."""
    bars = [bar for bar in route.bars if bar.part == part]
    works = {part, *(bar.id for bar in bars)}
    made = [bar.model_dump_json() for bar in bars]
    return made + [s.model_dump_json(exclude=WORDS) for s in route.setups if s.work in works]


def _pictures(route: Route, proof: Proof, cache: Path) -> dict[str, Kept]:
    stages, wanted = proof.stages, {}
    for setup in route.setups:
        stage = stages.get(setup.id)
        if stage is not None and machine_type(setup.machine_kind).table:
            made = _until(route, setup, stage.part)
            draw = partial(_picture, setup, stage)
            wanted[setup.id] = Kept(cache, key("setup", made), draw, f"picture of setup {setup.id}")
    return wanted


def _picture(setup: Setup, stage: Stage, folder: Path) -> None:
    from barstock.pack.setup_pictures import setup_picture

    svg = setup_picture(setup, stage.solid, stage.fresh)
    (folder / "picture.svg").write_text(svg, encoding="utf-8")


def _until(route: Route, last: Setup, part: str) -> list[str]:
    """All that the work of a setup is made by: its bars, and its setups to this one."""
    bars = [bar for bar in route.bars if bar.part == part]
    works = {part, *(bar.id for bar in bars)}
    setups = route.setups[: route.setups.index(last) + 1]
    made = [bar.model_dump_json() for bar in bars]
    made += [s.model_dump_json(exclude=WORDS) for s in setups if s.work in works]
    joined = next((one for one in route.fabrications if one.part == part), None)
    if joined is not None:
        made += [str(piece) for piece in joined.pieces]
        made += [text for piece in joined.pieces for text in made_by(route, piece.part)]
    return made


def _drawings(build: Build, paper: str, cache: Path) -> dict[str, Kept]:
    from barstock.sheets.draw import draw_all

    wanted, dates = {}, issued(build, cache.parent)
    for part in build.parts:
        said = (build.name, build.projection, build.general, paper, str(dates[part.name]))
        draw = partial(draw_all, build, part=part.name, paper=paper, dates=dates)
        wanted[part.name] = Kept(cache, key(part, *said), draw, f"drawing of {part.name}")
    return wanted
