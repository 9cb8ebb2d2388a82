"""Pairs devices with the bench, and parts with them."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, HTTPException, Request
from fastapi.responses import Response

from barstock.pack.bench_marks import mark_svg
from barstock.web.page_words import say
from barstock.web.pairing import COOKIE, LASTS, Pairing, digest, spaced
from barstock.web.rendering import onward, part_of_page, whole_page
from barstock.web.views.finding import found_setup

router = APIRouter()


def _pairing(request: Request) -> Pairing:
    found = request.app.state.pairing
    if found is None:
        raise HTTPException(404)
    pairing: Pairing = found
    return pairing


@router.get("/pair")
def asked(request: Request) -> Response:
    """The page where a device gives its code."""
    _pairing(request)
    return part_of_page("pair.html", wrong="", name=say("pair name default"))


@router.post("/pair")
def pair(
    request: Request,
    code: Annotated[str, Form(max_length=40)] = "",
    name: Annotated[str, Form(max_length=60)] = "",
) -> Response:
    """Pair the device that has a good code."""
    name = " ".join(name.split()) or say("pair name default")
    secret = _pairing(request).pair(code, name)
    if secret is None:
        return part_of_page("pair.html", 403, wrong=say("pair wrong"), name=name)
    answer = onward("/")
    answer.set_cookie(COOKIE, secret, max_age=LASTS, httponly=True, samesite="strict")
    return answer


@router.get("/devices")
def devices(request: Request) -> Response:
    """The page of the paired devices; where only this computer sees the pages, it says how others
    come in.
    """
    if request.app.state.pairing is None:
        return whole_page(request, "devices.html", "devices", paired=None)
    return _shown(request, "")


@router.post("/devices/new")
def new(request: Request) -> Response:
    """Show a code for another device."""
    return _shown(request, _pairing(request).code())


def _shown(request: Request, code: str) -> Response:
    pairing = _pairing(request)
    request.app.state.shown_code = code
    return whole_page(
        request,
        "devices.html",
        "devices",
        code=spaced(code),
        address=f"{request.app.state.address}/pair",
        paired=pairing.log.devices(),
        mine=digest(request.cookies.get(COOKIE, "")),
    )


@router.get("/devices/mark.svg")
def mark(request: Request) -> Response:
    """The mark that the other device reads: the address with the code after '#'."""
    code = request.app.state.shown_code
    if not code:
        raise HTTPException(404)
    svg = mark_svg(f"{request.app.state.address}/pair#{code}")
    return Response(svg, media_type="image/svg+xml")


@router.get("/setup/{name}/mark.svg")
def setup_mark(request: Request, name: str) -> Response:
    """The mark that opens a setup, for its printed page."""
    _pairing(request)
    found_setup(request, name)
    svg = mark_svg(f"{request.app.state.address}/setup/{name}")
    return Response(svg, media_type="image/svg+xml")


@router.post("/devices/part")
def part(request: Request, mark: Annotated[str, Form(max_length=64)]) -> Response:
    """Part with a device."""
    _pairing(request).part_with(mark)
    return onward("/devices")
