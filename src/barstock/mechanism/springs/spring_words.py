"""This module tells what became of a spring: in a machinist's words, and as plain records."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from math import isinf, radians
from typing import Any

from barstock.mechanism.springs.compression_spring import Compression
from barstock.mechanism.springs.extension_spring import Extension
from barstock.mechanism.springs.spring_candidate import AnyChoice
from barstock.mechanism.springs.spring_matching import Matched
from barstock.mechanism.springs.spring_selection import KEPT
from barstock.mechanism.springs.spring_winding import (
    CAUTION,
    SCRAGGED,
    TIP,
    TRIED,
    Trial,
    UnwindableError,
    Winding,
    winding,
)
from barstock.mechanism.springs.springs_of_build import Fitted
from barstock.mechanism.springs.torsion_spring import Torsion

SHOWN = 5
"""So many choices are told of one spring."""


def spring_lines(one: Fitted, trial: Trial | None = None, shown: int = SHOWN) -> Iterator[str]:
    """Tell of a spring: the choices, the one taken in full, how to wind it."""
    many = f", {one.count} off" if one.count else ""
    carries = "" if one.wanted.kind == "torsion" else f", carrying {one.load:.4g} N at rest"
    yield f"{one.wanted.name}: {one.wanted.kind} spring{many}{carries}"
    if one.taken is None:
        yield from _none(one)
        return
    if one.wanted.wound is None:
        yield f"  {len(one.choices.found)} will do; the best:"
        for n, choice in enumerate(one.choices.found[:shown], 1):
            yield f"  {n}  {brief(choice)}; {_closest(choice)}"
    yield from (f"  {name}: {value}" for name, value in figures(one.taken))
    for fault in one.taken.hindrances:
        yield f"  NOT WITHIN ITS LIMITS: {fault}"
    yield from wound_lines(one.taken, trial)


def brief(choice: AnyChoice) -> str:
    """Tell of a spring in a line: wire, outside, turns, length."""
    made = choice.spring
    words = f"wire {made.wire:g}, outside {made.outside:.2f}, {made.turns:g} turns"
    if isinstance(made, Compression):
        return f"{words}, free {made.free:.2f} mm, {made.rate:.3g} N/mm"
    if isinstance(made, Extension):
        return f"{words}, {made.free:.2f} mm inside the loops, {made.rate:.3g} N/mm"
    return f"{words}, body {made.body:.2f} mm, {radians(made.rate):.3g} N mm/°"


def figures(choice: AnyChoice) -> list[tuple[str, str]]:
    """Give all that is known of a spring, for its sheet."""
    made = choice.spring
    rows = [
        ("wire", f"{choice.grade} {made.wire:g} mm, at least {choice.strength:.0f} MPa"),
        ("coil", f"mean {made.mean:.2f}, outside {made.outside:.2f} mm; index {made.index:.1f}"),
    ]
    if isinstance(made, Compression):
        rows += _compression(choice, made)
    elif isinstance(made, Extension):
        rows += _extension(choice, made)
    else:
        rows += _torsion(choice, made)
    for name, room in choice.clears.items():
        kept = f", besides the {KEPT[name]:g} kept free" if name in KEPT else ""
        rows.append((f"room {name}", f"{room:.2f} mm{kept}"))
    return rows


def _compression(choice: AnyChoice, made: Compression) -> list[tuple[str, str]]:
    rest, bump = made.length_at(choice.load), made.free - choice.bump / made.rate
    limit = {name: f"{use:.0%} of what is allowed" for name, use in choice.uses.items()}
    buckles = made.buckles_at()
    return [
        ("turns", f"{made.turns:g} in all, {made.active:g} working, ends {made.ends}"),
        ("rate", f"{made.rate:.3f} N/mm"),
        ("free", f"{made.free:.2f} mm"),
        ("at rest", f"{rest:.2f} mm, {choice.load:.1f} N, {made.corrected(choice.load):.0f} MPa"),
        ("full bump", f"{bump:.2f} mm, {choice.bump:.1f} N, "
                      f"{made.corrected(choice.bump):.0f} MPa, {limit['stress at full bump']}"),
        ("solid", f"{made.solid:.2f} mm, {made.solid_load:.1f} N, "
                  f"{made.stress(made.solid_load):.0f} MPa, {limit['stress when solid']}"),
        ("outside when solid", f"{made.swollen:.2f} mm"),
        ("buckling", "cannot" if isinf(buckles) else f"unguided, when shortened {buckles:.1f} mm"),
        ("surge", f"{made.frequency:.0f} Hz"),
    ]  # fmt: skip


def _extension(choice: AnyChoice, made: Extension) -> list[tuple[str, str]]:
    return [
        ("turns", f"{made.turns:g}, wound close, and a loop at each end"),
        ("rate", f"{made.rate:.3f} N/mm after an initial tension of {made.initial:.1f} N"),
        ("free", f"{made.free:.2f} mm inside the loops"),
        ("at rest", f"{made.length_at(choice.load):.2f} mm, {choice.load:.1f} N, "
                    f"{made.corrected(choice.load):.0f} MPa"),
        ("longest", f"{made.length_at(choice.bump):.2f} mm, {choice.bump:.1f} N, "
                    f"{made.corrected(choice.bump):.0f} MPa; loops "
                    f"{made.loop_bending(choice.bump):.0f} MPa in bending"),
    ]  # fmt: skip


def _torsion(choice: AnyChoice, made: Torsion) -> list[tuple[str, str]]:
    return [
        ("turns", f"{made.turns:g}, wound close"),
        ("at rest", f"wound {made.angle(choice.load):.1f}°, {choice.load:.1f} N mm"),
        ("fully wound", f"{made.angle(choice.bump):.1f}°, {choice.bump:.1f} N mm, "
                        f"{made.corrected(choice.bump):.0f} MPa in bending, inside "
                        f"{made.inside(choice.bump):.2f} mm"),
    ]  # fmt: skip


def wound_lines(choice: AnyChoice, trial: Trial | None = None) -> Iterator[str]:
    """Tell how to wind it, with its caution."""
    try:
        how = winding(choice, trial)
    except UnwindableError as wrong:
        yield f"  cannot be wound: {wrong}"
        return
    yield "  to wind:"
    yield from (f"    {line}" for line in steps(how, choice, measured=trial is not None))
    yield f"  caution: {CAUTION}"


def steps(how: Winding, choice: AnyChoice, *, measured: bool = False) -> Iterator[str]:
    """Tell what to do at the lathe, step by step."""
    made = choice.spring
    known = "by your trial coil" if measured else "by sum; wind a trial coil first"
    yield f"mandrel {how.mandrel:.2f} mm diameter ({known}); {how.long:.0f} mm of wire"
    if not measured:
        yield _trial(how, made)
    if how.close:
        yield f"one turn close, then feed {how.feed:.2f} mm per turn, then one turn close"
    else:
        yield f"feed {how.feed:.2f} mm per turn"
    yield f"{how.turns:.1f} turns of the mandrel, the ends that were held among them"
    if how.close:
        yield f"close the end turns ({how.close} at each end) down on the next"
    if how.grind:
        yield f"grind each end flat over {how.grind * 360:.0f}°, the tip to {TIP}"
    if isinstance(made, Extension):
        yield "bend the last turn up at each end into a loop"
    yield "let down: 200 to 250 °C for half an hour (common practice; the wire's maker knows best)"
    if how.press:
        yield f"scrag: press solid {SCRAGGED} times, {how.press:.0f} N; measure after the last"
        if how.set_ >= 0.05:
            yield f"it sets by about {how.set_:.1f} mm then: wind it that much longer"


def _trial(how: Winding, made: Compression | Extension | Torsion) -> str:
    """Tell how to wind the trial coil, and what to give back of it."""
    right = f"--trial {how.mandrel:.2f}:{made.outside:.2f}"
    if isinstance(made, Compression):
        fed, long = f"fed {how.feed:.2f} mm per turn", TRIED * how.feed + made.wire
        return (
            f"trial: {TRIED} turns, {fed}, none of them close; let go, measure the outside of the "
            f"coil and its length over the end wires, and give them back with the mandrel and the "
            f"feed: {right}:{how.feed:.2f}:{long:.2f} if it came out right"
        )
    return (
        f"trial: {TRIED} turns, close; let go, measure the outside of the coil and give it "
        f"back with the mandrel: {right} if it came out right"
    )


def _none(one: Fitted) -> Iterator[str]:
    yield "  none will do with the wires commonly sold"
    for name, count in list(one.choices.hindrance.items())[:3]:
        yield f"  in the way {count} times: {name}"
    near = one.choices.nearest
    if near is not None:
        yield f"  nearest: {brief(near)}"
        for name, use in near.uses.items():
            if use > 1:
                yield f"    {name}: {use:.0%} of what is allowed"
        for name, room in near.clears.items():
            if room < 0:
                yield f"    {-room:.2f} mm is missing {name}"
    else:
        yield "  no coil that can be wound has that rate"
    yield "  change the load, the deflection, the travel or the hollow"


def _closest(choice: AnyChoice) -> str:
    return f"uses {choice.use:.0%} of its nearest limit, {choice.worst}"


def matched_lines(found: Matched) -> Iterator[str]:
    """Tell which spring goes where."""
    for place, numbers in found.places.items():
        named = " and ".join(map(str, numbers))
        yield f"{place}: spring{'s' * (len(numbers) > 1)} {named}, {found.loads[place]:.4g} N"
    yield f"even within {found.spread:.1%}; as they lie it would be {found.before:.1%}"


def record(one: Fitted, trial: Trial | None = None) -> dict[str, Any]:
    """Return a spring as plain data."""
    return {
        "name": one.wanted.name,
        "kind": one.wanted.kind,
        "count": one.count,
        "load": one.load,
        "room": {k: None if isinf(v) else v for k, v in asdict(one.room).items()},
        "hindrance": one.choices.hindrance,
        "choices": [choice_record(choice) for choice in one.choices.found],
        "taken": choice_record(one.taken) if one.taken else None,
        "nearest": choice_record(one.choices.nearest) if one.choices.nearest else None,
        "winding": _winding(one.taken, trial) if one.taken else None,
        "caution": CAUTION,
    }


def choice_record(choice: AnyChoice) -> dict[str, Any]:
    """Return a choice as plain data: its sizes, what follows from them, and its limits."""
    made = choice.spring
    data = asdict(choice)
    data["spring"] |= {"index": made.index, "outside": made.outside, "rate": made.rate}
    data["spring"]["turns"] = made.turns
    if isinstance(made, Compression):
        data["spring"] |= {
            "solid": made.solid,
            "least": made.least,
            "swollen": made.swollen,
            "frequency": made.frequency,
            "at rest": made.length_at(choice.load),
            "stress at rest": made.corrected(choice.load),
            "stress at full bump": made.corrected(choice.bump),
            "stress when solid": made.stress(made.solid_load),
            "buckles at": None if isinf(made.buckles_at()) else made.buckles_at(),
        }
    return data | {"use": choice.use, "worst": choice.worst}


def _winding(choice: AnyChoice, trial: Trial | None) -> dict[str, Any] | None:
    try:
        return asdict(winding(choice, trial))
    except UnwindableError:
        return None
