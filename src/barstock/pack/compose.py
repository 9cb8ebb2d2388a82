"""Makes the pages of a pack from its route."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import groupby

from barstock.drawing.build import Build, Part
from barstock.machines import machine_type
from barstock.machines.machine_type import WorkSort
from barstock.pack.heat_pages import hearth_pages, units_of
from barstock.pack.left_pages import left_pages
from barstock.pack.pack_pages import (
    DrawingPage,
    IndexLine,
    OperationBox,
    Pack,
    Pass,
    SetupPage,
    Stop,
)
from barstock.quantities import INCH, Unit, counted, show, show_sawn
from barstock.route import (
    BarPiece,
    Expect,
    LeftHow,
    Made,
    Operation,
    Route,
    Setup,
    Summary,
    ToShorten,
)
from barstock.words.cautions import SLOW, of_operation, of_setup
from barstock.words.checks import check_line, checked_with, named
from barstock.words.durations import hours
from barstock.words.holding import held_words, setting_up
from barstock.words.left_to_you import HOW, left_lines, made_as, ordered
from barstock.words.marks import marks
from barstock.words.operation_lines import lines
from barstock.words.operation_titles import title
from barstock.words.reader import Reader, reader
from barstock.words.reasons import choice, whys
from barstock.words.setup_titles import setup_title
from barstock.words.shopping import stock_length
from barstock.words.size_figures import minus
from barstock.words.summary import told_summary
from barstock.words.zeros import readings_in, zero_lines
from barstock.workshop.shop import ToolKind, Workshop

SAFETY = (
    "Wear eye protection at every machine and at the bench. Keep hair, sleeves, rings, gloves and "
    "rag away from anything that turns. Stop the spindle before you measure, brush or reach in.",
    "The makers' instructions of your machines, cutters, coolants and materials, and the rules "
    "that hold where you work, come before anything printed here.",
    "Anything that carries people, holds pressure or is lifted is a matter for your club's or "
    "insurer's rules, the law of the place and a competent inspection. This pack replaces none "
    "of them.",
    "From – to begins at the end from which the feed goes against the turn of the cutter: fed with "
    "it, a light machine with slack in its screws snatches the work.",
    "The numbers were proved on a solid model, with the bar, cutters and machine as they were "
    "listed. Measure what you really have before you trust them.",
)


def compose(
    route: Route,
    build: Build,
    workshop: Workshop,
    pictures: Mapping[str, str],
    drawings: Mapping[str, str],
    chart: str = "",
    unit: Unit | None = None,
) -> Pack:
    """The pages of a pack.

    pictures: SVG text by setup id; drawings: SVG text by part name. Both may lack some. chart: the
    name of the route's picture. unit: that all is read in, else each part in its own.
    """
    if unit is not None:
        build = replace(build, parts=tuple(replace(part, unit=unit) for part in build.parts))
    bars = {bar.id: bar for bar in route.bars}
    names = {part: name for name, part in picture_names(build).items() if part in drawings}
    pages, operations = [], operation_titles(route, build)
    for setup in route.setups:
        bar = bars.get(setup.work)
        part = build.part(bar.part if bar else setup.work)
        machine = next((m for m in workshop.machines if m.name == setup.machine), None)
        read = reader(machine, part.unit, unit)
        switch = unit is None and read.machine != machine
        picture = _picture(setup, pictures, names)
        pages.append(_setup(setup, part, bar, route, read, switch, picture, operations))
    titles = {s.id: setup_title(s) for s in route.setups}
    checks = {(o.id, c.name): c for s in route.setups for o in s.operations for c in o.checks}
    index = tuple(
        (
            name,
            tuple(
                _index_line(
                    m,
                    checks.get((m.operation, m.dimension)),
                    operations.get(m.operation, titles.get(m.setup, "")),
                )
                for m in made
            ),
        )
        for name, made in groupby(route.index, key=lambda m: m.part)
    )
    told = told_summary(route.summary, build, unit or workshop.unit)
    return Pack(
        build=route.build,
        parts=tuple(
            _part(p, [s.number for s in pages if s.part == p.name], made_as(p, route.left))
            for p in build.parts
        )
        + tuple((one.name, "", "", HOW[LeftHow.LEFT]) for one in build.unread),
        figures=_hours(route.summary),
        bars=tuple(_bar(bar, build.part(bar.part).unit) for bar in route.bars),
        buy=(*told.buy, *ordered(build)),
        notes=told.notes,
        shorten=tuple(_shorten(one, workshop.unit) for one in route.summary.shorten),
        order=tuple(Stop(p.number, p.part, p.title, p.machine, p.copies, p.minutes) for p in pages),
        setups=tuple(pages),
        index=index,
        drawings=tuple(
            DrawingPage(part, name, _wide(drawings[part])) for part, name in names.items()
        ),
        safety=SAFETY,
        chart=chart,
        hearth=hearth_pages(route, units_of(build.parts), set(pictures)),
        left=left_pages(route, build, names, unit),
        left_said=left_lines(route.left, build),
    )


def operation_titles(route: Route, build: Build) -> dict[str, str]:
    """The title of every operation, in words, by its id."""
    bars = {bar.id: bar.part for bar in route.bars}
    units = {part.name: part.unit for part in build.parts}
    return {
        o.id: title(o, Reader(units[bars.get(setup.work, setup.work)]))
        for setup in route.setups
        for o in setup.operations
    }


def picture_names(build: Build) -> dict[str, str]:
    """The part's name of each drawing among the pictures, by the picture's name."""
    return {f"drawing-{n}": p.name for n, p in enumerate(build.parts)}


def _picture(setup: Setup, pictures: Mapping[str, str], drawn: Mapping[str, str]) -> str:
    """The name of a setup's picture: the work as held, or at the bench the part's drawing."""
    if machine_type(setup.machine_kind).work is WorkSort.FILING:
        return drawn.get(setup.work, "")
    return f"setup-{setup.id}" if setup.id in pictures else ""


def _wide(svg: str) -> bool:
    """Is a picture wider than high, by its view box?"""
    box = svg.partition('viewBox="')[2].partition('"')[0].replace(",", " ").split()
    return len(box) == 4 and float(box[2]) > float(box[3])


NO_SETUPS = "joined only"


def _part(part: Part, setups: list[str], made: str) -> tuple[str, str, str, str]:
    where = ", ".join(setups) or ("" if made else NO_SETUPS)
    worked = "; ".join(words for words in (where, made) if words)
    return part.name, str(part.copies), part.material, worked


def _index_line(made: Made, check: Expect | None, operation: str) -> IndexLine:
    """What makes a dimension; a route written by hand may name one that nothing checks."""
    if check is None:
        return IndexLine(made.dimension.replace("/", ": ", 1), "", made.setup, operation, "")
    size = minus(check.text or f"{check.nominal:g}")
    return IndexLine(named(check), size, made.setup, operation, checked_with(check))


def _hours(summary: Summary) -> tuple[tuple[str, str], ...]:
    """The times worth saying, as (label, words) pairs."""
    found = [("In this order", hours(summary.hours * 60))]
    if summary.hearth_hours:
        found.append(("Of them at the hearth", hours(summary.hearth_hours * 60)))
    for label, other in (
        ("One part at a time", summary.one_part_at_a_time_hours),
        ("One tool at a time", summary.one_tool_at_a_time_hours),
    ):
        if other:
            saved = (other - summary.hours) * 60
            more = f", so this order saves {hours(saved)}" if saved > 0 else ""
            found.append((label, hours(other * 60) + more))
    if summary.optimal:
        found.append(("No order can be quicker", "proved for the ways and times listed"))
    elif summary.bound_hours:
        found.append(("No order can take less than", hours(summary.bound_hours * 60)))
    for pin in summary.pins:
        cost = f"costs {hours(pin.minutes)}" if pin.minutes >= 0.5 else "costs no time"
        found.append((f"Pinned: {choice(pin)}", cost))
    return tuple(found)


def _shorten(one: ToShorten, unit: Unit) -> tuple[str, ...]:
    """Thread, as bought, what to saw it to, how many, where they go."""
    stock, cut = stock_length(one.thread, one.stock), show(one.cut_to, unit)
    return f"{one.thread} {one.material}", stock, cut, str(one.count), ", ".join(one.places)


def _bar(bar: BarPiece, unit: Unit) -> tuple[str, ...]:
    """A bar to saw: section, material, lengths, each, pieces, part, on the rack or not."""
    pieces = str(bar.pieces)
    if bar.last_pieces:
        pieces += f", the last {bar.last_pieces}"
    return (
        bar.stock,
        bar.material,
        str(bar.count),
        show_sawn(bar.length, unit),
        pieces,
        bar.part,
        "to buy" if bar.to_buy else "on the rack",
    )


def _setup(
    setup: Setup,
    part: Part,
    bar: BarPiece | None,
    route: Route,
    read: Reader,
    switch: bool,
    picture: str,
    titles: Mapping[str, str],
) -> SetupPage:
    moved = machine_type(setup.machine_kind).axes
    return SetupPage(
        number=setup.id,
        last=route.setups[-1].id,
        build=route.build,
        part=part.name,
        stage=_stage(setup, bar),
        copies=_copies(setup, part, bar),
        title=setup_title(setup),
        machine=setup.machine,
        minutes=hours(setup.minutes),
        held=(*_bar_held(bar, part.unit), *held_words(setup, read)),
        zeros=zero_lines(setup, read),
        readings_in=readings_in(read) if moved else "",
        mark=marks(setup.marks, read),
        steps=setting_up(setup, read),
        cautions=of_setup(setup, read, switch),
        why=whys(setup.why, read, titles),
        passes=_passes(setup, bar, read, titles),
        picture=picture,
    )


def _bar_held(bar: BarPiece | None, unit: Unit) -> tuple[tuple[str, str], ...]:
    if bar is None:
        return ()
    return (("Bar", f"{bar.stock} {bar.material}, {show_sawn(bar.length, unit)} long"),)


def _stage(setup: Setup, bar: BarPiece | None) -> str:
    if bar is None:
        return "pieces"
    return "bar"


def _copies(setup: Setup, part: Part, bar: BarPiece | None) -> str:
    if bar is None:
        return counted(setup.copies, "piece")
    return f"{counted(setup.copies, 'bar')} for {counted(part.copies, 'piece')}"


def _passes(
    setup: Setup, bar: BarPiece | None, read: Reader, titles: Mapping[str, str]
) -> tuple[Pass, ...]:
    numbers = {o.id: n for n, o in enumerate(setup.operations, 1)}
    by_id = {o.id: o for o in setup.operations}
    passes = setup.passes or (tuple(by_id),)
    noun = "bar" if setup.stage == "bar" else "piece"
    found = []
    for n, ids in enumerate(passes, 1):
        boxes = tuple(_operation(by_id[i], numbers[i], bar, read, titles) for i in ids)
        words = _pass_words(n, len(passes), [b.number for b in boxes], setup.copies, noun)
        ticks = tuple(str(c) for c in range(1, setup.copies + 1))
        found.append(Pass(words, boxes, ticks))
    return tuple(found)


def _pass_words(n: int, of: int, numbers: list[int], copies: int, noun: str) -> str:
    which = f"operation{'s' * (len(numbers) > 1)} {numbers[0]}"
    if len(numbers) > 1:
        which += f" {'and' if len(numbers) == 2 else 'to'} {numbers[-1]}"
    head = f"Pass {n} of {of}: " if of > 1 else ""
    if copies == 1:
        words = f"{which} on the one {noun}"
    else:
        words = f"load each of the {copies} {noun}s in turn, {which} on each"
    return (head + words) if head else words[0].upper() + words[1:]


def _operation(
    o: Operation, number: int, bar: BarPiece | None, read: Reader, titles: Mapping[str, str]
) -> OperationBox:
    running = []
    tapped = o.cutter.kind is ToolKind.TAP  # turned by hand: a speed would be a trap
    if tapped:
        running.append(("by hand", ""))
    elif o.rpm:
        running.append((f"{o.rpm:g}", "rpm"))
    if o.feed and not tapped:
        inch = read.dial_unit is Unit.INCH
        running.append((f"{o.feed / INCH:.1f}", "in/min") if inch else (f"{o.feed:g}", "mm/min"))
    share = f"at {o.speed_share:.0%} of the speed wanted"
    return OperationBox(
        number=number,
        title=title(o, read),
        tool=o.cutter.name,
        running=tuple(running),
        shortfall=share if o.speed_share < SLOW and not tapped else "",
        lines=lines(o, read, bar),
        checks=tuple(check_line(check, read) for check in o.checks),
        cautions=of_operation(o, read),
        why=whys(o.why, read, titles),
    )
