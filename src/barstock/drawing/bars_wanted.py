"""Finds what a build asks of a workshop that its rack cannot give."""

from __future__ import annotations

from collections.abc import Collection

from barstock.drawing.bar_wanted import SAME, TURNED, is_named
from barstock.drawing.build import Build, Fault, Part, Pin
from barstock.quantities import show
from barstock.reading.faults import in_order, nearest
from barstock.workshop.shop import Workshop

SAWN = 1.5
"""Least spare length of a bar beyond the part, to square both ends [mm]; common practice."""


def check_against(
    build: Build,
    workshop: Workshop,
    doubtful: Collection[str] = (),
    unbarred: Collection[str] = (),
) -> tuple[Fault, ...]:
    """Bars, vises and tools named in the build that the workshop has not got; bars too short.

    doubtful: sections of the workshop's file that cannot be read whole: nothing is missed there.
    unbarred: parts of which it is known that they do not come out of the bar they name.
    """
    planned = [part for part in build.parts if part.made is None and part.material]
    asked = [part for part in planned if part.name not in unbarred]
    bars = [fault for part in asked for fault in _bar_faults(part, workshop)]
    pins = [
        fault
        for pin in build.pins
        if ("holding" if pin.rule == "vise" else "tools") not in doubtful
        for fault in _pin_faults(pin, workshop)
    ]
    return in_order([*(bars if "rack" not in doubtful else ()), *pins])


def _pin_faults(pin: Pin, workshop: Workshop) -> list[Fault]:
    tools = [t.name for t in workshop.tools]
    owned = {"vise": [v.name for v in workshop.vises], "tool": tools, "broken": tools}
    if pin.place is None or pin.rule not in owned or pin.value in owned[pin.rule]:
        return []
    what = f"the workshop has no {'vise' if pin.rule == 'vise' else 'tool'} '{pin.value}'"
    return [Fault(pin.place, what, nearest(pin.value, owned[pin.rule]))]


def _bar_faults(part: Part, workshop: Workshop) -> list[Fault]:
    of_it = [bar for bar in workshop.rack if bar.material == part.material]
    if not of_it:
        what = f"the rack has no {part.material}"
        mend = f"add a bar under 'rack: {part.material}:' in workshop.yaml"
        return [Fault(part.place, what, mend, part.name)]
    across = [bar.width for bar in of_it if bar.shape == "round"]
    if part.round and not any(abs(wide - part.size[1]) <= SAME for wide in across):
        what = f"the rack has no round {part.material} {show(part.size[1], part.unit)} across"
        return [Fault(part.place, what, TURNED, part.name)]
    if not part.section:
        return []
    named = [bar for bar in of_it if is_named(part, bar)]
    if not named:
        what = f"the rack has no {part.material} bar '{part.section}'"
        alike = next((bar for bar in of_it if bar.name == part.section), None)
        if alike is None:
            mend = nearest(part.section, [bar.name for bar in of_it])
        else:
            sides = f"{show(alike.width, workshop.unit)} x {show(alike.height, workshop.unit)}"
            mend = f"the rack's '{alike.name}' is {sides}: write the unit with each side there"
        return [Fault(part.place, what, mend, part.name)]
    longest = max(bar.length for bar in named)
    if longest < part.length.nominal + SAWN:
        long = show(longest, part.unit)
        what = f"the longest {part.material} bar '{part.section}', {long}, is too short for it"
        mend = f"it takes {show(part.length.nominal + SAWN, part.unit)}"
        return [Fault(part.place, what, mend, part.name)]
    return []
