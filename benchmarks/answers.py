"""How long single answers take: assemblies thrown by chance, gauge block stacks, the wagon's ride.

Run: python benchmarks/answers.py [--json]. Figures are CPU seconds of this process.
"""

from __future__ import annotations

import json
import random
import sys
import time
from collections.abc import Callable
from pathlib import Path

from barstock.drawing.build_reading import read_build
from barstock.handbook.gauge_blocks import gauge_set
from barstock.measuring.stacks import stack
from barstock.mechanism.guides.guide_faces import faces
from barstock.mechanism.guides.guide_play import MOTIONS
from barstock.mechanism.guides.guide_sizes import variants
from barstock.mechanism.guides.motion_over_limits import by_chance, throw
from barstock.mechanism.ride import ride
from barstock.methods import KINDS
from barstock.tolerancing.fits_of_build import mated
from barstock.workshop.shop_reading import read_workshop

WAGON = Path(__file__).parents[1] / "src" / "barstock" / "samples" / "wagon"


def taken(work: Callable[[], object]) -> float:
    """CPU seconds of a piece of work."""
    start = time.process_time()
    work()
    return time.process_time() - start


def answers() -> dict[str, Callable[[], object]]:
    """What is measured, by what is printed for it."""
    build = read_build(WAGON, KINDS).build
    workshop, _ = read_workshop(WAGON / "workshop.yaml")
    assert build is not None
    assert build.mechanism is not None
    assert workshop is not None
    guide = faces(build.mechanism.guides[0], variants(build))
    mates = mated(build, workshop)
    chance = random.Random(4)
    sizes = [round(chance.uniform(3, 150), 3) for _ in range(1000)]
    blocks = gauge_set("112").mm
    return {
        "100 000 assemblies of a box in its horns": lambda: by_chance(
            guide, MOTIONS["pitch"], throw(guide, samples=100_000), 1.5
        ),
        "a million of each fit": lambda: [mate.by_chance(samples=1_000_000) for mate in mates],
        "a thousand stacks of gauge blocks": lambda: [stack(size, blocks) for size in sizes],
        "the ride": lambda: ride(build),
    }


def main() -> None:
    """Measure and print."""
    found = {name: taken(work) for name, work in answers().items()}
    if "--json" in sys.argv:
        print(
            json.dumps({f"{name}, CPU seconds": value for name, value in found.items()}, indent=1)
        )
        return
    for name, value in found.items():
        print(f"{name + ', CPU seconds':54} {value:8.3f}")


if __name__ == "__main__":
    main()
