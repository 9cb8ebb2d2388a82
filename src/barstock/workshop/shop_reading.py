"""Reads workshop.yaml: everything the shop owns, every fault placed, all in one run."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import get_args

from barstock.handbook.gauge_blocks import GAUGE_SETS
from barstock.quantities import Unit
from barstock.reading.faults import Fault, Place, in_order, nearest
from barstock.reading.fields import as_far
from barstock.reading.nodes import Entry, Listing, Node, Table, Text, read_nodes
from barstock.reading.sizes import Sizes
from barstock.workshop.hearth_reading import read_hearth, read_screws
from barstock.workshop.holding_kits import KITS, Kit
from barstock.workshop.machine_fields import read_machine
from barstock.workshop.rack import read_rack
from barstock.workshop.series import series
from barstock.workshop.shop import (
    Instrument,
    Machine,
    ShopTimes,
    Vise,
    Workshop,
)
from barstock.workshop.shop_fields import TIMES, HoldingFields, Instruments, WorkshopFields
from barstock.workshop.tool_lists import read_tools

FILE = "workshop.yaml"
LISTS = frozenset({"tools", "rack", "screws"})
"""Sections of things that do not rest on each other."""
RODS = {"depth micrometer": 4.0, "caliper": 2.0}
"""How wide the rod is that an instrument puts down a hole [mm]. Common practice."""


def find_workshop(folder: Path, shared: str | None = None) -> Path:
    """The file of the workshop for a build: the folder's own, else the shared one the build names
    (its path from the folder).
    """
    own = folder / FILE
    return own if shared is None or own.exists() else folder / shared


@dataclass(frozen=True)
class ShopReading:
    """A workshop as read; None where anything is wrong. faults: in order.

    as_read: with what can be read of it, None where nothing can. doubtful: the names of its
    sections that a fault is in.
    """

    workshop: Workshop | None
    faults: tuple[Fault, ...]
    as_read: Workshop | None = None
    doubtful: frozenset[str] = frozenset()

    @property
    def readable(self) -> Workshop | None:
        """What to plan with: one tool or bar less does no harm, a machine misread would."""
        return self.as_read if self.doubtful <= LISTS else None


def read_workshop(path: Path) -> tuple[Workshop | None, tuple[Fault, ...]]:
    """The workshop of a file, None where anything in it is wrong; and its faults, in order.

    Never raises for what the user wrote.
    """
    reading = read_shop(path)
    return reading.workshop, reading.faults


def read_shop(path: Path) -> ShopReading:
    """The workshop of a file as far as it can be read."""
    table, faults = read_nodes(path)
    if table is None:
        return ShopReading(None, in_order(faults))
    slips = len(faults)
    fields, found = as_far(WorkshopFields, table, table.place, "workshop")
    faults += found
    if fields is None:
        return ShopReading(None, in_order(faults))
    shop = _Reader(table, fields, faults).workshop()
    doubtful = frozenset(_section(table, fault) for fault in faults[slips:])
    return ShopReading(None if faults else shop, in_order(faults), shop, doubtful)


def _section(table: Table, fault: Fault) -> str:
    """The name in the file's outermost table that a fault stands under."""
    above = [name for name, e in table.entries.items() if e.place.line <= fault.place.line]
    return above[-1] if above else ""


@dataclass
class _Reader:
    """One reading of one file."""

    table: Table
    fields: WorkshopFields
    faults: list[Fault] = field(default_factory=list)

    def workshop(self) -> Workshop:
        fields, sizes = self.fields, self._sizes(self.fields.unit)
        holding = self._within(self.table, "holding")
        how = fields.holding or HoldingFields.model_validate({})
        return Workshop(
            name=fields.workshop,
            machines=self._machines(),
            vises=self._vises(holding, sizes),
            parallels=self._parallels(holding, sizes),
            tools=tuple(read_tools(self._within(self.table, "tools"), sizes)),
            instruments=self._instruments(sizes),
            rack=tuple(read_rack(self._within(self.table, "rack"), sizes)),
            times=self._times(),
            parallel_thickness=self._length(holding, "parallel thickness", sizes, 3.0),
            stop_repeat=self._length(holding, "stop repeats", sizes, 0.03),
            vise_repeat=self._length(holding, "vise repeats", sizes, 0.02),
            sine_bar=self._length(holding, "sine bar", sizes, 0.0),
            tilting_table=self._angle(holding, "tilting table", sizes),
            kits=tuple(
                self._sized(one, kit, sizes)
                for kit in KITS
                if getattr(how, kit.__name__.lower())
                for one in self._written_kits(holding, kit)
            ),
            fixture_block=self._block(holding, sizes),
            borrow=fields.borrow,
            unit=fields.unit,
            hearth=(
                read_hearth(self._within(self.table, "hearth"), fields.hearth, sizes)
                if fields.hearth
                else None
            ),
            screws=tuple(read_screws(self._within(self.table, "screws"), sizes)),
        )

    def _machines(self) -> tuple[Machine, ...]:
        written = self._within(self.table, "machines").entries
        found = []
        for name, fields in self.fields.machines.items():
            entry = written[name]
            if isinstance(entry.value, Table):
                sizes = self._sizes(fields.unit or self.fields.unit)
                found.append(read_machine(name, fields, entry.value, sizes))
        return tuple(found)

    def _vises(self, holding: Table, sizes: Sizes) -> tuple[Vise, ...]:
        found = []
        for name, entry in self._within(holding, "vises").entries.items():
            if not isinstance(entry.value, Table):
                continue
            jaws = [
                self._length(entry.value, each, sizes, 0.0, positive=True)
                for each in ("jaw width", "jaw depth", "opening")
            ]
            found.append(Vise(name, *jaws))
        return tuple(found)

    def _parallels(self, holding: Table, sizes: Sizes) -> tuple[float, ...]:
        heights = {
            size.value for node in _items(holding, "parallels") for size in series(node, sizes)
        }
        for node in _items(holding, "adjustable parallels"):
            low, high = self._range(node, sizes)
            heights |= {float(whole) for whole in range(int(-(-low // 1)), int(high) + 1)}
        return tuple(sorted(heights))

    def _written_kits(self, holding: Table, kit: type[Kit]) -> list[Table]:
        """The tables of sizes of what holds work: one, or as many as are listed."""
        tables = [one for one in _items(holding, kit.written) if isinstance(one, Table)]
        return tables or [self._within(holding, kit.written)]

    def _sized(self, written: Table, kit: type[Kit], sizes: Sizes) -> Kit:
        """What holds work, of the usual sizes but for those written."""
        own = {
            item.name: self._length(written, item.called, sizes, item.usual, positive=True)
            for item in kit.sizes()
        }
        return kit(**own)

    def _instruments(self, sizes: Sizes) -> tuple[Instrument, ...]:
        found = []
        for name, entry in self._within(self.table, "measuring").entries.items():
            fields = self.fields.measuring.get(name)
            if fields is None or not isinstance(entry.value, Table):
                continue
            kind = fields.kind or _kind(name)
            if not kind:
                what = f"'{name}' does not say what kind of measuring tool it is"
                mend = f"add 'kind: …', one of {', '.join(get_args(Instruments))}"
                self._fault(entry.place, what, mend)
            angular = kind == "protractor"
            low, high = (0.0, 0.0) if angular else self._range_of(entry.value, sizes)
            owned = {
                size.value for node in _items(entry.value, "sizes") for size in series(node, sizes)
            }
            owned |= set(GAUGE_SETS[fields.set].mm) if fields.set else set()
            read = self._angle if angular else self._length
            step = read(entry.value, "reads", sizes)
            rod = self._length(entry.value, "rod", sizes, RODS.get(kind, 0.0))
            found.append(Instrument(name, kind, step, low, high, tuple(sorted(owned)), rod))
        return tuple(found)

    def _times(self) -> ShopTimes:
        written = self._within(self.table, "times").entries
        for name in self.fields.times.keys() - TIMES.keys():
            self._fault(written[name].place, f"there is no time '{name}'", nearest(name, TIMES))
        known = {TIMES[name]: value for name, value in self.fields.times.items() if name in TIMES}
        return ShopTimes(**known)

    # -- pieces ---------------------------------------------------------------------------------

    def _range_of(self, table: Table, sizes: Sizes) -> tuple[float, float]:
        entry = table.entries.get("range")
        return self._range(entry.value, sizes) if entry else (0.0, 0.0)

    def _range(self, node: Node, sizes: Sizes) -> tuple[float, float]:
        ends = re.split(r"\s+to\s+", node.text.strip()) if isinstance(node, Text) else []
        if len(ends) != 2:
            self._fault(node.place, "this is no range", "write it like '0 to 25'")
            return 0.0, 0.0
        low, high = (sizes.length(Text(node.place, end)) for end in ends)
        if low is None or high is None:
            return 0.0, 0.0
        if not 0 <= low < high <= 10_000:
            self._fault(node.place, "this range runs backwards or too far", "check both ends")
            return 0.0, 0.0
        return low, high

    def _length(
        self, table: Table, name: str, sizes: Sizes, default: float = 0.0, positive: bool = False
    ) -> float:
        entry = table.entries.get(name)
        value = sizes.length(entry.value) if entry else None
        if entry is None or value is None:
            return default
        if value < 0 or (positive and value == 0):
            self._fault(entry.value.place, f"'{name}' must be more than 0", "check the figure")
            return default
        return value

    def _angle(self, table: Table, name: str, sizes: Sizes) -> float:
        entry = table.entries.get(name)
        angle = sizes.angle(entry.value) if entry else None
        if entry and angle and not 0 < angle.nominal <= 90:
            self._fault(entry.value.place, f"'{name}' is no such angle", "give up to 90 degrees")
        return angle.nominal if angle else 0.0

    def _block(self, table: Table, sizes: Sizes) -> tuple[float, float, float] | None:
        entry = table.entries.get("fixture block")
        if entry is None or not isinstance(entry.value, Text):
            return None
        node = entry.value
        sides = node.text.replace("×", "x").split("x")
        if len(sides) != 3:
            what = f"'{node.text}' is no block"
            self._fault(node.place, what, "write length, width, thickness: 120 x 60 x 25")
            return None
        long, wide, thick = (sizes.length(Text(node.place, side.strip())) for side in sides)
        if not (long and wide and thick) or min(long, wide, thick) <= 0:
            return None
        return (long, wide, thick)

    def _within(self, table: Table, name: str) -> Table:
        """The table under a name, empty where there is none (a wrong one is already reported)."""
        entry = table.entries.get(name, Entry(table.place, table))
        inside = entry.value if name in table.entries else None
        return inside if isinstance(inside, Table) else Table(table.place)

    def _sizes(self, unit: Unit) -> Sizes:
        return Sizes(unit, self._fault)

    def _fault(self, place: Place, what: str, mend: str) -> None:
        self.faults.append(Fault(place, what, mend))


def _items(table: Table, name: str) -> tuple[Node, ...]:
    entry = table.entries.get(name)
    if entry is None:
        return ()
    return entry.value.items if isinstance(entry.value, Listing) else (entry.value,)


def _kind(name: str) -> str:
    """The kind of measuring tool that a name speaks of, or ""."""
    named = [str(kind) for kind in get_args(Instruments) if kind in name.lower()]
    return max(named, key=len, default="")
