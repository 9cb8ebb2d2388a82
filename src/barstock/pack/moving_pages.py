"""The pack's pages of what moves: winding sheets of springs, guides, the ride with its verdicts.

Plain records, set by pack.typ and the templates alike.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from barstock.drawing.build import Build
from barstock.handbook.unknown_word import UnknownError
from barstock.mechanism.guides.guide_assembly import stood
from barstock.mechanism.guides.guide_check import Judged
from barstock.mechanism.guides.guide_faces import NothingMeetsError
from barstock.mechanism.guides.guide_sizes import Variants
from barstock.mechanism.mechanism_check import moved
from barstock.mechanism.ride import Ride
from barstock.mechanism.ride_chart import run_chart
from barstock.mechanism.ride_words import CAUTION as RIDE_CAUTION
from barstock.mechanism.ride_words import verdicts
from barstock.mechanism.springs.spring_candidate import AnyChoice
from barstock.mechanism.springs.spring_chart import chart
from barstock.mechanism.springs.spring_pockets import NoHollowError
from barstock.mechanism.springs.spring_winding import CAUTION as WINDING_CAUTION
from barstock.mechanism.springs.spring_winding import UnwindableError, winding
from barstock.mechanism.springs.spring_words import brief, figures, spring_lines, steps
from barstock.mechanism.springs.springs_of_build import DeflectionsError, Fitted, fitted
from barstock.mechanism.vehicle.contact_forces import NoRestError
from barstock.mechanism.vehicle.vehicle_at_rest import TopplesError
from barstock.pack.guide_pictures import cut_across
from barstock.pack.heat_pages import Block
from barstock.pack.moving_guide import MARKS, guide_blocks


@dataclass(frozen=True)
class MovingPage:
    """One page of what moves. picture: its name among the pictures, "" for none; beneath: drawn
    under all.
    """

    title: str
    words: str
    build: str
    picture: str
    blocks: tuple[Block, ...]


NOT_WORKED_OUT = (
    DeflectionsError,
    NoHollowError,
    NoRestError,
    NothingMeetsError,
    TopplesError,
    UnknownError,
)
"""What a drawing may ask for that has no answer; a page says which."""


@dataclass(frozen=True)
class Moving:
    """All pages of what moves, and their pictures as SVG text by name."""

    pages: tuple[MovingPage, ...] = ()
    pictures: tuple[tuple[str, str], ...] = ()


def moving_pages(of: Variants) -> Moving:
    """The pages of a build's mechanism; none where it has none."""
    build, mechanism = of.build, of.build.mechanism
    if mechanism is None:
        return Moving()
    pictures: dict[str, str] = {}
    try:
        found = moved(of) if mechanism.guides or mechanism.vehicle else None
        riding = found.ride if found else None
        springs = riding.springs if riding else fitted(build)
    except NOT_WORKED_OUT as wrong:
        block = Block("Verdict", cautions=(str(wrong.args[0]),))
        return Moving((MovingPage("Will it move?", "", build.name, "", (block,)),))
    pages = [_spring(build, one, n, pictures) for n, one in enumerate(springs.values(), 1)]
    guides = found.guides.values() if found else ()
    pages += [_guide(build, one, n, pictures) for n, one in enumerate(guides, 1)]
    last = [_ride(build, riding, pictures)] if riding else []
    return Moving((*pages, *last), tuple(pictures.items()))


def _guide(build: Build, judged: Judged, number: int, pictures: dict[str, str]) -> MovingPage:
    name = f"guide-{number}"
    pictures[name] = cut_across(stood(judged.guide, build))
    words = "cut across below, seen from above"
    return MovingPage(judged.guide.name, words, build.name, name, tuple(guide_blocks(judged)))


def _spring(build: Build, one: Fitted, number: int, pictures: dict[str, str]) -> MovingPage:
    many = f", {one.count} off" if one.count else ""
    words = f"{one.wanted.kind} spring{many}"
    name = f"spring-{number}"
    pictures[name] = chart(one)
    blocks = tuple(_chosen(one, one.taken)) if one.taken else (_none(one),)
    return MovingPage(one.wanted.name, words, build.name, name, blocks)


def _chosen(one: Fitted, taken: AnyChoice) -> Iterator[Block]:
    yield Block("The spring", rows=tuple(figures(taken)), cautions=tuple(
        f"it does not keep its limit: {fault}" for fault in taken.hindrances
    ))  # fmt: skip
    try:
        lines = tuple(steps(winding(taken), taken))
        yield Block("To wind it", lines, numbered=True, cautions=(WINDING_CAUTION,))
    except UnwindableError as wrong:
        yield Block("To wind it", cautions=(f"it cannot be wound: {wrong}",))
    others = one.choices.found[1:4]
    if others:
        yield Block("Others that would do", tuple(map(brief, others)))


def _none(one: Fitted) -> Block:
    return Block("None will do", tuple(line.strip() for line in list(spring_lines(one))[1:]))


def _ride(build: Build, found: Ride, pictures: dict[str, str]) -> MovingPage:
    told = tuple((MARKS[verdict.holds], verdict.words) for verdict in verdicts(found))
    runs = [state for state in found.states.values() if state.run]
    name = ""
    if runs:
        worst = max(runs, key=lambda state: state.run.unloading if state.run else 0.0)
        assert worst.run is not None
        name = "ride"
        pictures[name] = run_chart(worst.run, worst.name)
    blocks = (
        Block("Verdicts", rows=told, cautions=(RIDE_CAUTION,)),
        _standing(found),
        _swaying(found),
        Block(
            "Places of the track",
            header=("place", "empty", "laden"),
            rows=tuple(_places(found)),
        ),
    )
    return MovingPage("The ride", "of the vehicle on its track", build.name, name, blocks)


def _standing(found: Ride) -> Block:
    empty, laden = (found.states[name].standing.boxes for name in ("empty", "laden"))
    rows = []
    for box, stands in laden.items():
        spring = "rigid"
        if stands.spring is not None and stands.shortened is not None:
            spring = f"{stands.spring:.1f} N, shortened {stands.shortened:.2f} mm"
        rows.append((box, f"{empty[box].load:.1f} N", f"{stands.load:.1f} N", spring))
    sinks = f"laden, the body stands {found.sinks:.2f} mm lower than empty"
    header = ("wheel", "empty", "laden", "each spring, laden")
    return Block("Standing on level track", (sinks,), header=header, rows=tuple(rows))


def _swaying(found: Ride) -> Block:
    rows = []
    for state in found.states.values():
        sway = state.swaying
        modes = ", ".join(f"{mode.name} {mode.frequency:.1f} Hz" for mode in sway.modes)
        stiff = f"{sway.heave:.1f} N/mm, {sway.roll:.2f} N m/°, {sway.pitch:.2f} N m/°"
        rows.append((state.name, f"{state.carried:.2f} kg at {state.centre:.0f} mm", stiff, modes))
    header = ("", "on its springs", "upward, roll, pitch", "sways")
    unsprung = f"unsprung: {found.unsprung:.2f} kg at the height of the axles"
    return Block("Stiffness and swaying", (unsprung,), header=header, rows=tuple(rows))


def _places(found: Ride) -> Iterator[tuple[str, ...]]:
    by_place = {(one.case, one.state): one for one in found.passings}
    for case in dict.fromkeys(case for case, _ in by_place):
        if case != "level track":
            pair = (by_place[case, state] for state in ("empty", "laden"))
            yield (case, *(f"{one.wheel} loses {one.worst:.0%}" for one in pair))
