"""Builds drawn by chance as strangers type them: every one must be planned and proven.

    python benchmarks/random_builds.py [--seed N] [--count N] [--first N] [--only N] [--seconds N]

Each has one part, or a few pieces joined into a whole, with every kind of feature and every way of
writing it that the docs allow: blocks, flats from larger bars and rounds; millimetres and inches;
readouts and handwheels; one to five copies. A feature that `check` finds fault with is drawn anew.
Each build is planned by the command in a process of its own that is stopped after so many seconds.
What is not planned and proven is printed with its build.yaml; --seed and --only give it again, with
its workshop.yaml. Ctrl-C stops and tells of those that are done. Exit code 1 if any was refused,
failed its proof, broke or gave no answer.
"""

from __future__ import annotations

import argparse
import json
import math
import re
import sys
import tempfile
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Any

from drawings import SHEETS, Verdict, asked
from random_parts import FACES, HIGH, LOW
from random_parts import LONG as SIDES

INCH = 25.4
SAMPLES = Path(__file__).parents[1] / "src" / "barstock" / "samples"
SHOPS = {
    "mm": (SAMPLES / "wagon", SHEETS / "metric_shop"),
    "inch": (SHEETS / "inch_shop",),
}
WHEELS = {
    "mm": (
        "{per turn: 2, divisions: 100, backlash: 0.1}",
        "{per turn: 4, divisions: 80}",
        "{x: {per turn: 5, divisions: 100}, y: {per turn: 5, divisions: 100}, "
        "z: {per turn: 2.5, divisions: 125}}",
    ),
    "inch": (
        "{per turn: .100, divisions: 100, backlash: .005}",
        "{x: {per turn: .100, divisions: 100}, y: {per turn: .100, divisions: 100}, "
        "z: {per turn: .125, divisions: 125}}",
    ),
}
TOLERANCES = {
    "mm": ("ISO 2768-m", "ISO 2768-f", "±0.1", "{.x: ±0.2, .xx: ±0.05, whole: ±0.3, angles: ±1}"),
    "inch": (
        "ISO 2768-m",
        "±.005",
        "FRACTIONS ±1/64, .XX ±.010, .XXX ±.005, ANGLES ±1/2°",
        "{fractions: ±1/64, .xx: ±.01, .xxx: ±.005, whole: ±1/64}",
    ),
}
MATERIALS = ("brass", "mild steel", "aluminium", "phosphor bronze", "cast iron")
THREADS = {"mm": ("M2.5", "M3", "M4"), "inch": ("6 BA", "4 BA", "2 BA")}
BORES = {
    "mm": (2, 2.5, 3, 3.2, 4, 5, 6, 8),
    "inch": tuple(n * INCH / 64 for n in (6, 8, 10, 12, 16, 20)),
}
WIDTHS = {"mm": (2, 3, 4, 5, 6, 6.4, 8), "inch": tuple(n * INCH / 32 for n in (3, 4, 5, 6, 8, 10))}
REAMED = {"mm": ("4 H7", "4 H8"), "inch": ("3/16 H7", "1/4 H8")}
STAND = """{cheek}
{bridge}
fabrications:
  whole:
    copies: {copies}
    length: {long}
    width: {wide}
    height: {high}
    pieces:
      left cheek: {{part: cheek, turned: {{left: top, top: left}},
        at: {{length: centre -{off}, width: centre, bottom: 0}}}}
      right cheek: {{part: cheek, turned: {{right: top, top: left}},
        at: {{length: centre +{off}, width: centre, bottom: 0}}}}
      bridge: {{part: bridge, at: {{length: centre, width: centre}},
        against: {{bottom: left cheek/top}}}}
    joints:
      left: {{between: [left cheek, bridge], form: butt, filler: Ag 155,
        gap: 0.05 mm to 0.10 mm{cut}}}
      right: {{between: [right cheek, bridge], form: butt, filler: Ag 155,
        gap: 0.05 mm to 0.10 mm{cut}}}
    fixing screws:
      left: {{through: bridge/fixing, into: left cheek/fixing, material: brass{swallowed}}}
      right: {{through: bridge/fixing, into: right cheek/fixing, material: brass{swallowed}}}
    features:
      left end: {{kind: flush, face: left, with: left cheek}}
      right end: {{kind: flush, face: right, with: right cheek}}
      {feet}
"""
POST = """{foot}
  post:
    material: {material}
    copies: {copies}
    length: {high}
    diameter: {across} {less}
fabrications:
  whole:
    copies: {copies}
    length: {long}
    width: {wide}
    height: {high}
    pieces:
      foot: {{part: foot, at: {{left: 0, front: 0, bottom: 0}}}}
      post: {{part: post, turned: {{top: right, front: front}},
        at: {{length: centre, width: centre, bottom: 0}}}}
    joints:
      socket: {{between: [foot, post], form: spigot, filler: Ag 155, gap: 0.08 mm to 0.13 mm}}
"""
UPRIGHT = """{base}
{upright}
fabrications:
  whole:
    length: {long}
    width: {wide}
    height: {high}
    pieces:
      base: {{part: base, at: {{left: 0, front: 0, bottom: 0}}}}
      upright: {{part: upright, turned: {{bottom: left, left: bottom}},
        at: {{length: centre, width: centre, bottom: {thick}}}}}
    joints:
      foot: {{between: [base, upright], form: tee, filler: Ag 155, gap: 0.05 mm to 0.10 mm}}
    fixing screws:
      foot: {{through: base/fixing, into: upright/fixing, material: brass, left in: true}}
    features:
      {made}
"""
MIDST = "at: {width: centre, height: centre}"
REACHED = 12.0  # depth of slots, steps and pockets at most [mm]
OFTEN_DRAWN = 12  # draws of one feature before it is left out
BUILDS_DRAWN = 40  # of one build before it is given up
GOOD, LEFT = "planned and proven", "some of it left to the person"
FAILED = ("failed its proof", "broke", "no answer", "refused")


@dataclass(frozen=True)
class Drawn:
    """A build as typed, and the workshop it is made in."""

    build: str
    shop: str


class Draughtsman:
    """Draws one build by chance: the same one again for the same seed and number."""

    def __init__(self, seed: int, number: int) -> None:
        """Begin with the unit, the shop and the part's shape."""
        self.chance = Random(f"build {seed} {number}")
        self.unit = self.one("mm", "mm", "inch")
        self.size: dict[str, float] = {}
        self.round = False
        self.sections: list[str] = []
        self.material = self.one(*MATERIALS)

    # -- chance ------------------------------------------------------------------------------------

    def one(self, *words: str) -> str:
        """One of some words."""
        return self.chance.choice(words)

    def maybe(self, share: float) -> bool:
        """Does something come about that does so as often as this?"""
        return self.chance.random() < share

    def about(self, low: float, high: float) -> float:
        """A length between two, by half millimetres or thirty-seconds of an inch [mm]."""
        grain = INCH / 32 if self.unit == "inch" else 0.5
        return max(1, round(self.chance.uniform(low, max(low, high)) / grain)) * grain

    # -- writing -----------------------------------------------------------------------------------

    def said(self, mm: float) -> str:
        """A length in one of the ways that it may be written."""
        sixty = mm / INCH * 64
        if abs(sixty - round(sixty)) < 1e-6 and round(sixty) > 0:
            whole, rest = divmod(round(sixty), 64)
            down = math.gcd(rest, 64) if rest else 64
            part = f"{rest // down}/{64 // down}"
            dash = self.one("-", "-", " ")
            fraction = f"{whole}" if not rest else f"{whole}{dash}{part}" if whole else part
            if self.unit == "inch" and self.maybe(0.7):
                return fraction
            if rest and self.maybe(0.2):
                return fraction
        if self.unit == "inch":
            inches = f"{mm / INCH:.3f}".removeprefix("0")
            return self.one(inches, inches, f"{inches} in", f"{mm:.2f} mm")
        plain = f"{round(mm, 3):g}"
        return self.one(
            plain,
            plain,
            plain,
            f"{plain} mm",
            f"{mm:.2f}",
            f"{mm:.1f}" if round(mm, 1) == mm else plain,
        )

    def sized(self, mm: float, share: float = 0.25) -> str:
        """A length with limits of its own, as often as this."""
        if not self.maybe(share):
            return self.said(mm)
        if self.unit == "mm":
            plain = f"{round(mm, 3):g}"
            return self.one(
                *(f"{plain} ±0.1", f"{plain} +/-0.05", f"{plain} +-0.2", f"{plain} +0.1/0"),
                *(f"{plain} +0.1 -0", f"{plain} +0/-0.1", f"{mm - 0.1:g} to {mm + 0.1:g}"),
                *(f"{mm + 0.05:g}/{mm - 0.05:g}", f"{plain} ±0.15 mm"),
            )
        plain = f"{mm / INCH:.3f}".removeprefix("0")
        return self.one(
            *(f"{plain} ±.005", f"{plain} +/-.003", f"{plain} +.004/0", f"{plain} +0/-.004"),
            *(f"{plain} ±.004 in", f"{plain} +5 thou"),
        )

    def angle(self, degrees: float) -> str:
        """An angle in one of its ways."""
        whole, part = divmod(round(degrees * 60), 60)
        minutes = f"{whole}°{part:02}'" if part else f"{whole}°"
        return self.one(
            f"{degrees:g}",
            f"{degrees:g}°",
            f"{degrees:g} deg",
            f'"{minutes}"',
            f"{degrees:g}° ±0.5°",
        )

    def place(self, axis: str, mm: float) -> str:
        """A place so far from the low end of an axis, written from either end or the middle."""
        span = self.size[axis]
        if abs(mm - span / 2) < 1e-6:
            return f"{axis}: centre" + (" ±0.1" if self.unit == "mm" and self.maybe(0.1) else "")
        if self.maybe(0.2):
            off = mm - span / 2
            return f"{axis}: centre {'+' if off > 0 else '-'}{self.plain(abs(off))}"
        if self.maybe(0.5):
            return f"{LOW[axis]}: {self.sized(mm, 0.1)}"
        return f"{HIGH[axis]}: {self.sized(span - mm, 0.1)}"

    def plain(self, mm: float) -> str:
        """A bare figure in the unit of the build."""
        return f"{round(mm / INCH, 6):.8g}" if self.unit == "inch" else f"{round(mm, 3):g}"

    def inside(self, axis: str, margin: float) -> float:
        """A place inside the part, in the middle as often as not [mm]."""
        if self.maybe(0.4) or self.size[axis] <= 2 * margin:
            return self.size[axis] / 2
        return self.about(margin, self.size[axis] - margin)

    def deep(self, axis: str, share: float, least: float = 1.0) -> float:
        """A depth that leaves some of the part, and that cutters reach [mm]."""
        most = min(self.size[axis] * share, REACHED)
        return min(self.about(least, max(least, most)), self.size[axis] - 1.0)

    def depth(self, axis: str, mm: float, face: str) -> str:
        """A depth, or where its floor is."""
        far = {"top": "bottom", "bottom": "top", "front": "back", "back": "front"}
        far |= {"left": "right", "right": "left"}
        if self.maybe(0.25):
            return f"floor from: {{{far[face]}: {self.sized(self.size[axis] - mm)}}}"
        return f"depth: {self.sized(mm)}"

    # -- features ----------------------------------------------------------------------------------

    def hole(self) -> str:
        """One hole or a pattern, of any sort."""
        face = self.one(*FACES, *SIDES)
        u, v, w = FACES[face]
        size = self.chance.choice(BORES[self.unit])
        at = self.places(u, v, size)
        deep = self.about(3, min(self.size[w] * 0.65, 16))
        through = self.maybe(0.5)
        words = [f"kind: hole, face: {face}, at: {at}"]
        words.append("depth: through" if through else f"depth: {self.sized(deep, 0.15)}")
        sort = self.chance.random()
        if sort < 0.2:
            words.append(f"thread: {self.one(*THREADS[self.unit])}")
        elif sort < 0.3:
            words.append(f"diameter: {self.one(*REAMED[self.unit])}, finish: reamed")
        elif sort < 0.4:
            words.append(f"clearance for: {self.one(*THREADS[self.unit])}")
        elif sort < 0.45:
            words.append(f"diameter: No {self.chance.randint(10, 50)}")
        else:
            words.append(f"diameter: {self.sized(size, 0.1)}")
            if not through and self.maybe(0.3):
                words.append("bottom: flat")
        if self.maybe(0.2):
            wide = size + self.chance.choice((1.0, 2.0))
            words.append(
                self.one(
                    f"countersink: {{diameter: {self.said(wide)}, angle: 90}}",
                    f"countersink: {{depth: {self.said(self.about(0.5, 1))}}}",
                )
            )
            if through and self.maybe(0.3):
                words.append(f"far countersink: {{depth: {self.said(self.about(0.5, 1))}}}")
        elif self.maybe(0.15):
            wide = self.chance.choice((6, 8, 10)) if self.unit == "mm" else INCH * 3 / 8
            words.append(
                f"counterbore: {{diameter: {self.said(wide)}, "
                f"depth: {self.said(self.about(1, 3))}}}"
            )
        return ", ".join(words)

    def places(self, u: str, v: str, size: float) -> str:
        """Where one hole or several are."""
        margin = size / 2 + 1.5
        x, y = self.inside(u, margin), self.inside(v, margin)
        centre = f"centre: {{{u}: centre, {v}: centre}}"
        sort = self.chance.random()
        if sort < 0.55:
            return f"{{{self.place(u, x)}, {self.place(v, y)}}}"
        p, q = (self.about(size + 2, max(size + 2, self.size[a] - 2 * margin)) for a in (u, v))
        count = self.chance.choice((2, 3))
        if sort < 0.65:
            off = self.about(margin, max(margin, self.size[u] / 2 - margin))
            return (
                f"[{{{self.place(u, off)}, {self.place(v, y)}}}, "
                f"{{{self.place(u, self.size[u] - off)}, {self.place(v, y)}}}]"
            )
        if sort < 0.75:
            row = self.one(f"pitch: {self.sized(p / count)}", f"span: {self.said(p)}")
            start = self.one(
                centre,
                f"from: {{{LOW[u]}: {self.said(self.about(margin, margin + 3))}, {v}: centre}}",
            )
            return f"{{row: {{count: {count}, {row}, along: {u}}}, {start}}}"
        if sort < 0.85:
            return (
                f"{{grid: {{{u}: {{count: 2, pitch: {self.said(p)}}}, "
                f"{v}: {{count: 2, pitch: {self.said(q)}}}}}, {centre}}}"
            )
        if sort < 0.95:
            ring = min(self.size[u], self.size[v]) - 2 * margin
            start = f", start: {self.chance.choice((0, 30, 45))}" if self.maybe(0.5) else ""
            number = self.chance.choice((3, 4, 5, 6))
            around = f"count: {number}, diameter: {self.said(self.about(2 * size, ring))}{start}"
            return f"{{circle: {{{around}}}, {centre}}}"
        corner = f"{{{LOW[u]}: {self.said(self.about(margin, self.size[u] / 2 - margin))}, "
        corner += f"{LOW[v]}: {self.said(self.about(margin, self.size[v] / 2 - margin))}}}"
        return f"{{mirrored: {{about: [centre of {u}, centre of {v}]}}, points: {corner}}}"

    def on_floor(self) -> str:
        """A hole that starts on the floor of a step, slot or pocket drawn before it; or a hole."""
        return f"{self.hole()}, starts below: {self.said(self.about(1, 4))}"

    def step(self) -> str:
        """A step along an edge, in each way of giving it."""
        face = self.one(*SIDES, *FACES)
        u, v, w = FACES[face]
        axis = self.one(u, v)
        edge = self.one(LOW[axis], HIGH[axis])
        far = HIGH[axis] if edge == LOW[axis] else LOW[axis]
        wide, span = self.deep(axis, 0.35), self.size[axis]
        both = self.maybe(0.2)
        if both:
            width = self.one(f"width: {self.sized(wide)}", f"leaves: {self.sized(span - 2 * wide)}")
        else:
            width = self.one(
                *(f"width: {self.sized(wide)}", f"width: {self.sized(wide)}"),
                f"leaves: {self.sized(span - wide)}",
                f"wall from: {{{far}: {self.sized(span - wide)}}}",
            )
        return (
            f"kind: step, face: {face}, edge: {edge}, {width}, "
            f"{self.depth(w, self.deep(w, 0.5), face)}{', mirrored: true' if both else ''}"
        )

    def slot(self) -> str:
        """A straight slot: right through, open at one end, closed, or one of two."""
        face = self.one(*SIDES, *SIDES, *FACES)
        u, v, w = FACES[face]
        along, across = self.chance.sample((u, v), 2)
        wide = self.chance.choice(WIDTHS[self.unit])
        middle = self.inside(across, wide / 2 + 1.5)
        at = f"position: {{{self.place(across, middle)}}}"
        if self.maybe(0.2):
            at = f"wall from: {{{LOW[across]}: {self.sized(self.about(1.5, 4))}}}"
        words = [f"kind: slot, face: {face}, along: {along}, {at}, width: {self.sized(wide)}"]
        sort, span = self.chance.random(), self.size[along]
        long = self.about(wide + 2, max(wide + 2, span * 0.6))
        if sort < 0.2:
            words.append(
                f"length: {self.sized(long)}, open at: {self.one(LOW[along], HIGH[along])}"
            )
        elif sort < 0.45:
            words.append(
                self.one(
                    f"length: {self.sized(long)}", f"between centres: {self.said(long - wide)}"
                )
            )
            end = self.said(self.about(2, max(2, span - long - 2)))
            words.append(
                self.one(f"middle: {{{along}: centre}}", f"end from: {{{LOW[along]}: {end}}}")
            )
            if self.maybe(0.2):
                words.append("ends: square")
            if self.maybe(0.2):
                return ", ".join([*words, "depth: through"])
        elif sort < 0.55 and w != "length":
            deep = self.deep(w, 0.3)
            how = self.one(
                f"depth: {self.sized(deep)}",
                f"across floors: {self.sized(self.size[w] - 2 * deep)}",
            )
            return ", ".join([*words, how, "mirrored: true"])
        return ", ".join([*words, self.depth(w, self.deep(w, 0.5), face)])

    def leaning(self) -> str:
        """A slot whose floor leans."""
        face = self.one(*SIDES)
        u, v, w = FACES[face]
        wide = self.chance.choice(WIDTHS[self.unit])
        end = self.one(LOW[u], HIGH[u])
        deep = self.deep(w, 0.35, 2.5)
        words = [
            f"kind: slot, face: {face}, along: {u}, position: {{{v}: centre}}",
            f"width: {self.sized(wide)}, lean: {self.angle(self.chance.choice((0.5, 1, 1.5, 2)))}",
            f"wide end: {end}",
        ]
        sort = self.chance.random()
        if sort < 0.4:
            words.append(f"mirrored: true, across wide end: {self.sized(self.size[w] - deep)}")
        else:
            words.append(f"depth: {self.sized(deep)}")
            words += ["mirrored: true"] if sort < 0.55 else []
        return ", ".join(words)

    def pocket(self) -> str:
        """A pocket, round or square, one or several."""
        face = self.one(*SIDES, *SIDES, *FACES)
        u, v, w = FACES[face]
        if self.maybe(0.35):
            wide = self.about(4, min(self.size[u], self.size[v]) * 0.6)
            shape, reach = f"diameter: {self.sized(wide)}", (wide / 2, wide / 2)
        else:
            a, b = self.about(4, self.size[u] * 0.5), self.about(4, self.size[v] * 0.6)
            shape, reach = f"{u}: {self.sized(a)}, {v}: {self.sized(b)}", (a / 2, b / 2)
            if self.maybe(0.7):
                radius = (
                    INCH / 16 if self.unit == "inch" else self.chance.choice((1.5, 2.0, 2.5, 3.0))
                )
                shape += f", corner radius: {self.said(radius)}"
        x, y = self.inside(u, reach[0] + 1.5), self.inside(v, reach[1] + 1.5)
        at = f"{{{self.place(u, x)}, {self.place(v, y)}}}"
        if self.maybe(0.15):
            pitch = self.said(2 * reach[0] + self.about(2, 4))
            at = (
                f"{{row: {{count: 2, pitch: {pitch}, along: {u}}}, "
                f"centre: {{{u}: centre, {v}: centre}}}}"
            )
        deep = self.depth(w, self.deep(w, 0.5), face)
        deep = "depth: through" if self.maybe(0.12) else deep
        return f"kind: pocket, face: {face}, at: {at}, {shape}, {deep}"

    def corner(self) -> tuple[str, str]:
        """Two faces that meet."""
        a, b = self.chance.sample(tuple(LOW), 2)
        return self.one(LOW[a], HIGH[a]), self.one(LOW[b], HIGH[b])

    def edge(self) -> str:
        """An edge bevelled or rounded."""
        a, b = self.corner()
        leg = self.about(0.5, 2.5)
        shape = self.one(
            f"bevel: {self.sized(leg)}",
            f"bevel: {{{a}: {self.said(leg)}, {b}: {self.said(self.about(0.5, 3))}}}",
            f"radius: {self.sized(self.about(0.5, 4))}",
        )
        finish = self.one("", "", ", finish: filed", ", finish: milled")
        return f"kind: edge, between: [{a}, {b}], {shape}{finish}"

    def edges(self) -> str:
        """Edges alike, of all faces or round some."""
        shape = self.one(
            *(f"{how}: {self.said(self.about(0.5, 1))}" for how in ("bevel", "radius"))
        )
        around = self.one("all", self.one(*FACES), "[left, right]")
        return f"kind: edges, around: {around}, {shape}{self.one('', '', ', finish: filed')}"

    def ridge(self) -> str:
        """Two flats falling away from a peak."""
        face = self.one(*SIDES)
        u, v, w = FACES[face]
        peak = self.chance.choice((0.0, 0.5, 1.0))
        how = self.one(
            *([""] if not peak else [f", depth at peak: {self.said(peak)}"]),
            f", peak height: {self.sized(self.size[w] - peak)}",
        )
        along, across = self.chance.choice(((v, u), (v, u), (u, v)))
        where = self.place(across, self.inside(across, self.size[across] / 3))
        angle = self.angle(self.chance.choice((1, 1.5, 2, 3, 4)))
        return (
            f"kind: ridge, face: {face}, peak along: {along}, position: {{{where}}}, "
            f"angle: {angle}{how}"
        )

    def outline(self) -> str:
        """A line round the part: a rounded end, a cut corner, or a tee."""
        face = self.one("top", "front")
        u, v, _ = FACES[face]
        long, wide = self.size[u], self.size[v]
        cut, r = self.about(2, wide / 2 - 1), self.about(2, wide / 2 - 0.5)
        neck = self.about(3, long / 4)

        def to(x: float, y: float, more: str = "") -> str:
            along = (
                f"{LOW[u]}: {self.plain(x)}"
                if x < long / 2
                else f"{HIGH[u]}: {self.plain(long - x)}"
            )
            up = (
                f"{LOW[v]}: {self.plain(y)}"
                if y < wide / 2
                else f"{HIGH[v]}: {self.plain(wide - y)}"
            )
            return f"{{to: {{{along}, {up}}}{more}}}"

        start = f"{{{LOW[u]}: 0, {LOW[v]}: 0}}"
        arc = f", arc: {self.plain(r)}, turn: left"
        end = f", arc: {self.plain(wide / 2)}, turn: left"
        shapes = (
            [
                to(long - r, 0),
                to(long, r, arc),
                to(long, wide),
                to(cut, wide),
                to(0, wide - cut),
                to(0, 0),
            ],
            [to(long - wide / 2, 0), to(long - wide / 2, wide, end), to(0, wide), to(0, 0)],
            [
                *(to(long, 0), to(long, wide - cut), to(long - neck, wide - cut)),
                *(to(long - neck, wide), to(neck, wide), to(neck, wide - cut)),
                *(to(0, wide - cut), to(0, 0)),
            ],
        )
        path = self.chance.choice(shapes)
        finish = self.one("", ", finish: filed", ", finish: milled")
        return f"kind: outline, face: {face}, start: {start}, path: [{', '.join(path)}]{finish}"

    def by_hand(self) -> str:
        """Any feature, left to the person's hands."""
        return f"{self.chance.choice((self.hole, self.pocket, self.slot))()}, finish: by hand"

    # -- parts -------------------------------------------------------------------------------------

    def part(self, name: str, sound: Callable[[str], bool]) -> str:
        """A part with as many features as pass: a block, one from a larger bar, or a round."""
        self.round = self.maybe(0.15)
        flat = self.maybe(0.2)
        spans = ((25, 100), (14, 40), (3, 8)) if flat else ((12, 90), (8, 36), (5, 28))
        self.size = {axis: self.about(*span) for axis, span in zip(LOW, spans, strict=True)}
        more = (0.0, 0.0) if self.maybe(0.6) else (self.about(1, 3), self.about(0.5, 2))
        copies = self.chance.choice((1, 1, 2, 3, 4, 5))
        head = [f"  {name}:", f"    copies: {copies}", f"    material: {self.material}"]
        if self.round:
            across = self.about(6, 22)
            self.size = {"length": self.about(10, 60), "width": across, "height": across}
            text = self.said(across)
            self.sections.append(f"round {text}")
            head += [f"    length: {self.sized(self.size['length'])}", f"    diameter: {text}"]
        else:
            told = {axis: self.said(self.size[axis]) for axis in ("width", "height")}
            bar = {
                axis: told[axis] if not extra else self.plain(self.size[axis] + extra)
                for axis, extra in zip(told, more, strict=True)
            }
            self.sections.append(f"{bar['width']} x {bar['height']}")
            head += [f"    length: {self.sized(self.size['length'])}"]
            head += [f"    {axis}: {text}" for axis, text in told.items()]
            faces = [
                *(["front", "back"] if not more[0] else []),
                *(["top", "bottom"] if not more[1] else []),
            ]
            if faces and self.maybe(0.6):
                head.append(f"    as bought: [{', '.join(faces)}]")
        kinds = [self.hole] * 5 + [self.on_floor, self.step, self.step, self.slot, self.slot]
        kinds += [self.pocket, self.pocket, self.by_hand]
        if not self.round:
            kinds += [self.edge, self.edge, self.edges, self.leaning, self.ridge]
            kinds += [self.outline] * (2 if flat else 1)
        features: list[str] = []
        for _ in range(self.chance.randint(1, 5)):
            for _ in range(OFTEN_DRAWN):
                feature = f"      f{len(features) + 1}: {{{self.chance.choice(kinds)()}}}"
                if sound("\n".join([*head, "    features:", *features, feature])):
                    features.append(feature)
                    break
        return "\n".join([*head, *(["    features:", *features] if features else [])])

    def piece(
        self, name: str, size: tuple[float, float, float], feature: str, copies: int = 1
    ) -> str:
        """A plain piece with the hole that it is joined by."""
        width, height = self.plain(size[1]), self.plain(size[2])
        self.sections.append(f"{width} x {height}")
        sides = {"length": self.plain(size[0]), "width": width, "height": height}
        lines = [f"  {name}:", f"    copies: {copies}", f"    material: {self.material}"]
        lines += [f"    {axis}: {text}" for axis, text in sides.items()]
        return "\n".join([*lines, "    features:", f"      {feature}"])

    def joined(self) -> str:
        """A whole: two cheeks under a bridge, a post in a foot, or an upright on a base."""
        self.material = self.one("brass", "mild steel")
        return self.chance.choice((self.stand, self.post, self.upright))()

    def stand(self) -> str:
        """Two cheeks under a bridge, drawn through by screws."""
        thread, big = ("M2", "M4") if self.unit == "mm" else ("8 BA", "4 BA")
        thick, high = self.about(8, 10), self.about(20, 40)
        long, wide, over = self.about(32, 60), self.about(10, 20), self.about(4, 8)
        proud, pitch, copies = self.about(0.8, 1.5), long - thick, self.chance.choice((1, 2))
        row = (
            f"at: {{row: {{count: 2, pitch: {self.plain(pitch)}, along: length}}, "
            "centre: {length: centre, width: centre}}"
        )
        hole = "{kind: hole, face:"
        tapped = f"{hole} left, {MIDST}, thread: {thread}, depth: {self.plain(8)}}}"
        clear = f"{hole} top, {row}, clearance for: {thread}, depth: through}}"
        cheek = self.piece("cheek", (high, wide, thick), f"fixing: {tapped}", 2 * copies)
        bridge = self.piece("bridge", (long + 2 * proud, wide, over), f"fixing: {clear}", copies)
        told = {
            "cheek": cheek,
            "bridge": bridge,
            "copies": copies,
            "long": self.plain(long),
            "wide": self.plain(wide),
            "high": self.plain(high + over),
            "off": self.plain(pitch / 2),
            "cut": "",
            "swallowed": "",
            "feet": "",
        }
        if self.maybe(0.5):
            deep = self.plain(over + 6)
            told["feet"] = f"feet: {hole} top, {row}, thread: {big}, depth: {deep}}}"
            told["cut"], told["swallowed"] = ", cut by: [feet]", ", replaced by: feet"
        return STAND.format(**told)

    def post(self) -> str:
        """A round post in the socket of a foot."""
        size = self.about(24, 40), self.about(16, 26), self.about(8, 14)
        across, high = self.about(6, 10), self.about(30, 50)
        copies = self.chance.choice((1, 2, 3))
        about, less = ("±.001", "+0/-.0008") if self.unit == "inch" else ("±0.03", "+0/-0.02")
        socket = (
            "socket: {kind: hole, face: top, at: {length: centre, width: centre}, "
            f"diameter: {self.plain(across + 0.2)} {about}, depth: through}}"
        )
        foot = self.piece("foot", size, socket, copies)
        self.sections.append(f"round {self.plain(across)}")
        return POST.format(
            foot=foot,
            material=self.material,
            across=self.plain(across),
            copies=copies,
            less=less,
            long=self.plain(size[0]),
            wide=self.plain(size[1]),
            high=self.plain(high),
        )

    def upright(self) -> str:
        """An upright on a base, screwed from below, with a bore made after joining."""
        thread = "M3" if self.unit == "mm" else "6 BA"
        long, wide, thick = self.about(30, 60), self.about(14, 24), self.about(5, 10)
        high, deep = self.about(18, 36), self.about(8, 12)
        clear = (
            "fixing: {kind: hole, face: top, at: {length: centre, width: centre}, "
            f"clearance for: {thread}, depth: through}}"
        )
        tapped = (
            f"fixing: {{kind: hole, face: left, {MIDST}, thread: {thread}, depth: {self.plain(8)}}}"
        )
        across = self.said(self.chance.choice(BORES[self.unit][2:6]))
        bore = (
            f"bore: {{kind: hole, face: left, at: {{width: centre, top: {self.plain(6)}}}, "
            f"starts below: {self.plain((long - deep) / 2)}, diameter: {across}, depth: through}}"
        )
        feet = (
            f"feet: {{kind: hole, face: top, at: [{{left: {self.plain(5)}, width: centre}}, "
            f"{{right: {self.plain(5)}, width: centre}}], starts below: {self.plain(high)}, "
            f"diameter: {across}, depth: through}}"
        )
        return UPRIGHT.format(
            base=self.piece("base", (long, wide, thick), clear),
            upright=self.piece("upright", (high, wide, deep), tapped),
            long=self.plain(long),
            wide=self.plain(wide),
            high=self.plain(high + thick),
            thick=self.plain(thick),
            made=self.one(bore, feet),
        )

    def shop(self) -> str:
        """An ordinary shop with the bars that are wanted, read by a readout or by handwheels."""
        text = (self.chance.choice(SHOPS[self.unit]) / "workshop.yaml").read_text(encoding="utf-8")
        if self.maybe(0.4):
            text = re.sub(r"^    readout: .*\n", "", text, count=1, flags=re.MULTILINE)
            text = re.sub(r"^    handwheel: .*\n", "", text, count=1, flags=re.MULTILINE)
            wheel = f"    handwheel: {self.one(*WHEELS[self.unit])}\n"
            text = re.sub(
                r"^    daylight:", f"{wheel}    daylight:", text, count=1, flags=re.MULTILINE
            )
        bars = "\n".join(
            f"    - {section} x {self.plain(300)}" for section in dict.fromkeys(self.sections)
        )
        rack = f"rack:\n  {self.material}:\n{bars}\n"
        return re.sub(r"^rack:\n(?: .*\n|#.*\n|\n)*", rack, text, flags=re.MULTILINE)

    def draw(self, sound: Callable[[str, str], bool]) -> Drawn:
        """A build that `check` finds no fault with."""
        wall = f"least wall: {'.015' if self.unit == 'inch' else '0.4'}"
        head = [f"build: Drawn by chance\nunit: {self.unit}\n{wall}"]
        if self.maybe(0.8):
            head.append(f"general tolerance: {self.one(*TOLERANCES[self.unit])}")
        head.append("parts:")
        whole = self.maybe(0.12)
        for _ in range(BUILDS_DRAWN):
            self.sections.clear()
            before = self.chance.getstate()

            def passes(part: str) -> bool:
                return sound("\n".join([*head, part]) + "\n", "")

            text = self.joined() if whole else self.part("part", passes)
            build = "\n".join([*head, text]).rstrip("\n") + "\n"
            shop = self.shop()
            if sound(build, shop):
                return Drawn(build, shop)
            assert before != self.chance.getstate()
        raise AssertionError(f"nothing that check passes: {build}{shop}")


def faultless(build: str, shop: str) -> bool:
    """Does `check` pass a build? shop: its workshop; "" asks of its parts alone."""
    from barstock import api
    from barstock.drawing.build_reading import read_build
    from barstock.methods import KINDS
    from barstock.methods.part_checks import check_part

    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "build.yaml").write_text(build, encoding="utf-8")
        if shop:
            (Path(folder) / "workshop.yaml").write_text(shop, encoding="utf-8")
            return not any(fault.grade == "error" for fault in api.check(folder))
        reading = read_build(Path(folder), KINDS)
        wrong = [fault for fault in reading.faults if fault.grade == "error"]
        if reading.build is None or wrong:
            return False
        return not any(
            fault.grade == "error"
            for part in reading.build.parts
            for fault in check_part(part, reading.build.least_wall)
        )


def judge(drawn: Drawn, seconds: float) -> Verdict:
    """What becomes of a build; where some of it is left, why."""
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / "build"
        folder.mkdir()
        (folder / "build.yaml").write_text(drawn.build, encoding="utf-8")
        (folder / "workshop.yaml").write_text(drawn.shop, encoding="utf-8")
        found = asked("plan", folder, seconds)
        route = folder / "out" / "route.json"
        if found.fate != LEFT or not route.exists():
            return found
        left = json.loads(route.read_text(encoding="utf-8"))["left"]
        open_still = [one for one in left if one["tried"]]
        if not open_still:
            return Verdict("planned and proven", seconds=found.seconds)
        return Verdict(found.fate, "\n".join(map(reasons, open_still)), found.seconds)


def reasons(left: dict[str, Any]) -> str:
    """What is left and why, in a few lines."""
    tried = [f"    {one.get('way', '')}: {one['refusal']}" for one in left["tried"]]
    return "\n".join([f"{left['part']} {left.get('features', [])} ({left.get('how')})", *tried])


def main() -> int:
    """Print every build that is not planned and proven, and the counts."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seed", type=int, default=1, help="another seed draws other builds")
    parser.add_argument("--count", type=int, default=200, help="how many to draw")
    parser.add_argument("--first", type=int, default=1, help="the number to begin with")
    parser.add_argument("--only", type=int, help="only the build of this number")
    parser.add_argument("--seconds", type=float, default=600.0, help="limit for each plan")
    wanted = parser.parse_args()
    numbers = range(wanted.first, wanted.first + wanted.count)
    if wanted.only is not None:
        numbers = range(wanted.only, wanted.only + 1)
    fates: Counter[str] = Counter()
    try:
        for number in numbers:
            drawn = Draughtsman(wanted.seed, number).draw(faultless)
            verdict = judge(drawn, wanted.seconds)
            fates[verdict.fate] += 1
            print(f"--seed {wanted.seed} --only {number}: {verdict.fate}, {verdict.seconds:.0f} s")
            if verdict.fate != GOOD:
                print(f"{verdict.words}\n{drawn.build}{drawn.shop if wanted.only else ''}")
            sys.stdout.flush()
    except KeyboardInterrupt:
        print("\nstopped", file=sys.stderr)
    print(", ".join(f"{count} {told}" for told, count in fates.most_common()))
    return 1 if any(fates[bad] for bad in FAILED) else 0


if __name__ == "__main__":
    sys.exit(main())
