"""Sets the pack as PDF by typst, with the fonts that come with it."""

from __future__ import annotations

import json
import shutil
import tempfile
from collections.abc import Mapping
from dataclasses import asdict
from enum import StrEnum
from pathlib import Path

from barstock.pack.pack_pages import Pack


class Paper(StrEnum):
    """The paper that the pack is printed on."""

    A4 = "a4"
    LETTER = "letter"


def pdf(pack: Pack, pictures: Mapping[str, str], paper: Paper = Paper.A4) -> bytes:
    """The pack as a PDF. pictures: SVG text by the names its pages use."""
    import typst

    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        shutil.copy(Path(__file__).with_name("pack.typ"), folder)
        (folder / "pages.json").write_text(json.dumps(asdict(pack)), encoding="utf-8")
        for picture, svg in pictures.items():
            (folder / f"{picture}.svg").write_text(svg, encoding="utf-8")
        made: bytes = typst.compile(
            folder / "pack.typ",
            root=folder,
            ignore_system_fonts=True,
            sys_inputs={"paper": "a4" if paper is Paper.A4 else "us-letter"},
        )
    return made
