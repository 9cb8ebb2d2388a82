"""Whole tables at a glance, by the name of what they hold: BA, UNF, number drills, materials.

The figures are those of the tables themselves; one entry looked up by its own name tells more.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from barstock.handbook import brazing, drills, materials, spring_grades
from barstock.handbook.answer import Found
from barstock.handbook.threads import threads
from barstock.quantities import Unit, show

SERIES = {
    "ba": ("BA",),
    "unc": ("UNC",),
    "unf": ("UNF",),
    "unef": ("UNEF",),
    "unified": ("UNC", "UNF", "UNEF"),
    "bsw": ("BSW",),
    "whitworth": ("BSW", "BSF"),
    "bsf": ("BSF",),
    "metric": ("metric coarse", "metric fine"),
    "metric coarse": ("metric coarse",),
    "metric fine": ("metric fine",),
    "60 tpi": ("model 60 tpi",),
    "26 tpi": ("model 26 tpi",),
    "32 tpi": ("model 32 tpi",),
    "40 tpi": ("model 40 tpi",),
    "bsp": ("pipe",),
    "pipe": ("pipe",),
    "model": ("model 26 tpi", "model 32 tpi", "model 40 tpi", "model 60 tpi"),
}
"""What a series of threads is asked for by."""


def find(word: str, unit: Unit) -> Iterator[Found]:
    """What `look` shows of a whole series or table."""
    name = word.lower().removesuffix(" threads").removesuffix(" thread")
    for series in SERIES.get(name, ()):
        yield _series(series, unit)
    if name in ("number drills", "drills"):
        yield _sizes("number drills", drills.NUMBERS.items(), drills.SOURCE, unit)
    if name in ("letter drills", "drills"):
        yield _sizes("letter drills", drills.LETTERS.items(), drills.SOURCE, unit)
    if name in ("materials", "material"):
        rows = tuple((row.name, row.alloy) for row in materials.MATERIALS.values())
        yield Found("materials", rows, materials.SOURCE, memory=True)
    if name in ("spring wire", "wire"):
        grades = spring_grades.GRADES.values()
        wires = tuple(
            (g.name, f"{show(g.least, unit)} to {show(g.most, unit)}; {g.source}") for g in grades
        )
        yield Found("spring wire", wires, "as beside each", memory=True)
    if name in ("brazing alloys", "brazing", "silver solder"):
        alloys = tuple(
            (a.name, f"{a.solidus:g} to {a.liquidus:g} °C; {a.use}")
            for a in brazing.ALLOYS.values()
        )
        yield Found("brazing alloys", alloys, brazing.SOURCE, brazing.MEMORY)
    if name in ("fluxes", "flux", "brazing"):
        fluxes = tuple(
            (f.name, f"{f.low:g} to {f.high:g} °C; {f.use}") for f in brazing.FLUXES.values()
        )
        yield Found("brazing fluxes", fluxes, brazing.FLUX_SOURCE, brazing.MEMORY)


def _series(series: str, unit: Unit) -> Found:
    forms = [form for form in threads() if form.series == series]
    rows = tuple(
        (
            form.name,
            f"{show(form.major, unit)}, pitch {show(form.pitch, unit)} ({form.tpi:.4g} tpi), "
            f"tapping drill {show(form.tap_drill, unit)}, "
            f"clearance {show(form.clearance_medium, unit)}",
        )
        for form in forms
    )
    return Found(f"threads, {series}", rows, forms[0].source, forms[0].memory)


def _sizes(title: str, sizes: Iterable[tuple[str, float]], source: str, unit: Unit) -> Found:
    rows = tuple((name, show(mm, unit)) for name, mm in sizes)
    return Found(title, rows, source, memory=True)
