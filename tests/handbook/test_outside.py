"""The handbook against values printed elsewhere.

`outside.csv` holds the values, one a line: what is asked, of what, the value printed, within what
it must agree, how it came here ("looked up", "memory", "arithmetic") and from where.
docs/sources.md is made from the same file by scripts/sources.py.

Left out as a slip of its printer: a list gives drill Q (0.332 in) for 3/8 x 32, smaller than that
thread at its root (0.335 in); Q is the drill of 3/8-24.
"""

import csv
from collections.abc import Callable
from pathlib import Path

import pytest

from barstock.handbook import (
    ball_bearings,
    circlips,
    countersunk_screws,
    hexagons,
    keys,
    machine_tapers,
    o_rings,
    sheet_gauges,
    socket_screws,
    taper_pins,
    washers,
)
from barstock.handbook.brazing import brazing_alloy
from barstock.handbook.drills import drill
from barstock.handbook.gauge_blocks import gauge_set
from barstock.handbook.general_limits import general_angle_limit, general_limit
from barstock.handbook.heat import mean_expansion
from barstock.handbook.iso_fits import fit, it, limits
from barstock.handbook.materials import material
from barstock.handbook.sized_table import SizedTable, by_range
from barstock.handbook.speeds import rpm
from barstock.handbook.spring_grades import GRADES, wire_grade
from barstock.handbook.spring_wire import wire
from barstock.handbook.thread_limits import thread_limits
from barstock.handbook.thread_strength import (
    tensile_stress_area,
)
from barstock.handbook.threads import percentage_engagement, thread
from barstock.quantities import Unit

INCH = 25.4


def _part(table: SizedTable, column: str, unit: float = 1.0) -> Callable[[str], float]:
    return lambda of: table.figure(of, column) / unit


def _key(column: str) -> Callable[[str], float]:
    """Of the key for a shaft [mm]."""

    def figure(of: str) -> float:
        row = by_range(keys.METRIC.rows, of, Unit.MM)
        assert row is not None
        return keys.METRIC.figure(row, column)

    return figure


def _limit(of: str, end: int) -> float:
    nominal, symbol = of.split()
    return limits(float(nominal), symbol)[end] * 1000


def _fit(of: str, end: str) -> float:
    nominal, symbols = of.split()
    return float(getattr(fit(float(nominal), symbols), end)) * 1000


def _general(of: str, kind: str) -> float:
    size, cls = of.split()
    return general_limit(float(size), cls, kind)


def _angle(of: str) -> float:
    leg, cls = of.split()
    return general_angle_limit(float(leg), cls) * 60


def _engagement(of: str) -> float:
    name, hole = of.split(" with ")
    return percentage_engagement(thread(name), drill(hole))


def _rpm(of: str) -> float:
    speed, diameter = (float(part.split()[0]) for part in of.split(" on "))
    return rpm(speed, diameter)


def _nut_width(of: str) -> float:
    low, high = thread_limits(thread(of)).nut_effective
    return (high - low) * 1000


def _grade(of: str) -> float:
    nominal, grade = of.split(" IT")
    return it(float(nominal), grade)


ASK: dict[str, Callable[[str], float]] = {
    "major diameter [mm]": lambda of: thread(of).major,
    "pitch [mm]": lambda of: thread(of).pitch,
    "threads an inch": lambda of: thread(of).tpi,
    "tapping drill [mm]": lambda of: thread(of).tap_drill,
    "tapping drill [inch]": lambda of: thread(of).tap_drill / INCH,
    "effective diameter [inch]": lambda of: thread(of).effective / INCH,
    "root diameter [inch]": lambda of: thread(of).root / INCH,
    "nut minor diameter [inch]": lambda of: thread(of).minor / INCH,
    "stress area [square inch]": lambda of: tensile_stress_area(thread(of)) / INCH**2,
    "stress area [mm2]": lambda of: tensile_stress_area(thread(of)),
    "breaking load of class 8.8 [N]": lambda of: 800 * tensile_stress_area(thread(of)),
    "screw major, low [mm]": lambda of: thread_limits(thread(of)).screw_major[0],
    "screw major, high [mm]": lambda of: thread_limits(thread(of)).screw_major[1],
    "screw effective, low [mm]": lambda of: thread_limits(thread(of)).screw_effective[0],
    "screw effective, high [mm]": lambda of: thread_limits(thread(of)).screw_effective[1],
    "nut effective width [micrometre]": _nut_width,
    "nut minor, high [mm]": lambda of: thread_limits(thread(of)).nut_minor[1],
    "engagement of a drill [%]": _engagement,
    "clearance, close [mm]": lambda of: thread(of).clearance_close,
    "clearance, medium [mm]": lambda of: thread(of).clearance_medium,
    "clearance, free [mm]": lambda of: thread(of).clearance_free,
    "clearance, free [inch]": lambda of: thread(of).clearance_free / INCH,
    "drill [inch]": lambda of: drill(of) / INCH,
    "upper deviation [micrometre]": lambda of: _limit(of, 1),
    "lower deviation [micrometre]": lambda of: _limit(of, 0),
    "most clearance [micrometre]": lambda of: _fit(of, "most"),
    "least clearance [micrometre]": lambda of: _fit(of, "least"),
    "width of grade [micrometre]": _grade,
    "general limit of a length [mm]": lambda of: _general(of, "length"),
    "general limit of an edge [mm]": lambda of: _general(of, "edge"),
    "general limit of an angle [minute]": _angle,
    "density [g/cm3]": lambda of: material(of).density,
    "expansion [1e-6/K]": lambda of: material(of).expansion,
    "mean expansion, 20 to 300 C [1e-6/K]": lambda of: mean_expansion(of, 300),
    "mean expansion, 20 to 600 C [1e-6/K]": lambda of: mean_expansion(of, 600),
    "modulus [GPa]": lambda of: material(of).modulus,
    **{
        f"tensile strength {grade} [MPa]": (
            lambda of, grade=grade: wire_grade(grade).strength(float(of))
        )
        for grade in GRADES
    },
    "shear modulus of wire [GPa]": lambda of: wire_grade(of).shear / 1000,
    "modulus of wire [GPa]": lambda of: wire_grade(of).young / 1000,
    "wire [mm]": wire,
    "solidus [C]": lambda of: brazing_alloy(of).solidus,
    "liquidus [C]": lambda of: brazing_alloy(of).liquidus,
    "silver [%]": lambda of: brazing_alloy(of).parts["Ag"],
    "copper [%]": lambda of: brazing_alloy(of).parts["Cu"],
    "spindle speed [1/min]": _rpm,
    "socket head diameter [mm]": _part(socket_screws.METRIC, "head diameter"),
    "socket head height [mm]": _part(socket_screws.METRIC, "head height"),
    "socket head diameter [inch]": _part(socket_screws.INCH, "head diameter", INCH),
    "hexagon key [mm]": _part(socket_screws.METRIC, "hexagon key"),
    "hexagon key [inch]": _part(socket_screws.INCH, "hexagon key", INCH),
    "counterbore [mm]": _part(socket_screws.METRIC, "counterbore"),
    "counterbore depth [mm]": _part(socket_screws.METRIC, "counterbore depth"),
    "countersunk socket head, sharp [mm]": _part(countersunk_screws.SOCKET, "head diameter, sharp"),
    "countersunk socket head height [mm]": _part(countersunk_screws.SOCKET, "head height"),
    "slotted countersunk head [mm]": _part(countersunk_screws.SLOTTED, "head diameter, most"),
    "slotted countersunk head height [mm]": _part(countersunk_screws.SLOTTED, "head height"),
    "flat head, sharp [inch]": _part(countersunk_screws.INCH, "head diameter, sharp", INCH),
    "hexagon across flats [mm]": _part(hexagons.METRIC, hexagons.FLATS),
    "hexagon nut thickness [mm]": _part(hexagons.METRIC, "nut thickness"),
    "hexagon head height [mm]": _part(hexagons.METRIC, "head height"),
    "BA hexagon across flats [inch]": _part(hexagons.BA, hexagons.FLATS, INCH),
    "Whitworth hexagon across flats [inch]": _part(hexagons.WHITWORTH, hexagons.FLATS, INCH),
    "unified hexagon head [inch]": _part(hexagons.UNIFIED, "head " + hexagons.FLATS, INCH),
    "washer inside [mm]": _part(washers.METRIC, "inside"),
    "Morse taper large end [inch]": _part(machine_tapers.TABLE, "large end", INCH),
    "Morse taper small end [inch]": _part(machine_tapers.TABLE, "small end", INCH),
    "Morse taper half angle [degree]": lambda of: machine_tapers.half_angle(int(of)),
    "taper pin, large end [inch]": _part(taper_pins.INCH, "large end", INCH),
    "key width [mm]": _key("key width"),
    "key height [mm]": _key("key height"),
    "keyway in the shaft [mm]": _key("keyway in the shaft"),
    "keyway in the hub [mm]": _key("keyway in the hub"),
    "circlip groove, shaft [mm]": _part(circlips.SHAFT, "groove diameter"),
    "circlip groove width, shaft [mm]": _part(circlips.SHAFT, "groove width"),
    "circlip groove, bore [mm]": _part(circlips.BORE, "groove diameter"),
    "circlip groove width, bore [mm]": _part(circlips.BORE, "groove width"),
    "O-ring inside [inch]": _part(o_rings.TABLE, "inside diameter", INCH),
    "O-ring groove, at rest [inch]": lambda of: o_rings.GROOVES[float(of)][1],
    "O-ring groove width [inch]": lambda of: o_rings.GROOVES[float(of)][2],
    "bearing bore [mm]": _part(ball_bearings.TABLE, "bore"),
    "bearing outside [mm]": _part(ball_bearings.TABLE, "outside"),
    "bearing width [mm]": _part(ball_bearings.TABLE, "width"),
    "tube wall BWG [inch]": lambda of: sheet_gauges.BWG[int(of)],
    "AWG [inch]": lambda of: sheet_gauges.awg(int(of)),
    "steel sheet gauge [inch]": lambda of: sheet_gauges.STEEL[int(of)],
    "pieces in the set": lambda of: len(gauge_set(of).sizes),
}

with (Path(__file__).parent / "outside.csv").open() as file:
    CHECKS = list(csv.DictReader(file))


@pytest.mark.parametrize("what", sorted({check["what"] for check in CHECKS}))
def test_handbook_agrees_with_what_is_printed_elsewhere(what: str) -> None:
    wrong = [
        f"{check['of']}: {found:g}, printed {check['value']} ({check['source']})"
        for check in CHECKS
        if check["what"] == what
        if abs((found := ASK[what](check["of"])) - float(check["value"]))
        > float(check["within"]) + 1e-9
    ]
    assert wrong == []


def test_there_are_at_least_150_checks_looked_up_outside() -> None:
    assert sum(check["how"] == "looked up" for check in CHECKS) >= 150
