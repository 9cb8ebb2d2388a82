"""The pages of what is left to the person: its drawing, its limits, what was tried, what helps.

Plain records, set by pack.typ and the templates alike.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from barstock import methods
from barstock.drawing.build import AXES, Build, Feature, Part
from barstock.drawing.dimension_runs import CheckSort
from barstock.methods.cuts import Check, Cut
from barstock.pack.heat_pages import Block
from barstock.quantities import Dimension, Unit
from barstock.route import Left, LeftHow, Route
from barstock.words.checks import named
from barstock.words.left_to_you import HOW, over_all, tried_rows
from barstock.words.marking_out import BY_HAND, UNPROVEN, WITH_MATE, by_hand, with_mate
from barstock.words.reader import Reader
from barstock.words.size_figures import limits, minus

ELSEWHERE = (LeftHow.BOUGHT, LeftHow.ELSEWHERE, LeftHow.CAST)


@dataclass(frozen=True)
class LeftPage:
    """One part or feature that is left. picture: its part's drawing, "" where it has none."""

    part: str
    title: str
    words: str
    build: str
    picture: str
    blocks: tuple[Block, ...]


def left_pages(
    route: Route, build: Build, drawings: Mapping[str, str], unit: Unit | None = None
) -> tuple[LeftPage, ...]:
    """A page for each part and feature that is left, in the route's order.

    drawings: names of the drawings by part. unit: that all is read in, else each part in its own.
    """
    parts = {part.name: part for part in build.parts}
    pages = []
    for left in route.left:
        part = parts.get(left.part)
        for name in left.features or ("",):
            feature = next((f for f in part.features if f.name == name), None) if part else None
            title = f"{left.part}: {name}" if name else left.part
            reader = Reader(unit or (part.unit if part else Unit.MM))
            blocks = tuple(_blocks(left, part, feature, route, build, reader))
            picture = drawings.get(left.part, "")
            pages.append(LeftPage(left.part, title, HOW[left.how], route.build, picture, blocks))
    return tuple(pages)


def _blocks(
    left: Left,
    part: Part | None,
    feature: Feature | None,
    route: Route,
    build: Build,
    reader: Reader,
) -> Iterator[Block]:
    about = (*_about(left, part, route, reader), *_piece_of(left.part, build))
    yield Block(_heading(left), about)
    rows = tuple(_limits(part, feature, reader)) if part and (feature or left.whole) else ()
    if rows:
        yield Block("Limits", header=("dimension", "as drawn", "between"), rows=rows)
    if left.tried:
        header = ("way", "why not", "what would help")
        rows = tried_rows(left.tried)
        yield Block("What was tried, and why it failed", header=header, rows=rows)
    if left.how is LeftHow.LEFT:
        yield Block("What else would help", (_other_way(left),), cautions=UNPROVEN)
    if part and feature and left.how is LeftHow.WITH_MATE:
        steps = with_mate(_cuts(feature, part), part, reader)
        yield Block("With its mate", steps, numbered=True, cautions=WITH_MATE)
    elif part and feature and left.how is not LeftHow.LEFT:
        steps = by_hand(_cuts(feature, part), part, reader)
        yield Block("Marked out and made by hand", steps, numbered=True, cautions=BY_HAND)
    elif left.how is LeftHow.BY_HAND:
        yield Block("Care", cautions=BY_HAND)


def _heading(left: Left) -> str:
    return "To order" if left.how in ELSEWHERE else "What is left"


def _about(left: Left, part: Part | None, route: Route, reader: Reader) -> Iterator[str]:
    if left.how in ELSEWHERE and part:
        yield f"{part.copies} of {part.material}, {over_all(part, reader)}, {HOW[left.how]}."
        yield "The drawing goes with the order; measure what comes by the limits below."
        return
    if left.how is LeftHow.LEFT:
        what = "no way of making it was found" if left.features else "no plan of it was found"
        yield f"Here {what} that the proof passes."
    elif left.tried:
        yield "No machine of the workshop was found to reach it; its limits allow hand work."
    else:
        yield f"It is {HOW[left.how]}, as the build says."
    if left.whole:
        return
    setups = [s.id for s in route.setups if s.work in _works(left.part, route)]
    after = f", after setup {setups[-1]}" if setups else ""
    yield f"All else of the {left.part} is planned, and proven without it: make it last{after}."


def _piece_of(part: str, build: Build) -> Iterator[str]:
    for whole in build.fabrications:
        if whole.joined and any(piece.part.name == part for piece in whole.joined.pieces):
            yield f"It is a piece of the {whole.name}: have it ready before that is joined."


def _works(part: str, route: Route) -> set[str]:
    """What setups call a part: itself, or the bars it is sawn from."""
    return {part, *(bar.id for bar in route.bars if bar.part == part)}


def _other_way(left: Left) -> str:
    if left.features:
        return (
            "Write how it is made: 'finish: by hand', 'filed' or 'with its mate'; or change the "
            "drawing."
        )
    return "Write where it comes from: 'made: bought', 'turned elsewhere', 'by hand' or 'cast'."


def _limits(part: Part, feature: Feature | None, reader: Reader) -> Iterator[tuple[str, ...]]:
    if feature is not None:
        for check in _checks(feature, part):
            yield _row(named(check), check.dimension, check, reader)
        return
    sides = dict(zip(part.sides, (part.dimension(axis) for axis in range(len(AXES))), strict=True))
    for side, size in sides.items():
        yield _row(side, size, None, reader)
    for one in part.features:
        for check in _checks(one, part):
            yield _row(f"{one.name}: {named(check)}", check.dimension, check, reader)


def _row(name: str, size: Dimension, check: Check | None, reader: Reader) -> tuple[str, ...]:
    if check is not None and (check.sort is CheckSort.THREAD or not size.high):
        return name, size.text, ""
    angle = check is not None and check.sort is CheckSort.ANGLE
    return name, minus(size.text), limits(size.low, size.high, reader.unit, angle)


def _cuts(feature: Feature, part: Part) -> tuple[Cut, ...]:
    return methods.KINDS[feature.kind].ways(feature.spec, part)[0].cuts


def _checks(feature: Feature, part: Part) -> Iterator[Check]:
    for cut in _cuts(feature, part):
        yield from cut.checks
