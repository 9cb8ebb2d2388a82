"""What barstock does with a build, as functions: the command line and other programs call these.

`import barstock` brings them all: `barstock.check(folder)`, `barstock.plan(folder)` and so on. Each
takes the build's folder, and raises a `BarstockError` (errors.py) that can be shown as it is.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from barstock.api.telling import LeftOut, Progress, share_of, silent
from barstock.errors import FaultyError, PlanError, WrongUseError
from barstock.reading.faults import Fault, in_order, nearest
from barstock.store.kept_folders import CACHE

if TYPE_CHECKING:
    from barstock.api.proven_plan import ProvenPlan
    from barstock.drawing.build import Build, Part
    from barstock.handbook.answer import Found
    from barstock.pack.built_or_solid import Compared
    from barstock.pack.pack_files import Unpictured
    from barstock.proving.proof_record import Proof
    from barstock.route import Left, Route
    from barstock.route.explanation import Why
    from barstock.route.work_done import Standing
    from barstock.solids.workers import Workers
    from barstock.store.kept_folders import Kept
    from barstock.tolerancing.by_tool import ByTool
    from barstock.tolerancing.fits_of_build import Mated
    from barstock.tolerancing.guarantee import Guarantee
    from barstock.workshop.shop import Workshop

Folder = str | os.PathLike[str]
JOINED_WITH = {"hearth", "rack", "screws"}
"""Sections of the workshop that joining rests on."""
AT_HAND = ("barstock.methods.part_checks", "barstock.pack.moving_pages", "barstock.proving.prove")
"""What most of the tasks of a plan are in."""


@dataclass(frozen=True)
class Planned:
    """A build planned and proved, and the files written of it.

    faults: all that is wrong with, doubtful in or lacking from what was read; what has errors is
    left to the person, as is what finds no way that the proof passes.
    """

    build: Build
    workshop: Workshop
    route: Route
    proof: Proof
    folder: Path
    files: tuple[Path, ...]
    faults: tuple[Fault, ...] = ()

    @property
    def left(self) -> tuple[Left, ...]:
        """What the plan leaves to the person, and why."""
        return self.route.left


def new(folder: Folder) -> list[Path]:
    """Write a commented example build and workshop into a folder; return the files.

    Raises WrongUseError where there are such files already.
    """
    from importlib.resources import files

    place = Path(folder)
    made = []
    for name in ("build.yaml", "workshop.yaml"):
        path = place / name
        if path.exists():
            raise WrongUseError(f"{path} is there already; name another folder")
        made.append((path, (files("barstock") / "samples" / "new" / name).read_text("utf-8")))
    place.mkdir(parents=True, exist_ok=True)
    for path, text in made:
        path.write_text(text, encoding="utf-8")
    return [path for path, _ in made]


def check(folder: Folder) -> tuple[Fault, ...]:
    """Everything that is wrong with, doubtful in or lacking from a build and its workshop.

    Raises WrongUseError where the folder holds no build.
    """
    return _read(folder).faults


@dataclass(frozen=True)
class LookedOver:
    """The judgement of a build's text before it is written. faults: of all; drawing: SVG of the
    part asked for, "" where it cannot be drawn.
    """

    faults: tuple[Fault, ...]
    drawing: str = ""


def look_over(folder: Folder, text: str, part: str = "") -> LookedOver:
    """What `check` would say if `text` were the folder's build.yaml, and a part's drawing by it.

    Raises WrongUseError.
    """
    from barstock.sheets.draw import draw_part
    from barstock.sheets.svg import svg

    place = _folder(folder)
    reading = _read(place, place / CACHE, text=text)
    faults, drawing = reading.faults, ""
    if reading.build is not None and not any(f.grade == "error" and f.part == part for f in faults):
        for one in reading.build.parts:
            if one.name == part:
                drawing = svg(draw_part(one, reading.build))
    return LookedOver(faults, drawing)


def read(folder: Folder) -> tuple[Build, Workshop]:
    """The build of a folder and the workshop it is made in.

    Raises WrongUseError where the folder holds no build, FaultyError where it has faults.
    """
    return _faultless(folder, None)


def readable(folder: Folder) -> tuple[Build, Workshop, tuple[Fault, ...]]:
    """What can be read of a folder's build and workshop, and what is wrong with the rest.

    The parts are not looked at as wholes, as `check` does. Raises WrongUseError where the folder
    holds no build, FaultyError where nothing can be read.
    """
    reading = _read(folder, look=False)
    return *reading.readable(), tuple(f for f in reading.faults if f.grade == "error")


def _faultless(folder: Folder, cache: Path | None) -> tuple[Build, Workshop]:
    return _read(folder, cache).faultless()


@dataclass(frozen=True)
class _Reading:
    """What can be read in a folder. found: faults so far; looked: those of each part, to come.

    written: the two files as they were read, by the names they are kept under. moving: the pages of
    what moves, to come, where they were asked for.
    """

    written: dict[str, bytes]
    build: Build | None
    workshop: Workshop | None
    found: tuple[Fault, ...]
    looked: tuple[tuple[Part, Future[list[Fault]]], ...]
    moving: Future[Path] | None = None

    @property
    def faults(self) -> tuple[Fault, ...]:
        """All faults; those of parts that are still being looked at are waited for."""
        return in_order([*self.found, *(f for one in self.looked for f in _looked(*one))])

    def readable(self) -> tuple[Build, Workshop]:
        """What can be read of build and workshop, whatever is wrong with the rest.

        Raises FaultyError where either is not there, or where no size can be trusted.
        """
        if self.build is None or not self.build.parts or self.workshop is None:
            raise FaultyError(self.faults)
        return self.build, self.workshop

    def faultless(self) -> tuple[Build, Workshop]:
        """Build and workshop, where nothing is wrong. Raises FaultyError."""
        if any(fault.grade == "error" for fault in self.faults):
            raise FaultyError(self.faults)
        return self.readable()


def _read(
    folder: Folder,
    cache: Path | None = None,
    workers: Workers | None = None,
    text: str | None = None,
    ask_moving: Callable[[Build, Workshop], Future[Path]] | None = None,
    look: bool = True,
) -> _Reading:
    """text: instead of the folder's build.yaml. ask_moving: asked first of all, for it takes
    longest. look: at each part as a whole."""
    place = _folder(folder)
    from barstock.drawing.bars_wanted import check_against
    from barstock.drawing.build_reading import read_build, read_written
    from barstock.methods import KINDS
    from barstock.pack.planned_inputs import as_written
    from barstock.solids.workers import Workers
    from barstock.store.kept_values import FIGURES, figures_in
    from barstock.tolerancing.fits_of_build import fit_faults, sound
    from barstock.workshop.shop_reading import find_workshop, read_shop

    build_text = (place / "build.yaml").read_bytes()
    reading = read_build(place, KINDS) if text is None else read_written(text, place, KINDS)
    build, moving = reading.readable, None
    looked: list[tuple[Part, Future[list[Fault]]]] = []
    path = find_workshop(place, reading.workshop)
    written = as_written(build_text, path)
    shop = read_shop(path)
    # a build that cannot be read may name a workshop elsewhere
    unknown = reading.readable is None and not path.exists()
    found = [*reading.faults, *(() if unknown else shop.faults)]
    if build is not None:
        if shop.as_read is not None:
            found += check_against(build, shop.as_read, shop.doubtful, reading.unbarred)
            if not shop.doubtful & JOINED_WITH:
                with figures_in(cache / FIGURES if cache else None):
                    build, wrong = _joined(build, shop.as_read)
                found += wrong
            if ask_moving is not None and reading.sized and shop.readable is not None:
                moving = ask_moving(build, shop.readable)
        looked = [
            (part, _look(part, build.least_wall, cache, workers or Workers(0)))
            for part in build.parts
            if look
        ]
        found += fit_faults(build)
        build = sound(build)
    trusted = build if reading.sized else None
    return _Reading(written, trusted, shop.readable, tuple(found), tuple(looked), moving)


def _joined(build: Build, workshop: Workshop) -> tuple[Build, list[Fault]]:
    """The build with the fixtures of its fabrications, and what is wrong with their joining."""
    if not build.fabrications:
        return build, []
    from barstock.fabricating.fixture_design import with_fixtures
    from barstock.fabricating.joining_plan import joining_faults

    build, faults = with_fixtures(build, workshop)
    return build, [*faults, *joining_faults(build, workshop)]


def _look(
    part: Part, least_wall: float, cache: Path | None, workers: Workers
) -> Future[list[Fault]]:
    """Have a part looked at as a whole; one found sound is not looked at again."""
    from barstock.methods.part_checks import check_part
    from barstock.solids.workers import Workers
    from barstock.store.content import key
    from barstock.store.kept_folders import Kept

    if cache is None:
        return workers.ask(partial(check_part, part, least_wall))
    sound = Kept(cache / "sound", key(part, least_wall), _nothing)
    if sound.there:
        return Workers(0).ask(list[Fault])
    return workers.ask(partial(_part_faults, part, least_wall, sound))


def _looked(part: Part, answer: Future[list[Fault]]) -> list[Fault]:
    """What is wrong with a part as a whole; that it could not be looked at, where it could not."""
    wrong = answer.exception()
    if isinstance(wrong, Exception):
        what = f"it cannot be looked at as a whole: {type(wrong).__name__}: {wrong}"
        return [Fault(part.place, what, part=part.name, grade="warning")]
    return answer.result()


def _part_faults(part: Part, least_wall: float, sound: Kept) -> list[Fault]:
    """What is wrong with a part as a whole; where it is nothing, that is kept."""
    from barstock.methods.part_checks import check_part

    faults = check_part(part, least_wall)
    if not faults:
        sound.fetch()
    return faults


def _nothing(draft: Path) -> None:
    """An empty folder: a part is sound where there is one for it."""


def plan(
    folder: Folder,
    *,
    paper: str = "a4",
    pictures: bool = True,
    done: Folder | None = None,
    bench_address: str = "",
    progress: Progress | None = None,
) -> Planned:
    """Plan a build, prove the plan, and write pack, route, pictures and drawings into its out/.

    A part or feature that is refused stops nothing else: what finds no way that the proof passes is
    left to the person, and the pack says so. paper: "a4" or "letter". done: a file of what is done
    and spoiled (route/work_done.py); the rest of the route in out/ is then planned anew.
    bench_address: where the bench pages are, to be opened by marks on the pack's. Raises
    FaultyError where nothing can be read, PlanError for what is said to be done and cannot be,
    WrongUseError; then, and when stopped, out/ stays as it was.
    """
    tell = progress or silent
    place = _folder(folder)
    from barstock.solids.workers import Workers
    from barstock.store.pruning import in_use

    cache = place / CACHE
    tell("reading", 0.0)
    with (
        in_use(cache),
        ThreadPoolExecutor(1) as aside,
        Workers(loaded=AT_HAND) as workers,  # while this process loads the rest
    ):
        from barstock.pack.bench_marks import is_address
        from barstock.pack.illustrate import draw_parts
        from barstock.pack.moving_kept import moving_asked
        from barstock.pack.pdf_printing import Paper

        if paper not in list(Paper):
            raise WrongUseError(f"there is no paper '{paper}'; {nearest(paper, list(Paper))}")
        if bench_address and not is_address(bench_address):
            raise WrongUseError(
                f"'{bench_address}' is no address; write it like http://192.168.1.20:7319"
            )
        sheet = Paper(paper)  # and not what another program calls so
        ask_moving = partial(moving_asked, cache=cache, workers=workers)
        reading = _read(place, cache, workers, ask_moving=ask_moving)
        build, workshop = reading.readable()
        resumed = _resumed(place, Path(done)) if done is not None else None
        # made while the route is planned
        drawings = draw_parts(build, sheet, cache, workers)

        def pack_of(route: Route) -> Unpictured:
            from barstock.pack.pack_files import Unpictured

            assert reading.moving is not None
            there = {name: one for name, one in drawings.items() if one.exception() is None}
            return Unpictured(route, build, workshop, there, reading.moving, sheet, bench_address)

        telling = share_of(tell, 0.02, 0.75)
        begun = partial(_set_beforehand, aside, pack_of) if pictures else None
        found = _as_far(reading, cache, workers, telling, begun, resumed)
        route, proof = found.route, found.proof
        from barstock.pack.illustrate import picture_heats, picture_setups
        from barstock.pack.planned_inputs import keep_as_planned
        from barstock.pack.route_file import OUT
        from barstock.pack.whole_folder import whole_folder

        picturing = share_of(tell, 0.75, 0.95)
        shown = picture_setups(route, proof, cache, workers, picturing) if pictures else {}
        if pictures:
            shown |= picture_heats(route, proof, cache, workers, picturing)
        with whole_folder(place / OUT) as draft:
            tell("setting the pack", 0.95)
            aside.shutdown()
            files = pack_of(route).write(draft, shown)
            files += keep_as_planned(draft, reading.written)
    tell("done", 1.0)
    written = tuple(place / OUT / file.relative_to(draft) for file in files)
    undrawn = [
        Fault(part.place, f"it cannot be drawn: {wrong}", part=part.name, grade="warning")
        for part in build.parts
        if (wrong := drawings[part.name].exception()) is not None
    ]
    faults = in_order([*reading.faults, *found.faults, *undrawn])
    return Planned(build, workshop, route, proof, place / OUT, written, faults)


def _set_beforehand(
    aside: ThreadPoolExecutor, pack_of: Callable[[Route], Unpictured], route: Route
) -> None:
    """Set the pack while it is proved, for what does not change any more."""
    aside.submit(pack_of(route).set_beforehand)


def prove(
    folder: Folder, route: Folder | None = None, *, progress: Progress | None = None
) -> Proof:
    """Prove a route file (the folder's out/route.json) against the build as it is now written.

    The proof is returned whether good or not. Raises WrongUseError; FaultyError where nothing can
    be read.
    """
    place = _folder(folder)
    from barstock.pack.route_file import last_route
    from barstock.proving.kept_proofs import PROOFS
    from barstock.proving.prove import prove as prove_route
    from barstock.solids.workers import Workers

    found = last_route(place, Path(route) if route is not None else None)
    build, *_ = readable(place)
    mine = {part.name for part in build.parts}
    if not mine & ({bar.part for bar in found.bars} | {one.part for one in found.left}):
        raise WrongUseError(
            f"the route is of '{found.build}', not of '{build.name}', and shares no part"
        )
    with Workers() as workers:
        cache = place / CACHE / PROOFS
        return prove_route(found, build, progress=progress, cache=cache, workers=workers)


def route(folder: Folder, file: Folder | None = None) -> Route:
    """The route last planned of a folder, or that of a file. Raises WrongUseError."""
    from barstock.pack.route_file import last_route

    return last_route(_folder(folder), Path(file) if file is not None else None)


def workshop_file(folder: Folder) -> Path:
    """The file of the workshop that a build is made in. Raises WrongUseError."""
    from barstock.drawing.build_reading import read_build
    from barstock.methods import KINDS
    from barstock.workshop.shop_reading import find_workshop

    place = _folder(folder)
    return find_workshop(place, read_build(place, KINDS).workshop)


def why(folder: Folder, operation: str) -> Why | Left:
    """Explain why an operation (its id or a piece of it) stands where it does, and what else would
    cost; of a part ("part") or feature ("part/feature") that is left, what was tried.

    Raises WrongUseError where nothing goes by that name; FaultyError where nothing can be read.
    """
    from barstock.planning.explaining import UnknownOperationError
    from barstock.planning.explaining import why as explain

    *_, found = _proven(_folder(folder))
    for one in found.route.left:
        names = [f"{one.part}/{name}" for name in one.features] or [one.part]
        if operation in names:
            return one
    try:
        with _planning():
            return explain(found.planner, found.asked, operation)
    except UnknownOperationError as wrong:
        named = [name for one in found.route.left for name in (one.part, *one.features)]
        left = [one for one in found.route.left if operation in (one.part, *one.features)]
        if len(left) == 1:
            return left[0]
        besides = f"; left to you: {', '.join(named)}" if named else ""
        raise WrongUseError(f"{wrong.args[0]}{besides}") from wrong


def draw(
    folder: Folder,
    part: str | None = None,
    *,
    paper: str = "a4",
    left_out: LeftOut | None = None,
) -> list[Path]:
    """Draw a build's parts (or one) into its drawings/ as SVG, DXF, PDF and STEP; return the files.

    left_out: told the faults for which something is not drawn. Raises WrongUseError; FaultyError
    where none can be.
    """
    from barstock.pack.drawing_date import issued
    from barstock.sheets.draw import draw_all

    place = _folder(folder)
    build, _, faults = readable(place)
    names = [one.name for one in build.parts]
    if part is not None and part not in names:
        raise WrongUseError(f"there is no part '{part}'; {nearest(part, names)}")
    if left_out is not None:
        left_out(faults)
    return draw_all(build, place / "drawings", part, paper, issued(build, place / CACHE))


def compare(folder: Folder, part: str) -> Compared:
    """Compare a fabrication built up with the same thing cut from one bar, each planned and proved.

    Raises WrongUseError where it is none of the build's fabrications; FaultyError.
    """
    from barstock.pack.built_or_solid import compared
    from barstock.quantities import told_in

    build, workshop, _ = readable(folder)
    names = [one.name for one in build.fabrications]
    if part not in names:
        valid = nearest(part, names) if names else "the build has none"
        raise WrongUseError(f"there is no fabrication '{part}'; {valid}")
    asked = build.part(part)
    with told_in(asked.unit):
        return compared(build, asked, workshop)


def schema(of: str = "build") -> dict[str, Any]:
    """The JSON Schema of "build" or "workshop". Raises WrongUseError."""
    if of == "build":
        from barstock.drawing.build_schema import build_schema
        from barstock.methods import KINDS

        return build_schema(KINDS)
    if of == "workshop":
        from barstock.workshop.shop_schema import workshop_schema

        return workshop_schema()
    raise WrongUseError(f"there is no schema of '{of}'; {nearest(of, ['build', 'workshop'])}")


def look(word: str, *, inch: bool = False) -> list[Found]:
    """Everything the handbook holds under a word, with the source of each; sizes in mm or in
    inches.

    Raises WrongUseError where no table holds it.
    """
    from barstock.handbook.look import UnknownWordError
    from barstock.handbook.look import look as look_up
    from barstock.quantities import Unit

    try:
        return look_up(word, Unit.INCH if inch else Unit.MM)
    except UnknownWordError as wrong:
        raise WrongUseError(str(wrong)) from wrong


def guarantees(folder: Folder) -> tuple[Guarantee, ...]:
    """Every dimension that a plan's readings make: its worst case, what is missing, what cures it.

    Plans the build anew (orders once found are kept). Raises FaultyError, PlanError, WrongUseError.
    """
    return limits(folder)[0]


def limits(folder: Folder) -> tuple[tuple[Guarantee, ...], tuple[ByTool, ...]]:
    """Every checked dimension: those that readings make, and those that a tool gives by itself.

    Raises as `guarantees` does.
    """
    from barstock.tolerancing.by_tool import by_tool
    from barstock.tolerancing.guarantee import guarantees as judged

    place = _folder(folder)
    build, workshop, found = _proven(place)
    return judged(found.route, build, workshop), by_tool(found.route, build, workshop)


def fits(folder: Folder, *, left_out: LeftOut | None = None) -> tuple[Mated, ...]:
    """The clearance of every fit that the build names, of what can be read.

    left_out: told the faults for which something is not looked at. Raises FaultyError where nothing
    can be, WrongUseError.
    """
    from barstock.tolerancing.fits_of_build import mated

    build, workshop, faults = readable(folder)
    if left_out is not None:
        left_out(faults)
    return mated(build, workshop)


def _proven(place: Path) -> tuple[Build, Workshop, ProvenPlan]:
    """What can be read of a folder, planned and proved."""
    from barstock.solids.workers import Workers

    cache = place / CACHE
    with Workers(loaded=AT_HAND) as workers:
        reading = _read(place, cache, workers)
        return *reading.readable(), _as_far(reading, cache, workers)


def _as_far(
    reading: _Reading,
    cache: Path,
    workers: Workers,
    tell: Progress = silent,
    begun: Callable[[Route], None] | None = None,
    resumed: tuple[Route, Standing] | None = None,
) -> ProvenPlan:
    """What can be read, planned and proved as far as it goes."""
    from barstock.api.proven_plan import proven_plan

    build, workshop = reading.readable()
    with _planning():
        return proven_plan(
            build,
            workshop,
            tell=tell,
            workers=workers,
            cache=cache,
            found=reading.found,
            looked=lambda: reading.faults,
            begun=begun,
            resumed=resumed,
        )


# -- the steps of a plan ---------------------------------------------------------------------------


def _folder(folder: Folder) -> Path:
    place = Path(folder)
    if place.is_file():
        raise WrongUseError(f"{place} is a file; give the folder it is in: {place.parent}")
    if not place.is_dir():
        raise WrongUseError(f"there is no folder {place}; 'barstock new {place}' makes one")
    if not (place / "build.yaml").is_file():
        raise WrongUseError(f"{place} holds no build.yaml; 'barstock new {place}' makes one")
    return place


def _resumed(place: Path, done: Path) -> tuple[Route, Standing]:
    """The route last planned, and what a file says is done of it."""
    from barstock.pack.route_file import last_route
    from barstock.route.work_done import read_standing

    if not done.is_file():
        raise WrongUseError(f"there is no file {done} of what is done")
    route = last_route(place)
    standing, faults = read_standing(done, route)
    if faults:
        raise FaultyError(faults)
    return route, standing


@contextmanager
def _planning() -> Iterator[None]:
    """Raise what stops a plan within as a PlanError."""
    from barstock.errors import UnplannableError
    from barstock.planning.order.part_order import NoOrderError
    from barstock.planning.order.user_pins import ClashError, PinError
    from barstock.planning.resuming import OutOfOrderError
    from barstock.stocking.bar_choice import NoBarError
    from barstock.words.reasons import rule

    try:
        yield
    except (ClashError, OutOfOrderError) as reason:
        raise PlanError(reason.in_words(rule)) from reason
    except (UnplannableError, NoBarError, PinError, NoOrderError) as reason:
        raise PlanError(str(reason)) from reason
