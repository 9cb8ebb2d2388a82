"""Write docs/sources.md: the handbook's tables, their sources, and every value they are checked by.

python scripts/sources.py            writes it
python scripts/sources.py --check    fails where it is not up to date
"""

from __future__ import annotations

import csv
import sys
from collections import Counter, defaultdict
from pathlib import Path

from barstock.handbook import (
    bar_sections,
    brazing,
    drills,
    gauge_blocks,
    general_limits,
    heat,
    iso_fits,
    materials,
    pickles,
    screw_lengths,
    speeds,
    spring_grades,
    spring_wire,
    thread_limits,
    thread_strength,
)
from barstock.handbook.look import tables
from barstock.handbook.threads import threads

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "docs" / "sources.md"
VALUES = ROOT / "tests" / "handbook" / "outside.csv"

# table: source; one that has a NAME is found by itself
TABLES = {
    "drills": drills.SOURCE,
    "limits and fits": iso_fits.SOURCE,
    "general limits": general_limits.SOURCE,
    "materials": materials.SOURCE,
    "speeds and feeds": speeds.SOURCE,
    "limits of threads": thread_limits.SOURCE,
    "strength of threads": thread_strength.SOURCE,
    "gauge sets": gauge_blocks.SOURCE,
    "spring wire": spring_wire.SOURCE,
    **{f"spring wire {name}": grade.source for name, grade in spring_grades.GRADES.items()},
    "brazing alloys": brazing.SOURCE,
    "brazing fluxes": brazing.FLUX_SOURCE,
    "growth and heat to soldering temperature": heat.SOURCE,
    "pickles": pickles.SOURCE,
    "lengths of screws": screw_lengths.SOURCE,
    "bars": bar_sections.SOURCE,
    **{table.NAME: table.SOURCE for table in tables() if hasattr(table, "NAME")},
}

HEAD = """# Where the handbook's numbers come from

This page is written by `scripts/sources.py`; change `tests/handbook/outside.csv` or the tables, not
the page.

Every table in `src/barstock/handbook/` names its standard and clause beside its rows. Most rows
were typed from memory of those standards, and say so wherever they are shown; the checks below are
what makes them worth trusting. A fact without a published source is called *common practice*.

Not checked from outside, memory only: the fluxes and pickles, lengths of screws, the sizes of bar
sold, machinability, spring wire of the grade SL and of SH and DH above 0.45 mm, thread engagement
by material, what the gauge sets hold beyond the number of pieces and two worked stacks, rings
pushed on from the side (DIN 6799), the R8 taper, inch washers and the form of ISO 2768-2.

## Tables

| table | source |
| --- | --- |
"""

LIBRARIES = """
## Independent libraries

| compared | with |
| --- | --- |
| ISO 286 limits: all symbols it holds, 44 sizes from 3.5 to 400 mm, both limits | isofits 1.0 (1) |
| 106 number and letter drills | open table of bd_warehouse |
| 49 unified tapping drills, and the metric ones to a drill step | open table of bd_warehouse |
| clearance holes of 19 metric and 15 unified sizes | open table of bd_warehouse (2) |
| grades and fundamental deviations | formulas of ISO 286-1:1988 annex A |
| tolerances of metric threads | formulas of ISO 965-1 clause 13 |

(1) Three slips of the library are named, with the proof, in
`tests/handbook/test_against_libraries.py`. (2) It has whole millimetres for M12 to M16, where ISO
273 has halves; those come from a printed ISO 273.

Known differences of opinion: the chart of brazing alloys gives Ag 138 a melting range of 660 to
700 °C and Ag 156 a liquidus of 650 °C; ISO 17672 (from memory) has 650 to 720 and 655. Melting
ranges are approximate by the standard's own word.
"""

SUMS = """
## Sums of measuring and limits

Worked examples and tables printed elsewhere that the tests in `tests/measuring` and `tests/limits`
compare with; the figures stand beside each check.

| what | source |
| --- | --- |
| M112 stack of 92.357 with protectors | exercise of a metrology course |
| sine bar 27°, 23° 41', 30° at 5 in | gauging texts |
| sine bar 18° at 5 in | a shop's trigonometry table |
| sine bar 34° 25' at 5 in | handbook of machining calculations, chapter 4 |
| sine bar 12°, and angles of 1 and 1.040 in | a home machinist's paper on the sine bar |
| sine bar 20° at 2.5 in; errors of a wrong stack at 30° and 60° | workshop forum sums |
| dovetail over pins, 1 in, 60°, 1/4 in pins | Machinery's Handbook, Measuring Dovetail Slides |
| dovetail 20 mm, 4 high, 60° | workshop forum sum |
| plug in a 65° V | U.S. Army ordnance course, shop mathematics |
| taper bore, balls 40 and 32; balls 12 and 8 | examination questions in metrology |
| three wires on 1-1/2 in by 6 threads | Jones, *Turning and Boring* (1914) |
| three wires on 7/16-14 | a model engineering society's sheet |
| best wires and formulas for 60°, 55°, 47.5° | sheet of wire formulas after U.S. Handbook H28 |
| least and greatest wire for 60° | guides to the three-wire method |
| taper of 1 in 40; Morse taper No 2 | from memory |
| bore, spacer, ring and shoulder, ±0.23 and ±0.126 | worked example of a tolerancing article |
| ten plates of ±0.1, ±1.0 and ±0.316 | a page on statistical stack-up |
| clearances of H7/g6 at 10, H7/p6 at 25 and H7/h6 at 4 | ISO 286-1, ISO 286-2 |
| copies of two parts played through the printed moves | a simulation of its own in the tests |
| shares of the normal, even and triangular laws | their closed forms |
| a reamer leaves H7 | ISO 522, from memory |
| what drills, countersinks and indicators hold | common practice |
"""


def page() -> str:
    """The page's text."""
    with VALUES.open() as file:
        rows = list(csv.DictReader(file))
    count = Counter(row["how"] for row in rows)
    by_source: dict[tuple[str, str, str], list[str]] = defaultdict(list)
    for row in rows:
        key = (row["source"], row["what"], row["how"])
        by_source[key].append(f"{row['of']}: {row['value']}")
    lines = [HEAD.rstrip("\n")]
    by_series: dict[str, set[str]] = defaultdict(set)
    for form in threads():
        by_series[form.series].add(form.source)
    lines += [f"| threads, {s} | {'; or '.join(sorted(found))} |" for s, found in by_series.items()]
    lines += [f"| {table} | {source} |" for table, source in TABLES.items()]
    lines += [LIBRARIES.rstrip("\n"), SUMS, f"## Values printed elsewhere: {len(rows)}", ""]
    lines += [
        f"{count['looked up']} were looked up, {count['memory']} are from memory, which is "
        f"worth less, {count['arithmetic']} worked by hand.",
        "",
    ]
    lines += ["| source | what | values | how |", "| --- | --- | --- | --- |"]
    lines += [
        f"| {source} | {what} | {', '.join(values)} | {'from memory' if how == 'memory' else how} |"
        for (source, what, how), values in by_source.items()
    ]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    if "--check" in sys.argv:
        sys.exit(0 if PAGE.read_text() == page() else "docs/sources.md is stale: run this script")
    PAGE.write_text(page())
