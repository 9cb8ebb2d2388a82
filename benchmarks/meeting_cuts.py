"""Cuts that meet, touch or lie flush, drawn by chance: every one must be planned and proven.

    python benchmarks/meeting_cuts.py [--seed N] [--count N] [--first N] [--only N] [--sort WORD]

Each part has two or three features that meet just so: a hole tangent to a bore, one that ends on
another's axis, drillings of one size that cross, ends that lie flush, slots whose wall lies on a
face with bevels beside, pockets whose corners are the cutter's own, steps on one axis, bolt circles
read to a coarse dial, a film between two floors. Every second shop is an inch one's: its readout
reads .0005. What is not proven is printed with its build.yaml: --seed and --only give it again.
Ctrl-C stops and tells of those that are done. Exit code 1 if any was not proven.
"""

from __future__ import annotations

import argparse
import math
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from random import Random

from barstock.errors import UnplannableError

INCH = 25.4
DRILLS = (2.0, 2.5, 3.0, 3.2, 4.0, 5.0, 6.0)  # [mm]
FRACTIONS = (3, 4, 5, 6, 7, 8, 10)  # drills in 1/32 in
MOST_MILLED = 10.0  # depth of a hole with a flat bottom in the side of a bore [mm]
MOST_DRAWN = 40  # parts drawn for one that `check` passes
STEPS = (0.005, 0.01, 0.0127)  # what a readout reads [mm]; the last is .0005 in


@dataclass(frozen=True)
class Meeting:
    """A part whose cuts meet. sort: how; step: what the shop's readout reads [mm]."""

    sort: str
    text: str
    width: float
    height: float
    step: float


class Draughtsman:
    """Draws one meeting by chance: the same one again for the same seed and number."""

    def __init__(self, seed: int, number: int) -> None:
        """Begin with the part's size and its unit."""
        self.chance = Random(f"meeting {seed} {number}")
        self.inch = self.chance.random() < 0.4
        self.size = {
            "length": self.length(24, 60),
            "width": self.length(14, 28),
            "height": self.length(10, 20),
        }

    def length(self, low: float, high: float) -> float:
        """A length between two, in halves of a millimetre or sixteenths of an inch [mm]."""
        grain = INCH / 16 if self.inch else 0.5
        return round(self.chance.uniform(low, max(low, high)) / grain) * grain

    def drill(self, low: float = 1.5, high: float = 7.0) -> float:
        """The size of a drill [mm]."""
        sizes = [n / 32 * INCH for n in FRACTIONS] if self.inch else list(DRILLS)
        return self.chance.choice([d for d in sizes if low <= d <= high] or sizes[:1])

    def mill(self) -> float:
        """The size of an end mill, for a flat-bottomed hole [mm]."""
        return self.chance.choice([n / 16 * INCH for n in (3, 4)] if self.inch else [4.0, 5, 6])

    def said(self, value: float) -> str:
        """A length as it is written: as a fraction of an inch where it is one."""
        if not self.inch:
            return f"{round(value, 4):g}"
        parts = value / INCH * 64
        if abs(parts - round(parts)) > 1e-6 or round(parts) == 0:
            return f"{value / INCH:.5f}".rstrip("0")
        whole, rest = divmod(round(parts), 64)
        if not rest:
            return f"{whole}"
        down = math.gcd(rest, 64)
        return (f"{whole}-" if whole else "") + f"{rest // down}/{64 // down}"

    def hole(
        self,
        face: str,
        at: tuple[float, float],
        diameter: float,
        deep: float | None,
        more: str = "",
    ) -> str:
        """A hole in a face; deep: None is right through."""
        first, second = {"top": ("left", "front"), "front": ("left", "bottom")}.get(
            face, ("front", "bottom")
        )
        depth = "through" if deep is None else self.said(deep)
        return (
            f"kind: hole, face: {face}, at: {{{first}: {self.said(at[0])}, "
            f"{second}: {self.said(at[1])}}}, diameter: {self.said(diameter)}, depth: {depth}{more}"
        )

    def places(self) -> tuple[float, float, float]:
        """A place well inside the part, in the middle of its height [mm]."""
        x = self.length(9, self.size["length"] - 9)
        return x, self.size["width"] / 2, self.size["height"] / 2

    # -- the sorts of meeting ----------------------------------------------------------------------

    def tangent_end(self) -> list[str]:
        """A hole from an end whose full diameter ends just where it touches a bore."""
        x, y, z = self.places()
        wide, small = self.drill(4, 7), self.drill(1.5, 3.3)
        deep = x - wide / 2 + self.chance.choice([0.0, 0.0, 0.02, -0.02])
        flat = ""
        if deep < MOST_MILLED and self.chance.random() < 0.5:
            small, flat = self.mill(), ", bottom: flat"
        return [
            self.hole("top", (x, y), wide, None),
            self.hole("left", (y, z), small, deep, flat),
        ]

    def end_on_axis(self) -> list[str]:
        """A way that ends on the axis of a port of its own size, or of another."""
        x, y, z = self.places()
        size = self.drill(2, 4)
        other = self.chance.choice([size, size, self.drill(2, 4)])
        return [
            self.hole("front", (x, z), size, self.chance.choice([None, self.size["width"] / 2])),
            self.hole("left", (y, z), other, x),
        ]

    def crossing(self) -> list[str]:
        """Drillings of one size that cross, their axes in one plane."""
        x, y, z = self.places()
        size = self.drill(2, 5)
        ways = [
            self.hole("top", (x, y), size, None),
            self.hole("front", (x, z), size, None),
            self.hole("left", (y, z), size, self.chance.choice([x, x + size / 2, x + size])),
        ]
        return self.chance.sample(ways, self.chance.choice([2, 3]))

    def tangent_sides(self) -> list[str]:
        """Drillings at right angles that touch along their sides, or nearly."""
        x, y, z = self.places()
        a, b = self.drill(2, 4), self.drill(2, 4)
        off = (a + b) / 2 + self.chance.choice([0.0, 0.0, -0.01, -0.5])
        meant = ", breaks into: f1"
        return [
            self.hole("top", (x, y), a, None),
            self.hole("front", (min(x + off, self.size["length"] - 4), z), b, None, meant),
        ]

    def flush_ends(self) -> list[str]:
        """Flat-bottomed holes from both sides whose ends meet, or lie in one plane."""
        x, y, _ = self.places()
        a, b = self.mill(), self.mill()
        half, beside = self.size["height"] / 2, self.chance.choice([0.0, a, (a + b) / 2])
        flat = ", bottom: flat"
        other = (
            f"kind: hole, face: bottom, at: {{left: {self.said(min(x + beside, x + 8))}, front: "
            f"{self.said(y)}}}, diameter: {self.said(b)}, depth: {self.said(half)}{flat}"
        )
        return [self.hole("top", (x, y), a, half, flat), other]

    def coaxial(self) -> list[str]:
        """Holes on one axis, one going on where the other ends."""
        x, y, _ = self.places()
        flat = self.chance.choice(["", ", bottom: flat"])
        wide, small = self.mill() if flat else self.drill(4, 6), self.drill(2, 3)
        deep = self.length(3, self.size["height"] / 2)
        return [
            self.hole("top", (x, y), wide, deep, flat),
            self.hole("top", (x, y), small, self.chance.choice([None, deep + 3])),
        ]

    def slot_on_face(self) -> list[str]:
        """A slot or step beside a face, its wall on another cut's edge, with a bevel beside."""
        wide = self.length(3, 6)
        deep = self.length(2, self.size["height"] / 2)
        bevel = self.length(0.8, 1.6)
        step = (
            f"kind: step, face: top, edge: front, width: {self.said(wide)}, "
            f"depth: {self.said(deep)}"
        )
        along = self.size["width"] - 2 * wide
        slot = (
            f"kind: slot, face: top, along: length, position: {{front: {self.said(wide * 1.5)}}}, "
            f"width: {self.said(wide)}, depth: {self.said(self.chance.choice([deep, deep / 2]))}"
        )
        edge = self.chance.choice(["back, top", "left, top", "front, bottom"])
        bevelled = f"kind: edge, between: [{edge}], bevel: {self.said(bevel)}"
        return [step, slot, bevelled] if along > 4 else [step, bevelled]

    def pocket_of_cutter(self) -> list[str]:
        """A pocket whose corners are the cutter's own, blind or with a hole to its wall."""
        x, y, _ = self.places()
        radius = self.chance.choice([INCH / 16, INCH / 8] if self.inch else [1.5, 2.0, 3.0])
        long, wide = self.length(4 * radius, 14), self.length(2 * radius + 1, 10)
        deep = self.length(2, self.size["height"] / 2)
        pocket = (
            f"kind: pocket, face: top, at: {{left: {self.said(x)}, front: {self.said(y)}}}, "
            f"length: {self.said(long)}, width: {self.said(wide)}, corner radius: "
            f"{self.said(radius)}, depth: {self.said(deep)}"
        )
        hole = self.hole("top", (x, y), self.drill(2, min(4, wide)), None)
        return [pocket, hole] if self.chance.random() < 0.5 else [pocket]

    def bolt_circle(self) -> list[str]:
        """Holes on a circle, whose places no dial can be set to, round a bore or without one."""
        most = min(self.size["width"], self.size["length"]) - 5
        ring = self.length(9, max(9.0, most))
        count = self.chance.choice([3, 5, 6])
        bore = self.chance.choice(["diameter: 2.5", "thread: M3", "diameter: 4 H7, finish: reamed"])
        bore = "diameter: 3/32" if self.inch else bore
        depth = self.chance.choice(["through", self.said(INCH / 4 if self.inch else 5.0)])
        return [
            f"kind: hole, face: top, at: {{circle: {{count: {count}, diameter: "
            f"{self.said(ring)}}}, centre: {{length: centre, width: centre}}}}, "
            f"{bore}, depth: {depth}"
        ]

    def hole_in_wall(self) -> list[str]:
        """A hole whose side touches the wall of a slot, or its end the floor."""
        x, y, z = self.places()
        wide = self.length(3, 6)
        deep = self.size["height"] / 2
        slot = (
            f"kind: slot, face: top, along: length, position: {{front: {self.said(y)}}}, "
            f"width: {self.said(wide)}, depth: {self.said(deep)}"
        )
        size = self.drill(2, 3.3)
        way = self.chance.choice(["end", "axis", "floor"])
        if way == "end":
            return [slot, self.hole("front", (x, z + deep / 4), size, y - wide / 2)]
        if way == "axis":
            return [slot, self.hole("front", (x, z + deep / 4), size, y)]
        return [slot, self.hole("left", (y, z - size / 2 - 1.6), size, self.length(5, 12))]

    def draw(self, named: str = "") -> Meeting:
        """One of them, or one of the sort named."""
        sorts: list[Callable[[], list[str]]] = [
            *(self.tangent_end, self.end_on_axis, self.crossing, self.tangent_sides),
            *(self.flush_ends, self.coaxial, self.slot_on_face, self.pocket_of_cutter),
            *(self.bolt_circle, self.hole_in_wall),
        ]
        sort = self.chance.choice([one for one in sorts if named in one.__name__])
        features = sort()
        step = STEPS[2] if self.inch else self.chance.choice(STEPS)
        lines = [
            "build: Drawn by chance",
            f"unit: {'inch' if self.inch else 'mm'}",
            f"least wall: {'.01' if self.inch else '0.25'}",
            "parts:",
            "  p:",
            f"    copies: {self.chance.choice([1, 2])}",
            "    material: brass",
            *(f"    {axis}: {self.said(size)}" for axis, size in self.size.items()),
            "    features:",
            *(f"      f{n}: {{{feature}}}" for n, feature in enumerate(features, 1)),
        ]
        text = "\n".join(lines) + "\n"
        return Meeting(sort.__name__, text, self.size["width"], self.size["height"], step)


SHOP = """
workshop: Of the meetings
unit: mm
machines:
  mill: {{kind: mill, speeds: 100 to 3000, travel: {{x: 320, y: 145, z: 220}}, readout: {step},
    daylight: 260}}
  drill press: {{kind: drill press, speeds: [480, 850, 1400, 2100, 2900], daylight: 280}}
  band saw: {{kind: saw, kerf: 1.2}}
holding:
  vises: {{machine vise: {{jaw width: 100, jaw depth: 30, opening: 90}}}}
  parallels: [3 to 32 by 1]
  stop repeats: 0.03
  vise repeats: 0.02
  sine bar: 100
  angle plate: true
  clamps: true
tools:
  end mills: [2, 3, 4, 6, 8, 10, 12, {{size: 16, flute: 38}}, 1/8, 3/16, 1/4, 3/8, 1/2]
  slot drills: [2, 3, 4, 5, 6, 8, 10, 3/32, 1/8, 3/16, 1/4, 5/16]
  spot drills: [3, 6]
  drills: [1 to 13 by 0.1, No 1 to No 60, 1/16 to 1/2 by 1/64]
  reamers: [4]
  taps: [M2.5, M3]
  countersinks: [{{size: 10, angle: 90}}]
  edge finders: [10]
  files: [hand second cut 200, hand smooth 150]
  saw blades: [junior hacksaw]
measuring:
  caliper: {{reads: 0.01, range: 0 to 150}}
  micrometer: {{reads: 0.01, range: 0 to 25}}
  depth micrometer: {{reads: 0.01, range: 0 to 50}}
  gauge blocks: {{set: 112 piece}}
  pins: {{sizes: 1 to 10 by 0.1}}
rack:
  brass: ["{section} x 600"]
"""


def fate(meeting: Meeting) -> tuple[str, str]:
    """What became of it: "faulty" (check says so), "left" to the person in part, "failed" (its
    proof, or the program) or "proven"; and in whose words.
    """
    from barstock import api
    from barstock.errors import FaultyError
    from barstock.planning.plan import plan_build
    from barstock.proving.prove import prove

    with tempfile.TemporaryDirectory() as folder:
        section = f"{meeting.width:.4f} x {meeting.height:.4f}"
        shop = SHOP.format(step=f"{meeting.step:g}", section=section)
        (Path(folder) / "build.yaml").write_text(meeting.text, encoding="utf-8")
        (Path(folder) / "workshop.yaml").write_text(shop, encoding="utf-8")
        try:
            build, workshop = api.read(Path(folder))
            route = plan_build(build, workshop, steps=150_000)
            proof = prove(route, build)
        except FaultyError as faults:
            return "faulty", str(faults)
        except UnplannableError as reason:
            return "left", str(reason)
        except Exception:
            return "failed", traceback.format_exc()
    errors = [str(v) for v in proof.violations if v.severity == "error"]
    if errors:
        return "failed", "\n".join(errors)
    return ("left", str(route.left)) if route.left else ("proven", "")


def sound(seed: int, number: int, sort: str = "") -> tuple[Meeting, str, str]:
    """The first meeting of this seed and number that `check` passes, and its fate."""
    draughtsman = Draughtsman(seed, number)
    for _ in range(MOST_DRAWN):
        meeting = draughtsman.draw(sort)
        became, words = fate(meeting)
        if became != "faulty":
            break
    return meeting, became, words


def survey(seed: int, numbers: range, sort: str, tell: Callable[[str], None]) -> Counter[str]:
    """How many met each fate; those not proven are printed."""
    fates: Counter[str] = Counter()
    try:
        for number in numbers:
            tell(f"part {number} of {numbers[-1]}: {told(fates)}")
            meeting, became, words = sound(seed, number, sort)
            fates[became] += 1
            if became != "proven":
                print(f"\n--- {became}, {meeting.sort}, --seed {seed} --only {number}", flush=True)
                print(f"{words}\n# readout {meeting.step:g} mm\n{meeting.text}", flush=True)
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
    parser.add_argument("--count", type=int, default=500, help="how many that check passes")
    parser.add_argument("--first", type=int, default=1, help="the number to begin with")
    parser.add_argument("--only", type=int, help="only the part of this number")
    parser.add_argument("--sort", default="", help="only meetings of this sort")
    chosen = parser.parse_args(words)
    numbers = range(chosen.first, chosen.first + chosen.count)
    if chosen.only is not None:
        numbers = range(chosen.only, chosen.only + 1)

    def tell(line: str) -> None:
        if sys.stderr.isatty():
            print(f"\r{line:79}", end="", file=sys.stderr, flush=True)

    began = time.monotonic()
    fates = survey(chosen.seed, numbers, chosen.sort, tell)
    missed = fates.total() - fates["proven"]
    print(f"\n{fates.total()} meetings: {told(fates)} ({time.monotonic() - began:.0f} s)")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
