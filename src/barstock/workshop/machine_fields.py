"""Reads machines as written: spindle speeds, travels, readouts and handwheels."""

from __future__ import annotations

import re
from collections.abc import Mapping

from barstock.reading.nodes import Listing, Node, Table, Text
from barstock.reading.sizes import Sizes
from barstock.workshop.shop import Axis, Machine, MachineKind
from barstock.workshop.shop_fields import Handwheel, HandwheelByAxis, MachineFields

WANTED: Mapping[MachineKind, Mapping[str, str]] = {
    MachineKind.MILL: {
        "speeds": "'100 to 2500', or the steps in a list",
        "travel": "{x: …, y: …, z: …}",
        "daylight": "the most room from vise bed to spindle nose",
    }
}
"""What must be written of a machine, each with how it is written."""


def read_machine(name: str, fields: MachineFields, table: Table, sizes: Sizes) -> Machine:
    """The machine written in a table; faults are reported through `sizes`."""
    speeds, stepless = _speeds(table, sizes)
    for wanted, how in WANTED.get(fields.kind, {}).items():
        if wanted not in table.entries:
            what = f"'{wanted}' is missing in {fields.kind} '{name}'"
            sizes.report(table.place, what, f"add '{wanted}': {how}")
    return Machine(
        name=name,
        kind=fields.kind,
        speeds=speeds,
        stepless=stepless,
        x=_axis("x", fields, table, sizes),
        y=_axis("y", fields, table, sizes),
        z=_axis("z", fields, table, sizes),
        daylight=_positive(table, "daylight", sizes) or 0.0,
        kerf=_positive(table, "kerf", sizes) or 0.0,
    )


def _speeds(table: Table, sizes: Sizes) -> tuple[tuple[float, ...], bool]:
    entry = table.entries.get("speeds")
    if entry is None:
        return (), False
    node = entry.value
    if isinstance(node, Listing):
        found = [_rpm(item, sizes) for item in node.items]
        return tuple(sorted(rpm for rpm in found if rpm)), False
    ends = re.split(r"\s+to\s+", node.text.strip()) if isinstance(node, Text) else []
    if len(ends) == 1:
        rpm = _rpm(node, sizes)
        return ((rpm,) if rpm else ()), False
    found = [_rpm(Text(node.place, end), sizes) for end in ends]
    if len(found) != 2 or (found[0] and found[1] and found[0] >= found[1]):
        sizes.report(node.place, "this is no range of speeds", "write it like '100 to 2500'")
        return (), False
    return tuple(rpm for rpm in found if rpm), True


def _rpm(node: Node, sizes: Sizes) -> float | None:
    text = node.text.strip().lower().removesuffix("rpm").strip() if isinstance(node, Text) else ""
    if not re.fullmatch(r"\d{1,6}(\.\d+)?", text, re.ASCII) or float(text) <= 0:
        sizes.report(node.place, f"'{text}' is no spindle speed", "give turns a minute, e.g. 400")
        return None
    return float(text)


def _axis(name: str, fields: MachineFields, table: Table, sizes: Sizes) -> Axis | None:
    travel = _inside(table, "travel")
    if travel is None or name not in travel.entries:
        return None
    readout = table.entries.get("readout")
    step = None
    if readout and isinstance(readout.value, Table):
        step = _positive(readout.value, name, sizes)
    elif readout:
        step = _positive(table, "readout", sizes)
    wheel, wheel_table = _wheel(name, fields, table)
    if step is None and wheel is None:
        what = f"the {name} axis has neither a readout nor a handwheel"
        mend = "add 'readout: …' or 'handwheel: {per turn: …, divisions: …}'"
        sizes.report(travel.entries[name].place, what, mend)
    return Axis(
        travel=_positive(travel, name, sizes) or 0.0,
        readout=step,
        per_turn=(_positive(wheel_table, "per turn", sizes) or 0.0) if wheel_table else 0.0,
        divisions=wheel.divisions if wheel else 0,
        backlash=_backlash(wheel_table, sizes) if wheel_table else 0.0,
        unit=sizes.unit,
    )


def _wheel(name: str, fields: MachineFields, table: Table) -> tuple[Handwheel | None, Table | None]:
    """The handwheel of an axis, and the table it is written in."""
    wheel, written = fields.handwheel, _inside(table, "handwheel")
    if isinstance(wheel, HandwheelByAxis):
        return getattr(wheel, name), _inside(written, name) if written else None
    return wheel, written


def _backlash(table: Table, sizes: Sizes) -> float:
    entry = table.entries.get("backlash")
    value = sizes.length(entry.value) if entry else None
    if entry and value is not None and value < 0:
        sizes.report(entry.value.place, "the backlash cannot be less than 0", "check the figure")
    return value or 0.0


def _positive(table: Table, name: str, sizes: Sizes) -> float | None:
    entry = table.entries.get(name)
    value = sizes.length(entry.value) if entry else None
    if entry and value is not None and value <= 0:
        sizes.report(entry.value.place, f"'{name}' must be more than 0", "check the figure")
        return None
    return value


def _inside(table: Table, name: str) -> Table | None:
    entry = table.entries.get(name)
    return entry.value if entry and isinstance(entry.value, Table) else None
