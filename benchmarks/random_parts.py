"""Parts drawn by chance: what `check` passes is planned and proved, and no proof may fail.

    python benchmarks/random_parts.py [--seed N] [--parts N] [--only N]

Parts that `check` finds anything wrong with are drawn anew. A part the plan refuses is printed with
the reason, one that fails its proof with what the proof found, both with their build.yaml: --seed
and --only give the same part again. Ctrl-C stops and tells of those that are done. Exit code 1 if
any failed.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from pathlib import Path
from random import Random

from barstock.workshop.shop import BarStock, Workshop

FACES = {
    "top": ("length", "width", "height"),
    "bottom": ("length", "width", "height"),
    "front": ("length", "height", "width"),
    "back": ("length", "height", "width"),
    "left": ("width", "height", "length"),
    "right": ("width", "height", "length"),
}
"""The two axes of each face, and that of its depth."""
LONG = ("top", "bottom", "front", "back")
LOW = {"length": "left", "width": "front", "height": "bottom"}
HIGH = {"length": "right", "width": "back", "height": "top"}
EDGES = "left, top", "right, bottom", "front, top", "back, top", "left, front", "front, bottom"
MOST_DRAWN = 40  # parts drawn for one that `check` passes


@dataclass(frozen=True)
class Drawing:
    """A part as written, and the section of the bar it is made from [mm]."""

    text: str
    width: float
    height: float


@dataclass(frozen=True)
class Verdict:
    """What became of a part: "faulty" (check says so), "refused" (by the plan), "failed" (its
    proof, or the program) or "proved"; and in whose words."""

    fate: str
    words: str = ""


class Draughtsman:
    """Draws one part by chance: the same one again for the same seed and number."""

    def __init__(self, seed: int, number: int) -> None:
        self.chance = Random(f"{seed} {number}")
        self.name = f"part {seed}-{number}"
        self.size: dict[str, float] = {}

    def draw(self) -> Drawing:
        """A block, perhaps from a larger bar, with one to five features."""
        flat = self.chance.random() < 0.1
        spans = ((30, 80), (18, 30), (3, 10)) if flat else ((12, 90), (8, 30), (4, 24))
        self.size = {axis: self.about(*span) for axis, span in zip(LOW, spans, strict=True)}
        more = self.chance.choice([0, 0, 1, 2]), self.chance.choice([0, 0, 1.5])
        kinds = [
            *(self.hole, self.hole, self.hole, self.slot, self.slot, self.pocket, self.pocket),
            *(self.edge, self.edge, self.step, self.holes, self.leaning, self.leaning, self.ridge),
        ]
        count = self.chance.randint(0 if flat else 1, 2 if flat else 5)
        features = [self.chance.choice(kinds)() for _ in range(count)]
        features += self.outlined() if flat else []
        lines = [
            "build: Drawn by chance",
            "least wall: 0.3",
            "parts:",
            f"  {self.name}:",
            f"    copies: {self.chance.choice([1, 2, 4])}",
            f"    material: {self.chance.choice(['brass', 'mild steel'])}",
            *(f"    {axis}: {size:g}" for axis, size in self.size.items()),
            "    features:",
            *(f"      f{n}: {{{feature}}}" for n, feature in enumerate(features, 1)),
        ]
        width, height = self.size["width"] + more[0], self.size["height"] + more[1]
        return Drawing("\n".join(lines) + "\n", width, height)

    def about(self, low: float, high: float) -> float:
        """A length between two, in halves of a millimetre [mm]."""
        return round(self.chance.uniform(low, max(low, high)) * 2) / 2

    def one(self, *words: str) -> str:
        """One of some words."""
        return self.chance.choice(words)

    def maybe(self, share: float) -> bool:
        """Does something come about that does so as often as this?"""
        return self.chance.random() < share

    def hole(self) -> str:
        """One hole, of any sort."""
        face = self.one(*FACES)
        u, v, w = FACES[face]
        size = self.chance.choice([2, 2.5, 3, 3.2, 4, 5, 6])
        along = self.about(size + 1, self.size[u] - size - 1)
        up = self.about(size / 2 + 1.5, self.size[v] - size / 2 - 1.5)
        place = f"{LOW[u]}: {along:g}, {self.one(LOW[v], HIGH[v])}: {up:g}"
        if self.maybe(0.3):
            place = f"{u}: centre, {v}: centre"
        depth = "through" if self.maybe(0.5) else f"{self.deep(w):g}"
        bore = f"diameter: {size:g}"
        if self.maybe(0.3):
            bore = f"thread: {self.one('M2.5', 'M3', '6 BA')}"
        elif self.maybe(0.1):
            bore = "diameter: 4 H7, finish: reamed"
        elif depth != "through" and self.maybe(0.3):
            bore += ", bottom: flat"
        elif self.maybe(0.3):
            bore += f", countersink: {{diameter: {size + 2:g}, angle: 90}}"
        elif self.maybe(0.2):
            bore += f", counterbore: {{diameter: {size + 3:g}, depth: 2}}"
        return f"kind: hole, face: {face}, at: {{{place}}}, depth: {depth}, {bore}"

    def deep(self, axis: str) -> float:
        """How deep a blind hole goes [mm]."""
        return self.about(3, min(self.size[axis] * 0.6, 12))

    def holes(self) -> str:
        """A row, a grid or a circle of holes about the middle of a face."""
        face = self.one("top", "front", "bottom")
        u, v, w = FACES[face]
        size = self.chance.choice([2, 2.5, 3, 3.2, 4])
        p, q = (self.about(size + 3, self.size[axis] / 2) for axis in (u, v))
        row = f"row: {{count: {self.chance.choice([2, 3])}, pitch: {p:g}, along: {u}}}"
        grid = f"grid: {{{u}: {{count: 2, pitch: {p:g}}}, {v}: {{count: 2, pitch: {q:g}}}}}"
        ring = self.about(2 * size, min(self.size[u], self.size[v]) - size - 2)
        circle = f"circle: {{count: {self.chance.choice([3, 4, 6])}, diameter: {ring:g}}}"
        depth = "through" if self.maybe(0.6) else f"{self.deep(w):g}"
        bore = self.one(f"diameter: {size:g}", "thread: M3", "diameter: 4 H7, finish: reamed")
        at = f"{self.one(row, grid, circle)}, centre: {{{u}: centre, {v}: centre}}"
        return f"kind: hole, face: {face}, at: {{{at}}}, depth: {depth}, {bore}"

    def slot(self) -> str:
        """A straight slot: right through, closed, open at one end, or one of two."""
        face = self.one(*LONG)
        u, v, w = FACES[face]
        along, across = (u, v) if self.maybe(0.5) else (v, u)
        wide = self.chance.choice([2, 3, 4, 5, 6, 6.4])
        feature = (
            f"kind: slot, face: {face}, along: {along}, position: {{{across}: centre}}, "
            f"width: {wide:g}, depth: {self.about(1, self.size[w] * 0.5):g}"
        )
        long = f", length: {self.about(wide + 2, self.size[along] * 0.7):g}"
        sort = self.chance.random()
        if sort < 0.2:
            return feature + long + f", middle: {{{along}: centre}}"
        if sort < 0.4:
            return feature + long + f", open at: {self.one(LOW[along], HIGH[along])}"
        return feature + (", mirrored: true" if sort < 0.5 else "")

    def leaning(self) -> str:
        """A slot whose floor leans, one or two."""
        face = self.one(*LONG)
        u, v, w = FACES[face]
        wide = self.chance.choice([2, 3, 4, 5, 6, 6.4])
        return (
            f"kind: slot, face: {face}, along: {u}, position: {{{v}: centre}}, width: {wide:g}, "
            f"depth: {self.about(2.5, self.size[w] * 0.35):g}, lean: {self.about(0.5, 2):g}, "
            f"wide end: {self.one(LOW[u], HIGH[u])}"
            + (", mirrored: true" if self.maybe(0.4) else "")
        )

    def step(self) -> str:
        """A step along an edge of a face."""
        face = self.one(*LONG)
        u, v, w = FACES[face]
        axis = self.one(u, v)
        return (
            f"kind: step, face: {face}, edge: {self.one(LOW[axis], HIGH[axis])}, "
            f"width: {self.about(1, self.size[axis] * 0.4):g}, "
            f"depth: {self.about(1, self.size[w] * 0.5):g}"
        )

    def pocket(self) -> str:
        """A pocket in the middle of a face, round or square."""
        face = self.one(*LONG, "right")
        u, v, w = FACES[face]
        wide = min(self.size[u], self.size[v]) * 0.6
        sides = (
            f"{u}: {self.about(5, self.size[u] * 0.6):g}, {v}: {self.about(5, self.size[v] / 2):g}"
        )
        shape = self.one(
            f"diameter: {self.about(4, wide):g}",
            f"{sides}, corner radius: {self.one('1.5', '2', '2.5')}",
        )
        depth = self.about(1, self.size[w] * 0.4)
        at = f"{u}: centre, {v}: centre"
        return f"kind: pocket, face: {face}, at: {{{at}}}, {shape}, depth: {depth:g}"

    def edge(self) -> str:
        """An edge bevelled or rounded."""
        shape = self.one(f"bevel: {self.about(0.5, 2):g}", f"radius: {self.about(0.5, 3):g}")
        return f"kind: edge, between: [{self.one(*EDGES)}], {shape}"

    def ridge(self) -> str:
        """Two flats falling away from a peak."""
        face = self.one(*LONG)
        u, v, _ = FACES[face]
        return (
            f"kind: ridge, face: {face}, peak along: {v}, position: {{{u}: centre}}, "
            f"angle: {self.about(1, 4):g}, depth at peak: {self.one('0.5', '1')}"
        )

    def outlined(self) -> list[str]:
        """A milled outline, and two holes to screw the work down through."""
        long, wide = self.size["length"], self.size["width"]
        neck, cut, r = self.about(4, 8), self.about(2, wide / 2 - 2), self.about(2, wide / 2 - 1)
        at = f"{neck + 6:g}, back: {wide / 2 - 0.5:g}"
        cap = f"{{to: {{left: {long:g}, front: {r:g}}}, arc: {r:g}, turn: left}}"
        hollow = f"{{to: {{left: {neck:g}, front: {cut - 2:g}}}, arc: 2, turn: right}}"
        bent: list[tuple[float, float] | str] = [
            (long - r, 0),
            cap,
            (long, wide),
            (cut, wide),
            (0, wide - cut),
            (0, 0),
        ]
        tee: list[tuple[float, float] | str] = [
            *((long - neck, 0), (long - neck, cut), (long, cut), (long, wide), (0, wide)),
            *((0, cut), (neck - 2, cut), hollow, (neck, 0)),
        ]
        start, path = (0.0, bent) if self.maybe(0.5) else (neck, tee)
        told = [
            p if isinstance(p, str) else f"{{to: {{left: {p[0]:g}, front: {p[1]:g}}}}}"
            for p in path
        ]
        hole = "kind: hole, face: top, depth: through, at: {"
        return [
            f"{hole}left: {at}}}, diameter: {self.one('4.5', '5', '6')}",
            f"{hole}right: {at}}}, {self.one('thread: M5', 'diameter: 4.5')}",
            f"kind: outline, face: top, finish: milled, start: {{left: {start:g}, front: 0}}, "
            f"path: [{', '.join(told)}]",
        ]


@cache
def shop() -> Workshop:
    """The sample wagon's shop."""
    from barstock.workshop.shop_reading import find_workshop, read_workshop

    found, _ = read_workshop(find_workshop(Path(str(files("barstock") / "samples" / "wagon"))))
    assert found is not None
    return found


def judge(drawing: Drawing) -> Verdict:
    """Check a part, plan it and prove the plan."""
    from barstock.drawing.build_reading import read_build
    from barstock.errors import UnplannableError
    from barstock.methods import KINDS
    from barstock.methods.part_checks import check_part
    from barstock.planning.order.part_order import NoOrderError
    from barstock.planning.order.user_pins import PinError
    from barstock.planning.plan import plan_build
    from barstock.proving.prove import prove

    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "build.yaml").write_text(drawing.text, encoding="utf-8")
        reading = read_build(Path(folder), KINDS)
    build, faults = reading.build, [f for f in reading.faults if f.grade == "error"]
    if build is not None:
        faults += [fault for part in build.parts for fault in check_part(part, build.least_wall)]
    if build is None or faults:
        return Verdict("faulty", "\n".join(f.what for f in faults))
    part = build.parts[0]
    bar = BarStock("the bar", part.material, "rectangle", drawing.width, drawing.height, 600.0)
    try:
        route = plan_build(build, replace(shop(), rack=(bar,)), steps=300_000)
        proof = prove(route, build)
    except (UnplannableError, NoOrderError, PinError) as reason:
        return Verdict("refused", str(reason))
    except Exception:
        return Verdict("failed", traceback.format_exc())
    errors = [str(v) for v in proof.violations if v.severity == "error"]
    return Verdict("failed", "\n".join(errors)) if errors else Verdict("proved")


def sound(seed: int, number: int) -> tuple[Drawing, Verdict]:
    """The first part of this seed and number that `check` passes, and its fate."""
    draughtsman = Draughtsman(seed, number)
    for _ in range(MOST_DRAWN):
        drawing = draughtsman.draw()
        verdict = judge(drawing)
        if verdict.fate != "faulty":
            break
    return drawing, verdict


def survey(seed: int, numbers: range, tell: Callable[[str], None]) -> Counter[str]:
    """How many parts met each fate; those not proved are printed."""
    fates: Counter[str] = Counter()
    try:
        for number in numbers:
            tell(f"part {number} of {numbers[-1]}: {told(fates)}")
            drawing, verdict = sound(seed, number)
            fates[verdict.fate] += 1
            if verdict.fate != "proved":
                bar = f"# from a bar {drawing.width:g} x {drawing.height:g}"
                print(f"\n--- {verdict.fate}, --seed {seed} --only {number}", flush=True)
                print(f"{verdict.words}\n{bar}\n{drawing.text}", flush=True)
    except KeyboardInterrupt:
        print("\nstopped", file=sys.stderr)
    return fates


def told(fates: Counter[str]) -> str:
    """The counts in words."""
    return ", ".join(f"{count} {fate}" for fate, count in sorted(fates.items()))


def main(words: list[str] | None = None) -> int:
    """Draw, judge, count."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--seed", type=int, default=1, help="another seed draws other parts")
    parser.add_argument("--parts", type=int, default=150, help="how many that check passes")
    parser.add_argument("--only", type=int, help="only the part of this number")
    chosen = parser.parse_args(words)
    numbers = range(1, chosen.parts + 1)
    if chosen.only is not None:
        numbers = range(chosen.only, chosen.only + 1)

    def tell(line: str) -> None:
        if sys.stderr.isatty():
            print(f"\r{line:79}", end="", file=sys.stderr, flush=True)

    began = time.monotonic()
    fates = survey(chosen.seed, numbers, tell)
    count = fates.total()
    print(
        f"\n{count} parts that check passes: {told(fates)}; {fates['failed'] / max(1, count):.1%} "
        f"fail ({time.monotonic() - began:.0f} s)"
    )
    return 1 if fates["failed"] else 0


if __name__ == "__main__":
    sys.exit(main())
