"""Surface speeds, spindle speeds and feeds to start with on small manual machines.

Source: the ranges that handbooks and cutter makers print for high-speed steel without flood
coolant, taken at their careful end for light machines (typed from memory, common practice). Speed
arithmetic: v = pi d n (Machinery's Handbook, cutting speeds).
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from math import pi

from barstock.handbook.answer import Found
from barstock.handbook.materials import UnknownMaterialError, material
from barstock.handbook.unknown_word import UnknownError
from barstock.quantities import Unit

SOURCE = "common practice, careful end of the usual handbook ranges"
MEMORY = True

# material: surface speed [m/min] of an HSS end mill: low, to start with, high
RANGES: dict[str, tuple[float, float, float]] = {
    "brass": (45, 60, 90), "soft brass": (30, 40, 60), "phosphor bronze": (15, 24, 30),
    "gunmetal": (20, 30, 40), "aluminium bronze": (12, 18, 24), "copper": (20, 30, 45),
    "nickel silver": (18, 24, 30), "mild steel": (20, 25, 30), "free-cutting steel": (25, 30, 40),
    "medium carbon steel": (15, 20, 25), "silver steel": (9, 12, 15),
    "stainless steel": (12, 16, 20), "tough stainless steel": (8, 12, 16),
    "cast iron": (15, 20, 25), "aluminium": (50, 75, 120), "hard aluminium": (50, 75, 120),
    "high-strength aluminium": (50, 75, 120), "acetal": (60, 100, 150),
}  # fmt: skip

# material: depth of one roughing cut across the full width of an end mill, as a share of its
# diameter, on a light mill. Common practice: half the diameter at most, less where it cuts hard.
ROUGHING = {
    "brass": 0.5, "soft brass": 0.4, "phosphor bronze": 0.25, "gunmetal": 0.4,
    "aluminium bronze": 0.2, "copper": 0.3, "nickel silver": 0.25, "mild steel": 0.25,
    "free-cutting steel": 0.3, "medium carbon steel": 0.2, "silver steel": 0.2,
    "stainless steel": 0.15, "tough stainless steel": 0.1, "cast iron": 0.25, "aluminium": 0.5,
    "hard aluminium": 0.5, "high-strength aluminium": 0.5, "acetal": 0.5,
}  # fmt: skip
LEAST_ROUGHING = 0.3
"""The least depth of a roughing cut, under which a cutter rubs [mm]. Common practice."""

CARBIDE = 3.0
"""How much faster carbide may run than high-speed steel. Common practice."""

# cutter: share of an end mill's surface speed
CUTTERS = {
    "end mill": 1.0, "drill": 0.9, "spot drill": 0.8, "reamer": 0.4, "tap": 0.25,
    "countersink": 0.4, "counterbore": 0.4, "boring head": 0.8, "slitting saw": 0.6,
    "edge finder": 0.8, "file": 0.0, "saw blade": 1.0,
}  # fmt: skip

# cutter diameter [mm]: chip load a tooth of an HSS end mill in mild steel [mm]
CHIP_DIAMETERS = (1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0)
CHIP_LOADS = (0.004, 0.007, 0.010, 0.014, 0.022, 0.030, 0.038, 0.045, 0.055, 0.065, 0.075)

# drill diameter [mm]: feed a turn in mild steel [mm]
DRILL_DIAMETERS = (0.5, 1.0, 2.0, 3.0, 5.0, 8.0, 12.0, 20.0)
DRILL_FEEDS = (0.006, 0.015, 0.035, 0.06, 0.09, 0.13, 0.18, 0.25)

# material: share of the feed in mild steel
_EASY = {
    "brass": 1.3, "gunmetal": 1.2, "aluminium": 1.5, "hard aluminium": 1.5,
    "high-strength aluminium": 1.5, "acetal": 1.5, "free-cutting steel": 1.1, "cast iron": 1.2,
    "silver steel": 0.8, "stainless steel": 0.8,
    "tough stainless steel": 0.7, "nickel silver": 0.9, "aluminium bronze": 0.9,
}  # fmt: skip


FLUIDS = (
    "cutting oils and their mist and smoke harm skin and lungs: keep skin covered, no compressed "
    "air, change soluble oil before it smells; paraffin burns"
)
"""What to beware of in cutting fluids. Common practice."""


class UnknownCutterError(UnknownError):
    """Raised for a kind of cutter there is no figure of."""


def speed_range(of: str, cutter: str, made_of: str = "HSS") -> tuple[float, float, float]:
    """Surface speed [m/min]: low, to start with, high.

    of: material; cutter: its kind; made_of: HSS or carbide. Raises UnknownMaterialError,
    UnknownCutterError.

    >>> speed_range("brass", "end mill")
    (45.0, 60.0, 90.0)
    """
    if cutter not in CUTTERS:
        raise UnknownCutterError(cutter, "cutter", CUTTERS, "known: " + ", ".join(CUTTERS))
    share = CUTTERS[cutter] * (CARBIDE if made_of.lower() == "carbide" else 1.0)
    low, start, high = (round(v * share, 6) for v in RANGES[material(of).name])
    return low, start, high


def speed_for(of: str, cutter: str, made_of: str = "HSS") -> float:
    """The surface speed to start with [m/min]. Raises as `speed_range` does.

    >>> speed_for("mild steel", "end mill")
    25.0
    """
    return speed_range(of, cutter, made_of)[1]


def rpm(speed: float, diameter: float) -> float:
    """Spindle speed [1/min] for a surface speed [m/min] on a diameter [mm]. v = pi d n.

    Raises ValueError for a diameter that is not above 0.

    >>> round(rpm(25, 10))
    796
    """
    if diameter <= 0:
        raise ValueError(f"a diameter of {diameter:g} mm is not above 0")
    return speed * 1000 / (pi * diameter)


def surface_speed(turns: float, diameter: float) -> float:
    """Surface speed [m/min] of a diameter [mm] at a spindle speed [1/min]. v = pi d n.

    >>> round(surface_speed(796, 10))
    25
    """
    return pi * diameter * turns / 1000


def roughing_depth(of: str, diameter: float) -> float:
    """The greatest depth of one roughing cut [mm] by an end mill; diameter [mm].

    Raises UnknownMaterialError.

    >>> roughing_depth("EN8", 8)
    1.6
    """
    return max(LEAST_ROUGHING, ROUGHING[material(of).name] * diameter)


def chip_load(of: str, diameter: float) -> float:
    """Feed a tooth of an end mill [mm]; diameter [mm]. Raises UnknownMaterialError.

    >>> chip_load("mild steel", 6)
    0.022
    """
    share = _EASY.get(material(of).name, 1.0)
    return round(_between(diameter, CHIP_DIAMETERS, CHIP_LOADS) * share, 5)


def feed_per_turn(
    of: str, cutter: str, diameter: float, teeth: int = 2, pitch: float | None = None
) -> float:
    """Feed a turn [mm] of any cutter; diameter [mm]. Raises as `speed_range` does.

    A reamer is fed at twice a drill's feed, a tap at its `pitch` [mm], which it needs: ValueError.

    >>> feed_per_turn("mild steel", "drill", 5)
    0.09
    """
    if cutter not in CUTTERS:
        raise UnknownCutterError(cutter, "cutter", CUTTERS, "known: " + ", ".join(CUTTERS))
    if cutter == "tap":
        if pitch is None:
            raise ValueError("a tap is fed at its thread's pitch; give that")
        return pitch
    drill = _between(diameter, DRILL_DIAMETERS, DRILL_FEEDS) * _EASY.get(material(of).name, 1.0)
    if cutter == "reamer":
        return round(2 * drill, 5)
    if cutter in ("end mill", "slitting saw"):
        share = 0.3 if cutter == "slitting saw" else 1.0
        return round(chip_load(of, min(diameter, 25.0)) * teeth * share, 5)
    return round(drill * {"drill": 1.0, "spot drill": 0.8}.get(cutter, 0.5), 5)


def feed(
    of: str,
    cutter: str,
    diameter: float,
    turns: float,
    teeth: int = 2,
    pitch: float | None = None,
) -> float:
    """Feed [mm/min] at a spindle speed [1/min]; diameter, a tap's pitch [mm].

    Raises as `feed_per_turn` does.

    >>> round(feed("mild steel", "end mill", 10, 796, 2), 1)
    60.5
    """
    return feed_per_turn(of, cutter, diameter, teeth, pitch) * turns


def _between(x: float, xs: tuple[float, ...], ys: tuple[float, ...]) -> float:
    """Straight between the rows; below the first in proportion, beyond the last as the last."""
    if x <= xs[0]:
        return ys[0] * x / xs[0]
    if x >= xs[-1]:
        return ys[-1]
    i = bisect_left(xs, x)
    share = (x - xs[i - 1]) / (xs[i] - xs[i - 1])
    return ys[i - 1] + share * (ys[i] - ys[i - 1])


FOOT = 0.3048
"""[m]"""


def find(word: str, unit: Unit) -> Iterator[Found]:
    """What `look` shows of the speeds in a material."""
    try:
        name = material(word.lower().removeprefix("speeds in ").removeprefix("speeds ")).name
    except UnknownMaterialError:
        return
    rows = []
    for cutter, share in CUTTERS.items():
        feet = unit is Unit.INCH
        speeds = (v / FOOT if feet else v for v in speed_range(name, cutter))
        low, start, high = (f"{v:.3g}" for v in speeds)
        if share:
            each = "ft/min" if feet else "m/min"
            rows.append((cutter, f"start at {start} {each} ({low} to {high})"))
    rows.append(("caution", FLUIDS))
    yield Found(f"surface speeds in {name}, HSS", tuple(rows), SOURCE, MEMORY)
    deep = f"{ROUGHING[name]:g} of the cutter's diameter at most"
    yield Found(f"roughing in {name}", (("depth of one cut", deep),), "common practice", False)
