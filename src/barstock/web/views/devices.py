"""Pairing devices, and parting with them."""

from __future__ import annotations

import io
from typing import Annotated

import segno
from fastapi import APIRouter, Form, HTTPException, Request
from fastapi.responses import Response

from barstock.web.pairing import COOKIE, LASTS, Pairing, digest, spaced
from barstock.web.showing import onward, part_of_page, whole_page
from barstock.web.words import say

router = APIRouter()


def _pairing(request: Request) -> Pairing:
    found = request.app.state.pairing
    if found is None:
        raise HTTPException(404)
    pairing: Pairing = found
    return pairing


@router.get("/pair")
def asked(request: Request) -> Response:
    """Where a device gives its code."""
    _pairing(request)
    return part_of_page(request, "pair.html", wrong="", name=say("pair name default"))


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
        return part_of_page(request, "pair.html", 403, wrong=say("pair wrong"), name=name)
    answer = onward("/")
    answer.set_cookie(COOKIE, secret, max_age=LASTS, httponly=True, samesite="strict")
    return answer


@router.get("/devices")
def devices(request: Request) -> Response:
    """The devices that are paired."""
    return _shown(request, "")


@router.post("/devices/new")
def new(request: Request) -> Response:
    """A code for another device."""
    return _shown(request, _pairing(request).code())


def _shown(request: Request, code: str) -> Response:
    pairing = _pairing(request)
    request.app.state.shown_code = code
    return whole_page(
        request,
        "devices.html",
        "devices",
        lan=True,
        code=spaced(code),
        address=f"{request.app.state.address}/pair",
        paired=pairing.log.devices(),
        mine=digest(request.cookies.get(COOKIE, "")),
    )


@router.get("/devices/mark.svg")
def mark(request: Request) -> Response:
    """The mark to read with the other device: the address with the code after '#'."""
    code = request.app.state.shown_code
    if not code:
        raise HTTPException(404)
    svg = mark_svg(f"{request.app.state.address}/pair#{code}")
    return Response(svg, media_type="image/svg+xml")


def mark_svg(text: str) -> bytes:
    """A mark as a picture."""
    out = io.BytesIO()
    segno.make(text, error="m", micro=False).save(out, kind="svg", scale=6, border=4, light="#fff")
    return out.getvalue()


@router.post("/devices/part")
def part(request: Request, mark: Annotated[str, Form(max_length=64)]) -> Response:
    """Part with a device."""
    _pairing(request).log.part_with(mark)
    return onward("/devices")
