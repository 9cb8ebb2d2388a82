"""The pages of a fabrication's joining: what is done in order, its lists, and a card for each heat.

Plain records, set by pack.typ and the templates alike.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from barstock.drawing.build import Part
from barstock.pack.printed_figures import hours
from barstock.quantities import Unit, counted, show, show_rough
from barstock.route import Fabrication, Heat, Route

CARRIES = (
    "Where it will be lifted, carry people or hold pressure, its design and testing belong to the "
    "local code, the club's or insurer's rules and licensed inspection."
)


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
    """One heat. facts: (label, words); melts: (temperature, what happens); boxes: one a copy."""

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
    """Name of a heat's picture; fabrication: its number in the route, from 1."""
    return f"heat-{fabrication}-{heat.number}"


def hearth_pages(route: Route, units: dict[str, Unit], shown: set[str]) -> tuple[HearthPages, ...]:
    """The pages of all fabrications. units: of their drawings; shown: pictures there are."""
    return tuple(
        _pages(n, one, route.build, units[one.part], shown)
        for n, one in enumerate(route.fabrications, 1)
    )


def units_of(parts: tuple[Part, ...]) -> dict[str, Unit]:
    """What each part's drawing is dimensioned in."""
    return {part.name: part.unit for part in parts}


def _pages(number: int, one: Fabrication, build: str, unit: Unit, shown: set[str]) -> HearthPages:
    return HearthPages(
        part=one.part,
        build=build,
        after=one.after,
        words=f"{one.copies} of it, about {hours(one.minutes)} at the hearth",
        before=tuple(_before(one, unit)),
        cards=tuple(_card(number, one, heat, shown) for heat in one.heats),
        then=tuple(_then(one)),
    )


def _before(one: Fabrication, unit: Unit) -> Iterator[Block]:
    pieces = tuple((str(n), p.name, p.part) for n, p in enumerate(one.pieces, 1))
    yield Block("Pieces", header=("", "piece", "made as"), rows=pieces)
    yield Block("In this order", lines=one.order, numbered=True, cautions=one.cautions)
    if one.fixture is not None:
        block = one.fixture
        rows = tuple(
            (
                hole.screw,
                show(hole.left, unit),
                show(hole.front, unit),
                hole.size,
                "locates"
                if hole.locates
                else f"free: the work shifts {show_rough(hole.shift, unit)} on it",
            )
            for hole in block.holes
        ) + tuple(
            (
                f"pin at {stop.piece}",
                show(stop.left, unit),
                show(stop.front, unit),
                show(stop.size, unit),
                f"{show(stop.tall, unit)} tall, at its {stop.side}",
            )
            for stop in block.stops
        )
        lines = (
            f"{block.part}, {block.material}: the {block.under} of the work lies on it.",
            *(f"{words[0].upper()}{words[1:]}." for words in block.locates),
            *([f"{block.pitch[0].upper()}{block.pitch[1:]}."] if block.pitch else []),
        )
        yield Block(
            "Fixture", lines, header=("for", "from left", "from front", "hole", ""), rows=rows
        )
    if one.screws:
        screws = sorted(one.screws, key=lambda s: (s.thread, s.stock, s.name))
        yield Block(
            "Screws",
            header=("thread", "off", "bought", "shorten to", "saw off", "holds by", "for"),
            rows=tuple(
                (
                    f"{s.thread} {s.of}",
                    str(s.count),
                    show(s.stock, unit) + (", to buy" if s.to_buy else ""),
                    show(s.cut_to, unit) if s.cut_to != s.stock else "as bought",
                    show_rough(s.stock - s.cut_to, unit) if s.cut_to != s.stock else "",
                    show_rough(s.engaged, unit),
                    s.name + ("; stays in, to be drilled out" if s.stays else ""),
                )
                for s in screws
            ),
        )
    yield Block(
        "Joints and filler",
        header=("joint", "form", "gap, cold", "filler", "rod", "for one"),
        rows=tuple(
            (
                j.name,
                j.form,
                f"{show(j.gap_least, unit)} to {show(j.gap_most, unit)}",
                j.alloy,
                show(j.rod, unit),
                show_rough(j.rod_length, unit),
            )
            for j in one.joints
        ),
        lines=(
            *_gaps(one),
            f"Flux {one.flux}. Fluxes differ: the maker's sheet comes first.",
        ),
    )
    yield Block("Filler must not go here: mark it", lines=one.marks)


def _gaps(one: Fabrication) -> Iterator[str]:
    """What sets the gaps; joints whose gaps are set alike in one line."""
    for words in dict.fromkeys(j.gap_from for j in one.joints if j.gap_from):
        alike = " and ".join(j.name for j in one.joints if j.gap_from == words)
        yield f"Gap of {alike}: {words}."


def _card(number: int, one: Fabrication, heat: Heat, shown: set[str]) -> HeatCard:
    least, most = heat.minutes
    name = heat_picture_name(number, heat)
    alloys = {j.name: j.alloy for j in one.joints}
    facts = [
        ("joints", " and ".join(f"{j} with {alloys.get(j, '')}" for j in heat.joints)),
        ("lies", f"{heat.attitude}, {heat.holding}"),
        ("held", ", ".join(heat.held) or "by its own weight"),
        ("flux on", ", ".join(heat.fluxed)),
        ("no filler", "; ".join(one.marks) + ": painted and dry"),
        ("flame", f"round {', then '.join(heat.flame)}; never on the filler itself"),
        ("rod", "; ".join(f"{joint} from the {side}" for joint, side in heat.feeds.items())),
        ("to", f"{heat.working:g} °C"),
        ("takes", f"{least:.1f} to {most:.1f} minutes with {heat.torch} (order of magnitude)"),
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
        melts=tuple((f"{temperature:g} °C", words) for temperature, words in heat.melts),
        boxes=tuple(str(n + 1) for n in range(one.copies)),
    )


def _then(one: Fabrication) -> Iterator[Block]:
    done = one.cleaning
    if done is not None:
        lines = (*done.dips, *done.by_hand)
        yield Block("Cleaning", lines=lines, cautions=done.cautions)
        if done.steps:
            yield Block("In the bath", lines=done.steps, numbered=True)
    heats, minutes = one.careful
    reasons = list(one.reasons)
    if heats > len(one.heats):
        reasons.append(f"one joint at a time would take {counted(heats, 'heat')}, {hours(minutes)}")
    if reasons:
        yield Block("Why so many heats", lines=tuple(f"{r[0].upper()}{r[1:]}." for r in reasons))
    yield Block("What it carries", cautions=(CARRIES,))
