"""Tempering colours of carbon steel, and what is tempered to them.

Source: a maker of ground flat stock's chart of temper colours (°C), for plain carbon and silver
steel heated for some minutes; the uses are those of shop books of the early 1900s. The colours show
the heat only on a bright surface; alloyed steels show others.
"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.handbook.answer import Found
from barstock.quantities import Unit

NAME = "tempering colours"
SOURCE = "temper colour chart of a maker of ground flat stock; uses from shop books"

# temperature [C]: colour, what for
COLOURS: dict[int, tuple[str, str]] = {
    210: ("light yellow", "scrapers, razors, tools for brass"),
    220: ("straw", "lathe tools, reamers, hammer faces"),
    230: ("yellow", "scribers, milling cutters, engraving tools"),
    240: ("dark yellow", "taps, dies, drills, gauges, punches"),
    250: ("yellow brown", "taps, dies, shear blades, plane irons"),
    260: ("red brown", "drifts, twist drills, wood chisels"),
    270: ("purple", "axes, press tools, punches"),
    280: ("violet", "cold chisels, table knives"),
    290: ("dark blue", "cold chisels, screwdrivers"),
    300: ("blue", "springs, screwdrivers, spanners"),
    310: ("light blue", "springs, saws for wood"),
    320: ("grey blue", "work that must be tough more than hard"),
    330: ("grey green", "the colours end here"),
}

HARDEN = (
    "from cherry red, 770 to 790 °C (carbon steel), quenched in brine or water; 800 °C and oil for "
    "oil-hardening steel; temper at once"
)
CAUTION = (
    "quench in oil out of doors or in moving air, with a lid for the tin, tongs, goggles and "
    "gloves: it flares; hardened steel can crack and fly before it is tempered"
)


def find(word: str, _: Unit) -> Iterator[Found]:
    """What `look` shows of tempering: tempering, tempering blue, temper straw."""
    text = " ".join(word.lower().replace("colors", "colours").replace("color", "colour").split())
    wanted = None
    for start in ("tempering colours", "temper colours", "tempering colour", "temper colour",
                  "tempering", "temper"):  # fmt: skip
        if text == start or text.startswith(f"{start} "):
            wanted = text.removeprefix(start).strip()
            break
    if wanted is None:
        return
    rows = [
        (f"{heat} °C, {colour}", use)
        for heat, (colour, use) in COLOURS.items()
        if not wanted or wanted in colour or wanted in use
    ]
    if not rows:
        rows = [(f"{heat} °C, {colour}", use) for heat, (colour, use) in COLOURS.items()]
    shown = (*rows, ("harden first", HARDEN), ("caution", CAUTION))
    yield Found("tempering colours", shown, SOURCE, memory=False)
