"""The user's shop: machines, tools, holding, measuring, rack and time figures. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import TypeVar

from barstock.quantities import Unit
from barstock.workshop.holding_kits import Kit

K = TypeVar("K", bound=Kit)


class MachineKind(StrEnum):
    """The kinds of machine, as workshop.yaml names them."""

    MILL = "mill"
    DRILL_PRESS = "drill press"
    LATHE = "lathe"
    SAW = "saw"
    BENCH = "bench"


class ToolKind(StrEnum):
    """The kinds of tool, as workshop.yaml names them."""

    END_MILL = "end mill"
    SPOT_DRILL = "spot drill"
    DRILL = "drill"
    REAMER = "reamer"
    TAP = "tap"
    COUNTERSINK = "countersink"
    COUNTERBORE = "counterbore"
    BORING_HEAD = "boring head"
    SLITTING_SAW = "slitting saw"
    EDGE_FINDER = "edge finder"
    FILE = "file"
    SAW_BLADE = "saw blade"


class Holder(StrEnum):
    """The ways a tool is held in the spindle; a change of tool costs by its holder."""

    COLLET = "collet"
    CHUCK = "chuck"
    ARBOR = "arbor"
    HAND = "hand"


@dataclass(frozen=True)
class Axis:
    """How one axis of a machine is read. readout: step [mm] or None where only a handwheel.

    per_turn [mm], divisions: of the handwheel; backlash [mm]; unit: of its graduations.
    """

    travel: float
    readout: float | None = None
    per_turn: float = 0.0
    divisions: int = 0
    backlash: float = 0.0
    unit: Unit = Unit.MM


@dataclass(frozen=True)
class Machine:
    """A machine tool. speeds: the spindle's steps [rpm], or (slowest, fastest) with stepless True.

    daylight: greatest height from vise bed to spindle nose [mm].
    """

    name: str
    kind: MachineKind
    speeds: tuple[float, ...] = ()
    stepless: bool = False
    x: Axis | None = None
    y: Axis | None = None
    z: Axis | None = None
    daylight: float = 0.0
    kerf: float = 0.0


@dataclass(frozen=True)
class Vise:
    """A machine vise. jaw_width along the work, jaw_depth from bed to jaw top, opening [mm]."""

    name: str
    jaw_width: float
    jaw_depth: float
    opening: float


@dataclass(frozen=True)
class Tool:
    """A cutting tool. diameter: cutting (a tap's: major) [mm]. flute: length that cuts [mm].

    reach: sticks out of the holder [mm]. shank [mm]. point: included angle at the tip [degrees],
    180 for a flat end. thread: of a tap. teeth: flutes. centre_cutting: may plunge.
    """

    name: str
    kind: ToolKind
    diameter: float
    flute: float
    reach: float
    shank: float
    point: float = 180.0
    holder: Holder = Holder.COLLET
    material: str = "HSS"
    thread: str = ""
    teeth: int = 2
    centre_cutting: bool = True
    lead: float = 0.0
    bores: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True)
class Instrument:
    """A measuring tool: kind such as caliper, micrometer, depth micrometer, gauge blocks, pins.

    step: least reading [mm]; low, high: range [mm]; sizes: of a set [mm]; rod: across what goes
    down into a hole to find its depth [mm], 0 where nothing does.
    """

    name: str
    kind: str
    step: float = 0.0
    low: float = 0.0
    high: float = 0.0
    sizes: tuple[float, ...] = ()
    rod: float = 0.0


@dataclass(frozen=True)
class BarStock:
    """A bar on the rack. shape: "rectangle" (width x height) or "round" (width = diameter) [mm].

    tolerance: (lower, upper) deviations the bar comes with [mm]. Not on hand (`to_buy`) bars may be
    planned and are then listed to buy.
    """

    name: str
    material: str
    shape: str
    width: float
    height: float
    length: float
    count: int = 1
    tolerance: tuple[float, float] = (-0.1, 0.0)
    to_buy: bool = False


@dataclass(frozen=True)
class FillerRod:
    """Filler on hand. alloy: the handbook's name; diameter [mm]."""

    alloy: str
    diameter: float


@dataclass(frozen=True)
class Pickle:
    """The pickle: its bath's handbook name; is it kept warm; how many large things it takes at
    once.
    """

    bath: str
    heated: bool = True
    takes: int = 1


@dataclass(frozen=True)
class Hearth:
    """Where work is silver soldered. power: of the torch [W], or gas: propane it burns [g/h], 0
    where not given; bricks: to pack round the work; fluxes: handbook names."""

    power: float = 0.0
    gas: float = 0.0
    bricks: bool = True
    rods: tuple[FillerRod, ...] = ()
    fluxes: tuple[str, ...] = ()
    pickle: Pickle | None = None


@dataclass(frozen=True)
class StockScrews:
    """Screws on hand of a thread. lengths [mm]; of: steel or brass."""

    thread: str
    lengths: tuple[float, ...]
    of: str = "steel"


@dataclass(frozen=True)
class ShopTimes:
    """The shop's own time figures [minutes]; every one can be edited in workshop.yaml."""

    set_up: float = 12.0
    tilt: float = 8.0
    find_zero: float = 4.0
    press: float = 5.0
    load: float = 1.2
    clamp: float = 4.0
    saw_each: float = 3.0
    measure: float = 0.8
    first_off: float = 3.0
    change_collet: float = 1.5
    change_chuck: float = 0.8
    change_arbor: float = 4.0
    head_move: float = 3.0
    touch_off: float = 0.6
    move: float = 0.25
    file_per_100mm: float = 8.0
    tap_hole: float = 1.5
    deburr: float = 0.7
    heat: float = 20.0
    strip_down: float = 30.0
    turn_over: float = 5.0
    clean: float = 10.0


@dataclass(frozen=True)
class Workshop:
    """Everything the shop owns.

    kits: what work is held by besides vises. fixture_block: length, width, thickness [mm]. unit:
    that it buys its tools in.
    """

    name: str
    machines: tuple[Machine, ...]
    vises: tuple[Vise, ...]
    parallels: tuple[float, ...]
    tools: tuple[Tool, ...]
    instruments: tuple[Instrument, ...]
    rack: tuple[BarStock, ...]
    times: ShopTimes = field(default_factory=ShopTimes)
    parallel_thickness: float = 3.0
    stop_repeat: float = 0.03
    vise_repeat: float = 0.02
    sine_bar: float = 0.0
    tilting_table: float = 0.0
    kits: tuple[Kit, ...] = ()
    fixture_block: tuple[float, float, float] | None = None
    borrow: bool = True
    unit: Unit = Unit.MM
    hearth: Hearth | None = None
    screws: tuple[StockScrews, ...] = ()

    @property
    def finder(self) -> float:
        """The diameter of the edge finder that zeros are found with [mm], 0 where there is none."""
        found = (tool.diameter for tool in self.tools if tool.kind is ToolKind.EDGE_FINDER)
        return next(found, 0.0)

    def kit(self, sort: type[K]) -> K | None:
        """What it owns of that sort to hold work by, or None."""
        return next((kit for kit in self.kits if isinstance(kit, sort)), None)

    def all_of(self, sort: type[K]) -> list[K]:
        """All that it owns of that sort to hold work by."""
        return [kit for kit in self.kits if isinstance(kit, sort)]

    def machine(self, kind: MachineKind) -> Machine | None:
        """The first machine of that kind, or None."""
        return next((m for m in self.machines if m.kind is kind), None)
