"""The pages of a fabrication's joining: what is done in order, its lists, and a card for each heat.

Plain records, set by pack.typ and the templates alike.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from barstock.drawing.build import Part
from barstock.quantities import Unit, counted
from barstock.route import Fabrication, FixtureBlock, HearthStepKind, Heat, Left, Route
from barstock.words.cleaning import cleaned, in_the_bath
from barstock.words.durations import hours
from barstock.words.each_heat import HOLDINGS, attitude, melt, no_filler, takes
from barstock.words.fewer_heats import reason
from barstock.words.fixture_lines import block_lines
from barstock.words.hearth_cautions import CARRIES, HEARTH, PICKLE, QUENCH, of_cleaning
from barstock.words.hearth_steps import hearth_step
from barstock.words.joint_gaps import gap_set_by
from barstock.words.left_to_you import made_first
from barstock.words.reader import Reader
from barstock.words.shopping import stock_length


@dataclass(frozen=True)
class Block:
    """A headed list or table; lines are numbered where they are done in order."""

    title: str
    lines: tuple[str, ...] = ()
    numbered: bool = False
    header: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True)
class HeatCard:
    """The card of one heat. facts: (label, words); melts: (temperature, what happens); boxes: one a
    copy.
    """

    number: str
    last: str
    title: str
    picture: str
    facts: tuple[tuple[str, str], ...]
    melts: tuple[tuple[str, str], ...]
    boxes: tuple[str, ...]


@dataclass(frozen=True)
class HearthPages:
    """A fabrication at the hearth. after: the number of the setup it follows."""

    part: str
    build: str
    after: str
    words: str
    before: tuple[Block, ...]
    cards: tuple[HeatCard, ...]
    then: tuple[Block, ...]


def heat_picture_name(fabrication: int, heat: Heat) -> str:
    """The name of a heat's picture; fabrication: its number in the route, from 1."""
    return f"heat-{fabrication}-{heat.number}"


def hearth_pages(route: Route, units: dict[str, Unit], shown: set[str]) -> tuple[HearthPages, ...]:
    """The pages of all fabrications. units: of their drawings; shown: pictures there are."""
    return tuple(
        _pages(n, one, route, Reader(units[one.part]), shown)
        for n, one in enumerate(route.fabrications, 1)
    )


def units_of(parts: tuple[Part, ...]) -> dict[str, Unit]:
    """The unit that each part's drawing is dimensioned in."""
    return {part.name: part.unit for part in parts}


def _pages(
    number: int, one: Fabrication, route: Route, reader: Reader, shown: set[str]
) -> HearthPages:
    return HearthPages(
        part=one.part,
        build=route.build,
        after=one.after,
        words=f"{one.copies} of it, about {hours(one.minutes)} at the hearth",
        before=tuple(_before(one, route.left, reader)),
        cards=tuple(_card(number, one, heat, reader, shown) for heat in one.heats),
        then=tuple(_then(one, reader)),
    )


def _before(one: Fabrication, left: Sequence[Left], reader: Reader) -> Iterator[Block]:
    pieces = tuple((str(n), p.name, p.part) for n, p in enumerate(one.pieces, 1))
    yield Block("Pieces", header=("", "piece", "made as"), rows=pieces)
    first = made_first([piece.part for piece in one.pieces], left)
    if first:
        yield Block("To be made first, as drawn", lines=first)
    order = tuple(hearth_step(step, one, reader) for step in one.order)
    pickled = any(step.kind is HearthStepKind.PICKLE_AGAIN for step in one.order)
    cautions = (*HEARTH, *QUENCH, *PICKLE) if pickled else HEARTH
    yield Block("In this order", lines=order, numbered=True, cautions=cautions)
    if one.fixture is not None:
        yield _fixture(one.fixture, reader)
    if one.screws:
        yield _screws(one, reader)
    yield _joints(one, reader)
    marked = tuple(no_filler(place, reader) for place in one.no_filler)
    yield Block("Filler must not go here: mark it", lines=marked)


def _fixture(block: FixtureBlock, reader: Reader) -> Block:
    screws = tuple(
        (
            f"{hole.screw}, in its {hole.face}" if block.beside else hole.screw,
            reader.length(hole.left),
            reader.length(hole.front),
            *([reader.length(hole.below)] if block.beside else []),
            hole.thread or reader.length(hole.diameter),
            "locates"
            if hole.locates
            else f"free: the work shifts {reader.hundredth(hole.shift)} on it",
        )
        for hole in block.holes
    )
    pins = tuple(
        (
            f"pin at {stop.piece}",
            reader.length(stop.left),
            reader.length(stop.front),
            *([""] if block.beside else []),
            reader.length(stop.size),
            f"{reader.length(stop.tall)} tall, at its {stop.side}",
        )
        for stop in block.stops
    )
    below = ("below top",) if block.beside else ()
    header = ("for", "from left", "from front", *below, "hole", "")
    return Block("Fixture", tuple(block_lines(block, reader)), header=header, rows=screws + pins)


def _screws(one: Fabrication, reader: Reader) -> Block:
    screws = sorted(one.screws, key=lambda s: (s.thread, s.stock, s.name))
    return Block(
        "Screws",
        header=("thread", "off", "bought", "shorten to", "saw off", "holds by", "for"),
        rows=tuple(
            (
                f"{s.thread} {s.material}",
                str(s.count),
                stock_length(s.thread, s.stock) + (", to buy" if s.to_buy else ""),
                reader.length(s.cut_to) if s.cut_to != s.stock else "as bought",
                reader.rough(s.stock - s.cut_to) if s.cut_to != s.stock else "",
                reader.rough(s.engaged),
                s.name + ("; stays in, to be drilled out" if s.stays else ""),
            )
            for s in screws
        ),
    )


def _joints(one: Fabrication, reader: Reader) -> Block:
    return Block(
        "Joints and filler",
        header=("joint", "form", "gap, cold", "filler", "rod", "for one"),
        rows=tuple(
            (
                j.name,
                j.form,
                f"{reader.length(j.gap_least)} to {reader.length(j.gap_most)}",
                j.alloy,
                reader.length(j.rod),
                reader.rough(j.rod_length),
            )
            for j in one.joints
        ),
        lines=(
            *_gaps(one, reader),
            f"Flux {one.flux}. Fluxes differ: the maker's sheet comes first.",
        ),
    )


def _gaps(one: Fabrication, reader: Reader) -> Iterator[str]:
    """What sets the gaps; joints whose gaps are set alike in one line."""
    alike: dict[str, list[str]] = {}
    for joint in one.joints:
        alike.setdefault(gap_set_by(joint.gap_set_by, reader), []).append(joint.name)
    for words, names in alike.items():
        yield f"Gap of {' and '.join(names)}: {words}."


def _card(number: int, one: Fabrication, heat: Heat, reader: Reader, shown: set[str]) -> HeatCard:
    name = heat_picture_name(number, heat)
    alloys = {j.name: j.alloy for j in one.joints}
    facts = [
        ("joints", " and ".join(f"{j} with {alloys.get(j, '')}" for j in heat.joints)),
        ("lies", f"{attitude(heat.attitude)}, {HOLDINGS[heat.holding]}"),
        ("held", ", ".join(heat.held) or "by its own weight"),
        ("flux on", ", ".join(heat.fluxed)),
        ("no filler", f"{'; '.join(no_filler(p, reader) for p in one.no_filler)}: painted and dry"),
        ("flame", f"round {', then '.join(heat.flame)}; never on the filler itself"),
        ("rod", "; ".join(f"{j} from the {' and '.join(by)}" for j, by in heat.feeds.items())),
        ("to", f"{heat.working:g} °C"),
        ("takes", takes(heat)),
    ]
    if heat.done:
        facts.append(("made", f"on {heat.done} of {one.copies} before this plan: it stays so"))
    if heat.remelts:
        facts.append(("melts again", f"{', '.join(heat.remelts)}: held all the while"))
    return HeatCard(
        number=str(heat.number),
        last=str(len(one.heats)),
        title=" and ".join(heat.joints),
        picture=name if name in shown else "",
        facts=tuple(facts),
        melts=tuple((f"{each.at:g} °C", melt(each)) for each in heat.melts),
        boxes=tuple(str(n + 1) for n in range(one.copies)),
    )


def _then(one: Fabrication, reader: Reader) -> Iterator[Block]:
    done = one.cleaning
    if done is not None:
        yield Block("Cleaning", lines=tuple(cleaned(done)), cautions=of_cleaning(done))
        if steps := in_the_bath(done):
            yield Block("In the bath", lines=steps, numbered=True)
    heats, minutes = one.careful
    reasons = [reason(told, reader) for told in one.reasons]
    if heats > len(one.heats):
        reasons.append(f"one joint at a time would take {counted(heats, 'heat')}, {hours(minutes)}")
    if reasons:
        yield Block("Why so many heats", lines=tuple(f"{r[0].upper()}{r[1:]}." for r in reasons))
    yield Block("What it carries", cautions=(CARRIES,))
