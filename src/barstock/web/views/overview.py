"""The first page: the build at a glance, and planning the rest of it anew."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import FileResponse, Response

from barstock.bench.entry import Kind
from barstock.bench.heats_ticked import hearth
from barstock.bench.progress import SetupLeft, next_up
from barstock.pack.route_file import OUT
from barstock.web.rendering import (
    UNIT_COOKIE,
    UNITS,
    asks_a_piece,
    bench_of,
    device_of,
    onward,
    part_of_page,
    unit_of,
    whole_page,
)
from barstock.web.replanning import replan
from barstock.web.views.long_work_view import long_work_of

router = APIRouter()
HALF_AN_HOUR = 30
YEAR = 365 * 24 * 3600


@dataclass(frozen=True)
class DialScale:
    """The lines of a dial's scale, and its figures."""

    fine: tuple[tuple[float, float, float, float], ...]
    coarse: tuple[tuple[float, float, float, float], ...]
    numbers: tuple[tuple[float, float, int], ...]


def _notches() -> DialScale:
    def line(n: float, inner: float) -> tuple[float, float, float, float]:
        x, y = sin(radians(n * 3.6)), -cos(radians(n * 3.6))
        return tuple(round(v, 2) for v in (x * inner, y * inner, x * 53, y * 53))  # type: ignore[return-value]

    return DialScale(
        tuple(line(n, 50) for n in range(100) if n % 5),
        tuple(line(n, 47) for n in range(0, 100, 5)),
        tuple((line(n, 40)[0], line(n, 40)[1], n) for n in range(0, 100, 10)),
    )


NOTCHES = _notches()


@router.get("/")
def glance(request: Request, minutes: int = HALF_AN_HOUR) -> Response:
    """The page of what stands where, what is left, and what could be done next."""
    found = _now(request, minutes)
    bench = bench_of(request)
    route = bench.plan.route
    left = sum(one.minutes for one in (*found["lefts"], *found["hearths"]))
    every = sum(s.minutes for s in route.setups) + sum(f.minutes for f in route.fabrications)
    more = {
        "minutes_left": left,
        "minutes_all": every,
        "share": round(100 * (1 - left / every)) if every else 100,
        "notches": NOTCHES,
        "pack": (bench.folder / OUT / "pack.pdf").is_file(),
        "moves": bench.plan.build.mechanism is not None,
        "left_said": bench.plan.pack(unit_of(request)).left_said,
    }
    return whole_page(request, "glance.html", "build", **found, **more)


@router.get("/now")
def now(request: Request, minutes: int = HALF_AN_HOUR) -> Response:
    """The part of the first page that others' entries change."""
    return part_of_page("now.html", **_now(request, minutes))


def _now(request: Request, minutes: int) -> dict[str, Any]:
    bench = bench_of(request)
    minutes = min(max(minutes, 1), 24 * 60)
    lefts, standing_on = bench.lefts, bench.standing_on
    plan, log_state = bench.plan, bench.log_state
    planned = [n for n, e in enumerate(log_state.standing) if e.kind is Kind.PLANNED]
    since = log_state.standing[planned[-1] if planned else 0 :]
    return {
        "minutes": minutes,
        "lefts": lefts,
        "hearths": hearth(plan.route, log_state.work),
        "states": {left.setup.id: _state(left) for left in lefts},
        "parts": {s.id: plan.part_of(s) for s in plan.route.setups},
        "standing_on": standing_on,
        "running": list(log_state.work.running.values()),
        "coulds": next_up(lefts, standing_on, plan.workshop.times, minutes)[:6],
        "changed": bench.changed(),
        "spoiled_since": any(e.kind is Kind.SPOILED for e in since),
        "replanning": long_work_of(request, "plan").state,
    }


def _state(left: SetupLeft) -> str:
    if left.finished:
        return "done"
    return "begun" if left.begun else "free" if left.free else "waits"


@router.post("/replan")
def plan_anew(request: Request) -> Response:
    """Begin to plan the rest anew, from the work as it stands."""
    state = request.app.state
    replan(long_work_of(request, "plan"), state.bench, state.program.plan, device_of(request))
    return now(request) if asks_a_piece(request) else onward("/")


@router.post("/unit")
async def unit(request: Request) -> Response:
    """Set the unit that this device reads in from now on."""
    form = await request.form()
    back = str(form.get("back", "/"))
    answer = onward(back if back.startswith("/") and not back.startswith("//") else "/")
    wanted = str(form.get("unit"))
    if wanted in UNITS:
        answer.set_cookie(UNIT_COOKIE, wanted, max_age=YEAR, httponly=True, samesite="strict")
    return answer


@router.get("/pack.pdf")
def pack(request: Request) -> Response:
    """The printed pack as PDF."""
    return FileResponse(bench_of(request).folder / OUT / "pack.pdf", media_type="application/pdf")
