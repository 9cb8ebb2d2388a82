"""Who gets what: names, pairing, writes from elsewhere, paths, sizes, headers."""

from __future__ import annotations

import re
import socket
from http.cookies import SimpleCookie

import pytest
from fastapi.routing import APIRoute

from barstock.web.access import HEADERS, MOST, MOST_HISTORY, OPEN
from barstock.web.app import PAGES as PROGRAM
from barstock.web.pairing import CODE_LASTS, COOKIE, TRIES, Pairing

from .conftest import HOST, ORIGIN, Bench

PAGES = ("/", "/setup/1", "/setup/1/1", "/setup/1/whole", "/parts", "/parts/1", "/clocks",
         "/handbook?word=M3", "/log", "/log.csv", "/log.json", "/now", "/pack.pdf",
         "/picture/1", "/drawing/1", "/events", "/static/bench.js",
         "/static/vendor/htmx/htmx.min.js", "/nothing")  # fmt: skip


def every_path() -> set[str]:
    """Every address the program has, its names filled in."""
    routes = [route for pages in PROGRAM for route in pages.router.routes]
    paths = {route.path for route in routes if isinstance(route, APIRoute)}
    assert len(paths) > 20
    return {re.sub(r"\{\w+(:int)?\}", "1", path) for path in paths}


# -- the name it is asked by -----------------------------------------------------------------------


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:7319", "127.0.0.1", "127.0.0.1:80", "", f"{HOST}.evil"]
)  # fmt: skip
def test_another_name_that_points_here_gets_nothing(bench: Bench, host: str) -> None:
    answer = bench.client.get("/", headers={"Host": host})
    assert answer.status_code == 421
    assert "Fork" not in answer.text


# -- pairing ---------------------------------------------------------------------------------------


def test_an_unpaired_device_gets_nothing(lan: Bench) -> None:
    for path in {*PAGES, *every_path()} - OPEN:
        for accept in ("text/html", "*/*"):
            answer = lan.client.get(path, headers={"Accept": accept})
            assert answer.status_code in (303, 401), path
            assert answer.headers.get("location", "/pair") == "/pair"
            assert "Fork" not in answer.text
        assert lan.client.post(path).status_code == 401, path
    assert "Fork" not in lan.client.get("/pair").text
    assert lan.state.log_state.lines == ()


def paired(lan: Bench) -> str:
    """Pair the client; the secret it was given."""
    assert lan.pairing
    answer = lan.client.post("/pair", data={"code": lan.pairing.code(), "name": " by the  mill "})
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    cookie = SimpleCookie(answer.headers["set-cookie"])[COOKIE]
    assert cookie["httponly"]
    assert cookie["samesite"] == "strict"
    assert cookie["path"] == "/"
    return cookie.value


def test_a_paired_device_gets_the_pages_and_its_name_stands_in_the_log(lan: Bench) -> None:
    paired(lan)
    assert "Fork" in lan.client.get("/").text
    lan.client.post("/log/note", data={"words": "hello"})
    assert [(e.device, e.words) for e in lan.state.log_state.lines] == [("by the mill", "hello")]


def test_a_code_is_good_once(lan: Bench) -> None:
    assert lan.pairing
    code = lan.pairing.code()
    assert lan.client.post("/pair", data={"code": code}).status_code == 303
    lan.client.cookies.clear()
    again = lan.client.post("/pair", data={"code": code})
    assert again.status_code == 403
    assert "set-cookie" not in again.headers
    assert code not in again.text


def test_a_code_typed_with_blanks_and_small_letters_is_taken(lan: Bench) -> None:
    assert lan.pairing
    code = lan.pairing.code().lower()
    typed = f" {code[:4]} {code[4:8]}-{code[8:]}"
    assert lan.client.post("/pair", data={"code": typed}).status_code == 303


def test_a_code_is_soon_too_old_and_guessing_is_stopped(lan: Bench) -> None:
    now = 0.0
    pairing = Pairing(lan.state.log, clock=lambda: now)
    old = pairing.code()
    now = CODE_LASTS + 1
    assert pairing.pair(old, "tablet") is None
    good = pairing.code()
    for _ in range(TRIES):
        pairing.pair("AAAAAAAAAAAA", "guesser")
    assert pairing.pair(good, "tablet") is None
    assert lan.state.log.devices() == {}
    now += CODE_LASTS + 1
    assert pairing.pair(pairing.code(), "tablet")


def test_a_secret_made_up_or_parted_with_opens_nothing(lan: Bench) -> None:
    secret = paired(lan)
    lan.client.cookies.clear()
    made_up = {"Cookie": f"{COOKIE}={secret[:-1]}x"}
    assert lan.client.get("/", headers=made_up).status_code == 303
    cookie = {"Cookie": f"{COOKIE}={secret}"}
    assert lan.client.get("/", headers=cookie).status_code == 200
    (mark,) = lan.state.log.devices()
    assert secret not in mark
    lan.client.post("/devices/part", data={"mark": mark}, headers=cookie)
    assert lan.client.get("/", headers=cookie).status_code == 303


def test_no_secret_stands_in_an_address_or_on_a_page(lan: Bench) -> None:
    secret = paired(lan)
    page = lan.client.post("/devices/new").text
    code = re.search(r'class="code">([A-Z2-9 ]+)<', page)
    assert code
    addresses = re.findall(r'(?:href|src|action)="([^"]*)"', page)
    assert addresses
    assert not [a for a in addresses if code[1].replace(" ", "") in a or secret in a]
    assert secret not in page
    assert lan.client.get("/devices/mark.svg").status_code == 200


# -- writes ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://evil.example"},
        {"Origin": "null"},
        {"Origin": f"https://{HOST}"},
        {"Origin": "http://127.0.0.1:9999"},
        {"Origin": ORIGIN, "Sec-Fetch-Site": "cross-site"},
        {"Origin": ORIGIN, "Sec-Fetch-Site": "same-site"},
        {"Origin": ""},
    ],
    ids=str,
)
def test_a_write_from_another_page_is_refused(bench: Bench, headers: dict[str, str]) -> None:
    for path in sorted(every_path()):
        assert bench.client.post(path, headers=headers).status_code == 403, path
    assert bench.state.log_state.lines == ()
    assert not bench.client.app.app.state.long_works["plan"].state.running  # type: ignore[attr-defined]


# -- paths and sizes -------------------------------------------------------------------------------


def test_no_path_leads_out_of_the_build_s_folder(bench: Bench) -> None:
    (bench.state.folder / "secret.txt").write_text("not for pages")
    up = ("../", "..%2f", "%2e%2e/", "..\\", "....//", "%2e%2e%2f")
    for base in ("/picture/", "/drawing/", "/static/", "/setup/", "/parts/", "/"):
        for step in up:
            for name in ("secret.txt", "build.yaml", "etc/passwd"):
                answer = bench.client.get(f"{base}{step * 2}{name}")
                assert answer.status_code in (404, 303), (base, step)
                assert "not for pages" not in answer.text
                assert "root:" not in answer.text


def test_too_much_is_not_taken(bench: Bench) -> None:
    big = {"words": "x" * (MOST + 1)}
    assert bench.client.post("/log/note", data=big).status_code == 413
    assert bench.client.get("/" + "x" * 3000).status_code == 414

    def endless():  # type: ignore[no-untyped-def]
        for _ in range(3):
            yield b"words=" + b"x" * MOST

    form = {"Content-Type": "application/x-www-form-urlencoded"}
    answer = bench.client.post("/log/note", content=endless(), headers=form)
    assert answer.status_code == 413
    history = {"file": ("history.json", b"x" * (MOST_HISTORY + 1))}
    assert bench.client.post("/log/bring-in", files=history).status_code == 413
    assert bench.state.log_state.lines == ()


def test_every_answer_has_the_headers(bench: Bench) -> None:
    for path in PAGES:
        if path == "/events":
            continue  # does not end
        found = bench.client.get(path).headers
        assert {name: found[name] for name in HEADERS} == HEADERS, path
        assert "unsafe" not in found["content-security-policy"]
    refused = bench.client.get("/", headers={"Host": "evil.example"})
    assert refused.headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize(
    ("path", "kept"),
    [
        ("/", "no-store"),
        ("/log.csv", "no-store"),
        ("/static/bench.js", "no-cache"),
        ("/static/fonts/barlow-condensed-latin-600-normal.woff2", "max-age=31536000, immutable"),
    ],
)
def test_only_what_tells_nothing_is_kept_by_a_browser(bench: Bench, path: str, kept: str) -> None:
    assert bench.client.get(path).headers["cache-control"] == kept


def test_a_taken_port_is_said(planned) -> None:  # type: ignore[no-untyped-def]
    from typer.testing import CliRunner

    from barstock.cli.commands import app

    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = str(taken.getsockname()[1])
        told = CliRunner().invoke(app, ["bench", str(planned), "--no-browser", "--port", port])
    assert told.exit_code == 2
    assert f"port {port} cannot be had" in told.output
