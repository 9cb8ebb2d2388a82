"""Reads tools written short: a list of sizes stands for whole tools of the usual make."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from barstock.handbook.cutter_lengths import DRILL, END_MILL, REAMER, TAP, usual_flute
from barstock.handbook.slitting_saws import COLLAR_SHARE
from barstock.quantities import Unit
from barstock.reading.faults import Place
from barstock.reading.fields import validate
from barstock.reading.nodes import Entry, Listing, Node, Table, Text, sort
from barstock.reading.sizes import Sizes
from barstock.workshop.series import Size, label, series
from barstock.workshop.shop import Holder, Tool, ToolKind
from barstock.workshop.shop_fields import ToolFields

IN_HOLDER = 6.0
"""How far a tool usually stands out of its holder beyond its flutes [mm]; common practice."""


def _end_mill(name: str, d: float) -> Tool:
    flute = usual_flute(END_MILL, d)
    shank = max(6.0, d)
    return Tool(name, ToolKind.END_MILL, d, flute, flute + IN_HOLDER, shank, teeth=4,
                centre_cutting=False)  # fmt: skip


def _slot_drill(name: str, d: float) -> Tool:
    return replace(_end_mill(name, d), teeth=2, centre_cutting=True)


def _drill(name: str, d: float) -> Tool:
    flute = usual_flute(DRILL, d)
    return Tool(name, ToolKind.DRILL, d, flute, flute + IN_HOLDER, d, 118.0, Holder.CHUCK)


def _reamer(name: str, d: float) -> Tool:
    flute = usual_flute(REAMER, d)
    return Tool(name, ToolKind.REAMER, d, flute, flute + 25.0, d, 180.0, Holder.CHUCK, teeth=6)


def _spot_drill(name: str, d: float) -> Tool:
    return Tool(name, ToolKind.SPOT_DRILL, d, 1.5 * d, 25.0, d, 90.0, Holder.CHUCK)


def _countersink(name: str, d: float) -> Tool:
    return Tool(
        name, ToolKind.COUNTERSINK, d, d / 2, 25.0, min(d, 8.0), 90.0, Holder.CHUCK, teeth=3
    )


def _counterbore(name: str, d: float) -> Tool:
    return Tool(name, ToolKind.COUNTERBORE, d, 1.5 * d, 35.0, d, holder=Holder.CHUCK, teeth=3)


def _slitting_saw(name: str, d: float) -> Tool:
    collar = COLLAR_SHARE * d
    return Tool(name, ToolKind.SLITTING_SAW, d, 1.0, 40.0, collar, holder=Holder.ARBOR, teeth=64,
                centre_cutting=False)  # fmt: skip


def _edge_finder(name: str, d: float) -> Tool:
    return Tool(name, ToolKind.EDGE_FINDER, d, d, 30.0, d, teeth=0, centre_cutting=False)


def _boring_head(name: str, d: float) -> Tool:
    return Tool(name, ToolKind.BORING_HEAD, d, 40.0, 50.0, 12.0, teeth=1, centre_cutting=False,
                bores=(d, 50.0))  # fmt: skip


def _tap(name: str, d: float) -> Tool:
    flute = usual_flute(TAP, d)
    return Tool(name, ToolKind.TAP, d, flute, flute + 20.0, 0.8 * d, holder=Holder.HAND, teeth=3,
                centre_cutting=False)  # fmt: skip


@dataclass(frozen=True)
class Sort:
    """A sort of tool as written: the heading, what one is called, how it is usually made."""

    heading: str
    called: str
    make: Callable[[str, float], Tool]


SORTS = {
    sort.heading: sort
    for sort in (
        Sort("end mills", "end mill", _end_mill),
        Sort("slot drills", "slot drill", _slot_drill),
        Sort("spot drills", "spot drill", _spot_drill),
        Sort("drills", "drill", _drill),
        Sort("reamers", "reamer", _reamer),
        Sort("taps", "tap", _tap),
        Sort("countersinks", "countersink", _countersink),
        Sort("counterbores", "counterbore", _counterbore),
        Sort("boring heads", "boring head", _boring_head),
        Sort("slitting saws", "slitting saw", _slitting_saw),
        Sort("edge finders", "edge finder", _edge_finder),
    )
}
HAND_TOOLS = {"files": ToolKind.FILE, "saw blades": ToolKind.SAW_BLADE}


def read_tools(table: Table, sizes: Sizes) -> list[Tool]:
    """Every tool under `tools:`; faults are reported through `sizes`."""
    read = [
        (tool, node)
        for heading, entry in table.entries.items()
        for node in (entry.value.items if isinstance(entry.value, Listing) else (entry.value,))
        for tool in _tools(heading, node, sizes)
    ]
    alike: dict[str, list[Tool]] = {}
    for tool, node in read:
        if not _is_named(node):
            others = alike.setdefault(tool.name, [])
            others += [] if tool in others else [tool]
    found: dict[str, Tool] = {}
    for tool, node in read:
        if not _is_named(node):
            tool = replace(tool, name=_told_apart(tool, alike[tool.name], sizes.unit))
        if tool.name in found and found[tool.name] != tool:
            what = f"two different tools are called '{tool.name}'"
            sizes.report(node.place, what, "give one of them a 'name'")
        found.setdefault(tool.name, tool)
    return list(found.values())


def _is_named(node: Node) -> bool:
    """Has the shop given the tool a name of its own?"""
    return isinstance(node, Table) and "name" in node.entries


def _told_apart(tool: Tool, alike: list[Tool], unit: Unit) -> str:
    """The name of one of several tools of a kind and size: with what tells it from the others."""
    name, left = tool.name, alike
    for marks in (_marks(each, unit) for each in _MARKED):
        if len({marks(each) for each in left}) > 1:
            name = f"{name}, {marks(tool)}"
            left = [each for each in left if marks(each) == marks(tool)]
    return name


_MARKED = (
    "flute",
    "point",
    "bores",
    "teeth",
    "material",
    "shank",
    "reach",
    "holder",
    "centre_cutting",
)
"""What tools of a kind and size are told apart by, the plainest first."""


def _marks(what: str, unit: Unit) -> Callable[[Tool], str]:
    """How a tool's make is told in one respect."""

    def told(tool: Tool) -> str:
        if what == "flute" and tool.kind is ToolKind.SLITTING_SAW:
            return f"{label(tool.flute, unit)} thick"
        return {
            "flute": f"flutes {label(tool.flute, unit)}",
            "point": f"{tool.point:g}°",
            "bores": f"bores to {label(tool.bores[1], unit)}",
            "teeth": f"{tool.teeth} teeth",
            "material": tool.material,
            "shank": f"shank {label(tool.shank, unit)}",
            "reach": f"reaching {label(tool.reach, unit)}",
            "holder": f"in a {tool.holder}",
            "centre_cutting": "centre cutting" if tool.centre_cutting else "not centre cutting",
        }[what]

    return told


def _tools(heading: str, node: Node, sizes: Sizes) -> list[Tool]:
    if heading in HAND_TOOLS:
        if isinstance(node, Text):
            kind = HAND_TOOLS[heading]
            return [Tool(node.text, kind, 0.0, 0.0, 0.0, 0.0, holder=Holder.HAND)]
        sizes.report(node.place, f"{sort(node)} stands where a name is wanted", "")
        return []
    kind_of = SORTS.get(heading)
    if kind_of is None:
        return []
    if isinstance(node, Text):
        return [_made(kind_of, size) for size in _sizes(kind_of, node, sizes)]
    if not isinstance(node, Table):
        return []  # already reported
    fields, faults = validate(ToolFields, node, node.place, kind_of.called)
    if fields is None or faults:  # already reported with the whole file
        return []
    tools = _sizes(kind_of, node.entries["size"].value, sizes)
    return [_altered(_made(kind_of, size), node, fields, sizes) for size in tools]


def _sizes(kind_of: Sort, node: Node, sizes: Sizes) -> list[Size]:
    if kind_of.heading != "taps":
        return series(node, sizes)
    from barstock.handbook.threads import thread

    name = node.text.strip() if isinstance(node, Text) else ""
    try:
        return [Size(name, thread(name).major)]
    except LookupError as wrong:
        sizes.report(node.place, str(wrong.args[0]), "")
        return []


def _made(kind_of: Sort, size: Size) -> Tool:
    tool = kind_of.make(f"{kind_of.called} {size.label}", size.value)
    return replace(tool, thread=size.label) if tool.kind is ToolKind.TAP else tool


def _altered(tool: Tool, node: Table, fields: ToolFields, sizes: Sizes) -> Tool:
    """The usual tool with what the shop says of its own."""
    changes: dict[str, Any] = {}
    for name in ("flute", "reach", "shank"):
        value = _length(node.entries.get(name), sizes)
        if value is not None:
            changes[name] = value
    if "flute" in changes and "reach" not in changes:
        changes["reach"] = max(tool.reach, changes["flute"] + IN_HOLDER)
    thickness = _length(node.entries.get("thickness"), sizes)
    if thickness is not None:
        changes["flute"] = thickness
    collar = _length(node.entries.get("collar"), sizes)
    if collar is not None:
        changes["shank"] = collar
    largest = _length(node.entries.get("largest bore"), sizes)
    if largest is not None:
        changes["bores"] = (tool.diameter, largest)
    if "angle" in node.entries:
        angle = sizes.angle(node.entries["angle"].value)
        changes["point"] = angle.nominal if angle else tool.point
    if fields.name:
        changes["name"] = fields.name
    for name, given in (("teeth", fields.teeth), ("centre_cutting", fields.centre_cutting),
                        ("holder", fields.holder), ("material", fields.material)):  # fmt: skip
        if given is not None:
            changes[name] = given
    made = replace(tool, **changes)
    if made.reach < made.flute and made.kind is not ToolKind.SLITTING_SAW:
        place = node.entries.get("reach", Entry(node.place, node)).value.place
        _too_short(place, made, sizes)
    return made


def _too_short(place: Place, tool: Tool, sizes: Sizes) -> None:
    what = f"{tool.name} stands out {tool.reach:g} mm, less than its flutes, {tool.flute:g} mm"
    sizes.report(place, what, "give a 'reach' of at least that")


def _length(entry: Entry | None, sizes: Sizes) -> float | None:
    value = sizes.length(entry.value) if entry else None
    if entry and value is not None and value <= 0:
        sizes.report(entry.value.place, "this must be more than 0", "check the figure")
        return None
    return value
