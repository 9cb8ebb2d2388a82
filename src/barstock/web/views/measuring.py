"""The forms of sizes measured: entering them, judging them, closing in on them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import APIRouter, Form, HTTPException, Query, Request
from fastapi.responses import Response

from barstock.bench.entry import Entry, Kind
from barstock.bench.first_off import advise, fed_axis, judge, making_of, plausible
from barstock.measuring.closing_in import Advice, ClosingError, Cut
from barstock.measuring.feed_effect import Making
from barstock.quantities import SizeError, Unit, parse_angle, parse_length, show
from barstock.route import Expect, Setup
from barstock.web.cards import Card, Measured
from barstock.web.page_words import say
from barstock.web.rendering import (
    asks_a_piece,
    bench_of,
    capital,
    device_of,
    onward,
    part_of_page,
    unit_of,
)
from barstock.web.views.finding import found_card, found_setup
from barstock.words.size_figures import limits as both_limits
from barstock.workshop.shop import Axis

router = APIRouter()


@dataclass(frozen=True)
class Judgement:
    """A measured size with its judgement. mood: "within", "loose" or "out"."""

    nth: int
    text: str
    verdict: str
    mood: str
    instrument: str
    dimension: str = ""
    limits: str = ""


def judged(check: Expect, entry: Entry, unit: Unit) -> Judgement:
    """A size as entered, judged by its check."""
    reading = entry.reading or 0.0
    found = judge(check, reading)
    past = show_size(check, found.past, unit)
    mood = found.verdict if found.verdict in ("within", "loose") else "out"
    words = say("within") if mood == "within" else say(found.verdict, past=past)
    mark = say(f"{mood} mark")
    return Judgement(
        entry.nth,
        show_size(check, reading, unit),
        f"{mark} {words}",
        mood,
        entry.instrument,
        check.name.replace("/", ": ", 1),
        both_limits(check.low, check.high, unit, check.angle),
    )


def show_size(check: Expect, value: float, unit: Unit) -> str:
    """A size or an angle as it is read."""
    return f"{value:.2f}°" if check.angle else show(value, unit)


def reading_unit(request: Request, setup: Setup) -> Unit:
    """The unit in which this device reads sizes of a setup's part."""
    wanted = unit_of(request)
    plan = bench_of(request).plan
    return Unit(wanted) if wanted in list(Unit) else plan.build.part(plan.part_of(setup)).unit


def shown_measured(
    request: Request,
    setup: Setup,
    one: Measured,
    index: int,
    *,
    entered: str = "",
    wrong: str = "",
    nth: int | None = None,
) -> dict[str, Any]:
    """What the form of one dimension shows."""
    bench = bench_of(request)
    unit, fed = reading_unit(request, setup), _fed(request, setup, one)
    sizes = bench.log_state.work.measured(setup.work, one.check.name)
    sized = one.check.low < one.check.high
    first = next((n for n in range(1, setup.copies + 1) if n not in sizes), 1)
    names = [i.name for i in bench.plan.workshop.instruments]
    with_ = one.check.with_
    return {
        "index": index,
        "shown": one.shown,
        "sized": sized,
        "unit": "°" if one.check.angle else {"mm": "mm", "inch": "in"}[unit],
        "entered": entered,
        "wrong": wrong,
        "copy": nth or first,
        "with_": with_,
        "instruments": names if with_ in names else [with_, *names],
        "sizes": [judged(one.check, sizes[n], unit) for n in sorted(sizes)],
        "close": _close(setup, one, index, fed, unit) if fed else None,
    }


def _fed(request: Request, setup: Setup, one: Measured) -> tuple[Making, Axis] | None:
    """How a dimension answers to feed, and by which axis; None where no feed closes in on it."""
    from barstock.methods import KINDS

    plan, check = bench_of(request).plan, one.check
    making = making_of(plan.build, plan.part_of(setup), one.operation, check, KINDS)
    axis = fed_axis(making, plan.machine(setup)) if making else None
    return (making, axis) if making and axis and check.low < check.high else None


def _measured(request: Request, name: str, number: int, index: int) -> tuple[Any, Card, Measured]:
    setup, page, found = found_setup(request, name)
    card = found_card(found, number)
    if not 0 <= index < len(card.measured):
        raise HTTPException(404)
    return (setup, page), card, card.measured[index]


@router.post("/setup/{name}/{number:int}/size")
def enter(
    request: Request,
    name: str,
    number: int,
    index: Annotated[int, Form()],
    nth: Annotated[int, Form()],
    reading: Annotated[str, Form(max_length=60)] = "",
    instrument: Annotated[str, Form(max_length=200)] = "",
) -> Response:
    """Enter a size; a wrong one comes back with what is wrong beside it."""
    (setup, page), card, one = _measured(request, name, number, index)
    if not 1 <= nth <= setup.copies:
        raise HTTPException(404)
    wrong, value = _read(one.check, reading, reading_unit(request, setup))
    if value is not None and not plausible(one.check, value):
        unit = reading_unit(request, setup)
        sizes = (show_size(one.check, v, unit) for v in (value, one.check.nominal))
        wrong = say("size far", size=next(sizes), nominal=next(sizes))
    if not wrong:
        bench_of(request).write(
            Entry(
                kind=Kind.SIZE,
                device=device_of(request),
                setup=name,
                operation=one.operation.id,
                work=setup.work,
                nth=nth,
                dimension=one.check.name,
                reading=value,
                instrument=instrument,
            )
        )
        if not asks_a_piece(request):
            return onward(f"/setup/{name}/{number}")
    found = shown_measured(
        request, setup, one, index, entered=reading if wrong else "", wrong=wrong,
        nth=nth if wrong else None,
    )  # fmt: skip
    given = {"page": page, "setup": setup, "card": card, "one": found}
    return part_of_page("measure.html", 422 if wrong else 200, **given)


def _read(check: Expect, text: str, unit: Unit) -> tuple[str, float | None]:
    """What is wrong with a size as entered, or its value."""
    if not text.strip():
        return say("size none"), None
    try:
        value = parse_angle(text).nominal if check.angle else parse_length(text, unit)
    except SizeError as wrong:
        return capital(f"{wrong.what}; {wrong.mend}."), None
    return "", value


# -- closing in ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Row:
    """A cut as entered: reading and measured size."""

    reading: str = ""
    measured: str = ""
    spring: bool = False


@router.get("/setup/{name}/{number:int}/close")
def close(
    request: Request,
    name: str,
    number: int,
    index: int,
    reading: Annotated[list[str] | None, Query(max_length=40)] = None,
    measured: Annotated[list[str] | None, Query(max_length=40)] = None,
    spring: Annotated[list[str] | None, Query(max_length=40)] = None,
    toward: int = 1,
) -> Response:
    """Say the next cut, after those entered."""
    (setup, page), card, one = _measured(request, name, number, index)
    columns = (reading or [], measured or [], spring or [])
    rows = [Row(r[:40], m[:40], s == "yes") for r, m, s in zip(*columns, strict=False)]
    rows = [row for row in rows if row.reading.strip() or row.measured.strip()]
    fed = _fed(request, setup, one)
    if fed is None:
        raise HTTPException(404)
    toward = toward if toward in (1, -1) else 1
    given = _close(setup, one, index, fed, reading_unit(request, setup), rows, toward)
    if not asks_a_piece(request):
        return onward(f"/setup/{name}/{number}")
    return part_of_page("close.html", page=page, card=card, close=given)


def _close(
    setup: Setup,
    one: Measured,
    index: int,
    fed: tuple[Making, Axis],
    unit: Unit,
    rows: list[Row] | None = None,
    toward: int | None = None,
) -> dict[str, Any]:
    toward = toward or (-1 if fed[0].where == "down" else 1)  # downwards readings grow smaller
    wrong, advice = "", None
    if rows is not None:
        wrong, advice = _advice(setup, one.check, fed, rows, toward, unit)
    return {
        "index": index,
        "unit": {"mm": "mm", "inch": "in"}[unit],
        "rows": [*(rows or []), Row()],
        "toward": toward,
        "wrong": wrong,
        "advice": advice,
    }


def _advice(
    setup: Setup, check: Expect, fed: tuple[Making, Axis], rows: list[Row], toward: int, unit: Unit
) -> tuple[str, Advice | None]:
    if not rows:
        return say("close none"), None
    try:
        cuts = [
            Cut(_signed(row.reading, unit), parse_length(row.measured, unit), row.spring)
            for row in rows
        ]
        return "", advise(check, fed[0], setup, fed[1], cuts, toward=toward, unit=unit)
    except SizeError as wrong:
        return capital(f"{wrong.what}; {wrong.mend}."), None
    except ClosingError as wrong:
        return capital(f"{wrong.args[0]}."), None


def _signed(text: str, unit: Unit) -> float:
    """A reading of an axis, 0 where nothing is written."""
    return parse_length(text, unit) if text.strip() else 0.0
