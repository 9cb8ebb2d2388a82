"""The marks on the setups' pages, read by a library that had no part in making them."""

from __future__ import annotations

import re
from base64 import b64decode

import pymupdf
import zxingcpp
from PIL import Image

from barstock.drawing.build import Build
from barstock.pack.bench_marks import marked
from barstock.pack.compose import compose
from barstock.pack.pdf_printing import pdf
from barstock.pack.webpage import html
from barstock.route import Route
from barstock.workshop.shop import Workshop

ADDRESS = "http://192.168.1.20:7319/"


def test_every_setup_s_page_has_its_mark(route: Route, build: Build, workshop: Workshop) -> None:
    pack, marks = marked(compose(route, build, workshop, {}, {}), ADDRESS)
    found = set()
    for page in pymupdf.open(stream=pdf(pack, marks)):
        shown = page.get_pixmap(dpi=110)
        picture = Image.frombytes("RGB", (shown.width, shown.height), shown.samples)
        found |= {mark.text for mark in zxingcpp.read_barcodes(picture)}
    long = {s.number for s in pack.setups if s.zeros or s.picture}
    assert {f"http://192.168.1.20:7319/setup/{n}" for n in long} <= found
    text = html(pack, marks)
    assert len(re.findall('<div class="bench">', text)) == len(route.setups)
    svg = re.search(r'class="bench"><img[^>]*base64,([^"]+)"', text)
    assert svg
    assert b64decode(svg[1]).startswith(b"<svg")


def test_without_an_address_there_is_none(route: Route, build: Build, workshop: Workshop) -> None:
    plain = compose(route, build, workshop, {}, {})
    assert marked(plain, "") == (plain, {})
    assert 'class="bench"' not in html(plain, {})
