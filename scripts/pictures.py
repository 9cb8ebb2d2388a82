"""Make the documentation's pictures: the sample wagon is planned, and its pack photographed.

python scripts/pictures.py    writes docs/pictures/
"""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

import pymupdf

import barstock
from barstock.words.setup_titles import setup_title

PICTURES = Path(__file__).parents[1] / "docs" / "pictures"
SAMPLE = Path(barstock.__file__).parent / "samples" / "wagon"
PART = "axlebox"
TILTED = "guide slots"  # the setup shown: the work is tilted for its leaning slots
FINE = 110  # [dots an inch]


def photograph(page: pymupdf.Page, name: str) -> None:
    """A page of the pack as it prints."""
    page.get_pixmap(dpi=FINE).save(PICTURES / f"{name}.png")


def main() -> None:
    """Plan the wagon, then take its summary, a drawing, a setup's page and its picture."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        for file in SAMPLE.iterdir():
            shutil.copy(file, folder)
        made = barstock.plan(folder)
        setup = next(s for s in made.route.setups if setup_title(s) == TILTED and s.holding.tilt)
        shutil.copy(made.folder / "pictures" / setup.picture, PICTURES / "setup.svg")
        with pymupdf.open(made.folder / "pack.pdf") as pack:
            photograph(pack[0], "summary")
            words = (f"of {len(made.route.setups)}", TILTED, f"\n{setup.id}\n")
            shown = (page for page in pack if all(w in page.get_text() for w in words))
            photograph(next(shown), "setup-page")
        with pymupdf.open(made.folder / "parts" / f"{PART}.pdf") as drawing:
            photograph(drawing[0], "part")


if __name__ == "__main__":
    main()
