"""The pack as one HTML file with its pictures in it: no script, nothing fetched."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from barstock.pack.pack_pages import Pack
from barstock.words.lines import AXES, Line


def html(pack: Pack, pictures: Mapping[str, str]) -> str:
    """The whole file as HTML. pictures: SVG text by the names the pages use."""
    return (
        environment()
        .get_template("pack.html")
        .render(
            pack=pack,
            title=pack.build,
            style=style("page.css"),
            pictures=pictures,
            data=lambda name: picture_data(pictures[name]),
        )
    )


@cache
def environment() -> Environment:
    """The templates, compiled once."""
    found = Environment(
        loader=FileSystemLoader(Path(__file__).with_name("templates")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    found.globals |= {
        "capital": capital,
        "sentence": sentence,
        "axes_of": axes_of,
        "notes_of": notes_of,
    }
    return found


def style(*names: str) -> str:
    """The style sheets, one after another."""
    return "".join(Path(__file__).with_name(name).read_text(encoding="utf-8") for name in names)


def picture_data(svg: str) -> str:
    """A picture as an address that holds all of it."""
    return f"data:image/svg+xml;base64,{b64encode(svg.encode()).decode()}"


def capital(words: str) -> str:
    """The words with a capital to begin with."""
    return words[:1].upper() + words[1:]


def sentence(words: str) -> str:
    """The words as a sentence, with one full stop."""
    return capital(words.rstrip(".")) + "."


def axes_of(lines: Sequence[Line]) -> list[str]:
    """The axes that any of the lines gives a reading of."""
    return [axis for axis in AXES if any(axis in line.axes for line in lines)]


def notes_of(lines: Sequence[Line], axis: str) -> str:
    """The notes of an axis, each note once."""
    notes = [line.axes[axis].note for line in lines if axis in line.axes]
    return ", ".join(dict.fromkeys(note for note in notes if note))
