"""How planning grows: builds of 10, 50, 200 kinds of parts, 4 copies of each, made up by chance.

Run: python benchmarks/growth.py [KINDS ...] [--json] [--svg FILE] [--steps N]. For each size it
prints the seconds that planning takes (no proof, nothing remembered), the hours planned, the least
that any order can take, and the gap between the two; and draws time and gap against size
(growth.svg). The parts are written as build.yaml text and read as a person's would be; the same
seed gives the same parts. Last it times the check and the plan of one plate with an outline and
240 plain holes.
"""

from __future__ import annotations

import argparse
import json
import random
import shutil
import tempfile
import time
from itertools import product
from pathlib import Path

SAMPLES = Path(__file__).parents[1] / "src" / "barstock" / "samples"
KINDS = (10, 50, 200)
SEED = 3
BARS = (  # material, width, height: on the wagon's rack or one like it
    ("phosphor bronze", 28, 22),
    ("mild steel", 20, 12),
    ("mild steel", 25, 12),
    ("mild steel", 10, 10),
    ("brass", 12, 12),
    ("brass", 20, 5),
    ("brass", 25, 6),
)


def part(chance: random.Random, name: str) -> str:
    """The text of a part with two to four features that do not meet."""
    material, width, height = chance.choice(BARS)
    length = chance.randrange(30, 60, 2)
    lines = [
        f"  {name}:",
        "    copies: 4",
        f"    material: {material}",
        f"    length: {length}",
        f"    width: {width}",
        f"    height: {height}",
        "    as bought: [front, back, top, bottom]",
        "    features:",
    ]
    lines += chance.choice((through, reamed))(chance, width)
    if height >= 10 and chance.random() < 0.6:
        lines += rebate(chance, width, height)
    if height >= 10 and chance.random() < 0.6:
        lines += end_screw(chance, height)
    if width >= 20 and height >= 10 and chance.random() < 0.4:
        lines += cross(chance)
    return "\n".join(lines) + "\n"


def through(chance: random.Random, width: float) -> list[str]:
    """Clearance holes through the top, in a row."""
    return [
        "      fixing holes:",
        "        kind: hole",
        "        face: top",
        "        at:",
        f"          row: {{count: 2, pitch: {chance.randrange(12, 20)}, along: length}}",
        "          centre: {length: centre, width: centre}",
        f"        diameter: {chance.choice((2.2, 2.8, 3.2))}",
        "        depth: through",
    ]


def reamed(chance: random.Random, width: float) -> list[str]:
    """A pin's hole, reamed."""
    return [
        "      pin hole:",
        "        kind: hole",
        "        face: top",
        f"        at: {{left: {chance.randrange(12, 18)}, width: centre}}",
        "        diameter: 4 H7",
        "        depth: through",
        "        finish: reamed",
    ]


def rebate(chance: random.Random, width: float, height: float) -> list[str]:
    """A step along an edge, which can be cut in the bar."""
    return [
        "      rebate:",
        "        kind: step",
        "        face: top",
        f"        edge: {chance.choice(('front', 'back'))}",
        f"        width: {round(width * 0.2, 1)}",
        f"        depth: {round(height * chance.choice((0.2, 0.3)), 1)}",
    ]


def end_screw(chance: random.Random, height: float) -> list[str]:
    """A tapped hole in an end, clear of what comes through the top."""
    return [
        "      end screw:",
        "        kind: hole",
        f"        face: {chance.choice(('left', 'right'))}",
        "        at: {width: centre, height: centre}",
        f"        thread: {chance.choice(('M2', 'M2.5'))}",
        "        depth: 4",
        "        drill depth: 5.5",
    ]


def cross(chance: random.Random) -> list[str]:
    """A blind hole in the front, near the right end."""
    return [
        "      cross hole:",
        "        kind: hole",
        "        face: front",
        "        at: {right: 6, height: centre}",
        f"        diameter: {chance.choice((2.5, 3))}",
        "        depth: 5",
    ]


def write_build(folder: Path, kinds: int) -> None:
    """A made-up build of so many kinds of parts, and the wagon's workshop with the bars for it."""
    chance = random.Random(SEED)
    parts = "".join(part(chance, f"part {n}") for n in range(1, kinds + 1))
    (folder / "build.yaml").write_text(f"build: {kinds} kinds of parts\n\nparts:\n{parts}")
    shutil.copy(SAMPLES / "wagon" / "workshop.yaml", folder)
    shop = folder / "workshop.yaml"
    head, _, rest = shop.read_text().partition("rack:\n")
    rack = ""
    for material in dict.fromkeys(bar[0] for bar in BARS):
        sections = [f"    - {w} x {h} x 500\n" for m, w, h in BARS if m == material]
        rack += f"  {material}:\n" + "".join(sections)
    tail = rest[rest.index("\n# ") :] if "\n# " in rest else ""
    shop.write_text(f"{head}rack:\n{rack}{tail}")


def write_plate(folder: Path, along: int = 20, across: int = 12) -> None:
    """A plate with an outline to be milled and a great many plain holes, each a feature."""
    length, width = 4 + 6 * along, 5 + 5 * across
    lines = [
        "build: Plate of holes",
        "parts:",
        "  plate:",
        "    material: brass",
        f"    length: {length}",
        f"    width: {width}",
        "    height: 6",
        "    as bought: [front, back, top, bottom]",
        "    features:",
    ]
    for i, j in product(range(along), range(across)):
        lines += [
            f"      hole {i}-{j}:",
            "        kind: hole",
            "        face: top",
            f"        at: {{left: {5 + 6 * i}, front: {5 + 5 * j}}}",
            "        diameter: 3",
            "        depth: through",
        ]
    corners = [(2, 1), (length - 1, 1), (length - 1, width - 1), (2, width - 1), (2, 1)]
    lines += ["      outer:", "        kind: outline", "        face: top"]
    lines += ["        start: {left: 2, front: 1}", "        path:"]
    lines += [f"          - {{to: {{left: {x}, front: {y}}}}}" for x, y in corners[1:]]
    (folder / "build.yaml").write_text("\n".join(lines) + "\n")
    shop = (SAMPLES / "wagon" / "workshop.yaml").read_text()
    bar = f"    - {width} x 6 x 300\n"
    (folder / "workshop.yaml").write_text(shop.replace("  brass:\n", f"  brass:\n{bar}", 1))


def measure_plate() -> dict[str, float]:
    """The seconds that a plate of 240 holes takes to check and to plan."""
    from barstock.api import check, read
    from barstock.planning.plan import plan_build

    with tempfile.TemporaryDirectory() as scratch:
        write_plate(Path(scratch))
        times = [time.perf_counter()]
        check(scratch)
        times.append(time.perf_counter())
        build, shop = read(scratch)
    times.append(time.perf_counter())
    plan_build(build, shop)
    times.append(time.perf_counter())
    a, b, c, d = times
    return {"check": round(b - a, 1), "plan": round(d - c, 1)}


def measure(kinds: int, steps: int) -> dict[str, float]:
    """Plan a build of that size."""
    from barstock.api import read
    from barstock.planning.plan import plan_build

    with tempfile.TemporaryDirectory() as scratch:
        write_build(Path(scratch), kinds)
        build, shop = read(scratch)
    begun = time.perf_counter()
    summary = plan_build(build, shop, steps=steps).summary
    taken = time.perf_counter() - begun
    gap = (summary.hours - summary.bound_hours) / summary.hours
    return {
        "kinds": kinds,
        "seconds": round(taken, 1),
        "hours": summary.hours,
        "bound_hours": summary.bound_hours,
        "gap": round(gap, 4),
    }


def plot(rows: list[dict[str, float]]) -> str:
    """Seconds and gap against kinds of parts, side by side, as SVG."""
    most = max(row["kinds"] for row in rows)
    panels = []
    for n, (name, unit, share) in enumerate((("seconds", "s", 1.0), ("gap", "%", 100.0))):
        left, wide, base, high = 16 + 95 * n, 70.0, 62.0, 48.0
        top = max(row[name] * share for row in rows) * 1.15 or 1.0
        at = [(left + wide * r["kinds"] / most, base - high * r[name] * share / top) for r in rows]
        path = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in at)
        panels.append(
            f'<path d="M{left} {base - high}V{base}H{left + wide}" stroke="#000" fill="none" '
            f'stroke-width="0.3"/><path d="{path}" stroke="#000" fill="none" stroke-width="0.5"/>'
            f'<text x="{left}" y="{base - high - 4}" font-weight="bold">'
            f"{'time to plan' if name == 'seconds' else 'gap to the least possible'}</text>"
            f'<text x="{left + wide}" y="{base + 9}" text-anchor="end">kinds of parts</text>'
        )
        for (x, y), row in zip(at, rows, strict=True):
            panels.append(
                f'<circle cx="{x:.1f}" cy="{y:.1f}" r="1"/>'
                f'<text x="{x + 1.5:.1f}" y="{y - 2:.1f}">'
                f"{row[name] * share:.1f} {unit}</text>"
                f'<text x="{x:.1f}" y="{base + 4.5}" text-anchor="middle">{row["kinds"]:g}</text>'
            )
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="190mm" height="75mm" '
        f'viewBox="0 0 190 75" font-family="serif" font-size="3.2">{"".join(panels)}</svg>\n'
    )


def main() -> None:
    """Measure, print and draw."""
    words = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    words.add_argument("kinds", nargs="*", type=int, default=list(KINDS))
    words.add_argument("--json", action="store_true")
    words.add_argument("--svg", type=Path, default=Path("growth.svg"))
    words.add_argument("--steps", type=int, default=600_000, help="of search, for each part")
    asked = words.parse_args()
    rows = []
    for kinds in asked.kinds:
        rows.append(measure(kinds, asked.steps))
        if not asked.json:
            row = rows[-1]
            print(
                f"{kinds:4} kinds: {row['seconds']:7.1f} s, {row['hours']:8.2f} h, at least "
                f"{row['bound_hours']:8.2f} h, gap {row['gap']:.2%}",
                flush=True,
            )
    asked.svg.write_text(plot(rows))
    plate = measure_plate()
    if asked.json:
        print(json.dumps({"kinds": rows, "plate of 240 holes": plate}, indent=1))
    else:
        print("plate of 240 holes: " + ", ".join(f"{k} {v:.1f} s" for k, v in plate.items()))


if __name__ == "__main__":
    main()
