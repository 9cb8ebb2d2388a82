"""This module tells what became of a ride: plain verdicts, and plain records."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from typing import Any

from barstock.mechanism.ride import MOTIONS, Passing, Ride, State
from barstock.mechanism.run_over_joints import Run
from barstock.mechanism.springs.spring_words import record as spring_record
from barstock.mechanism.track_cases import SOURCE, UNLOADING

CAUTION = (
    "These figures do not replace a test. A vehicle that carries people answers to the club's, the "
    "insurer's and local rules; weigh it, run it loaded and slowly over the worst of the track, "
    "and let those who may pass it pass it."
)


@dataclass(frozen=True)
class Verdict:
    """A Verdict is one thing said of a ride.

    holds: whether it is well, None where nothing says what would be.
    """

    words: str
    holds: bool | None


def verdicts(ride: Ride) -> Iterator[Verdict]:
    """Give all that there is to say, the most telling first."""
    for one in ride.springs.values():
        if one.count and one.taken is None:
            words = f"no spring that can be bought or wound will do as '{one.wanted.name}'"
            yield Verdict(words, False)
        elif one.count and one.taken and not one.taken.will_do:
            words = f"'{one.wanted.name}' does not keep: {', '.join(one.taken.hindrances)}"
            yield Verdict(words, False)
    yield _unloading(ride.worst)
    yield from _verdicts_on_boxes(ride)
    if ride.left is not None:
        room, box, at = ride.left
        if room > 1e-6:
            words = f"{room:.1f} mm of travel is left where it is least ({box}; {at})"
        else:
            words = f"the box {box} meets its stop, or its spring runs solid, on {at}"
        yield Verdict(words, room > 1e-6)
    for state in ride.states.values():
        if state.run is not None:
            yield _run(state.run, state.name)


def ride_lines(ride: Ride) -> Iterator[str]:
    """Tell the ride in words: how it stands and sways, what each place does, the verdicts."""
    for state in ride.states.values():
        yield from _stands(state)
    yield f"from empty to laden the body goes down {ride.sinks:.2f} mm"
    yield f"unsprung: {ride.unsprung:.2f} kg, its centre as high as the axles"
    for one in ride.passings:
        if one.case != "level track":
            yield f"{one.case}, {one.state}: {one.wheel} loses {one.worst:.0%} of its load"
    for verdict in verdicts(ride):
        mark = {True: "good", False: "NOT GOOD", None: "know"}[verdict.holds]
        yield f"{mark}: {verdict.words}"
    yield CAUTION


def _stands(state: State) -> Iterator[str]:
    loads = ", ".join(f"{name} {box.load:.1f} N" for name, box in state.standing.boxes.items())
    yield f"{state.name}, on level track: {loads}"
    for name, box in state.standing.boxes.items():
        if box.spring is not None and box.shortened is not None:
            yield f"  springs at {name}: {box.spring:.1f} N each, shortened {box.shortened:.2f} mm"
    sway = state.swaying
    yield (
        f"  carried on springs: {state.carried:.2f} kg, centre {state.centre:.1f} mm above the rail"
    )
    yield (
        f"  stiffness: {sway.heave:.1f} N/mm upward, {sway.roll:.2f} N m/° in roll, "
        f"{sway.pitch:.2f} N m/° in pitch"
    )
    modes = ", ".join(f"{mode.name} {mode.frequency:.1f} Hz" for mode in sway.modes)
    yield f"  sways: {modes}"


def _unloading(worst: Passing) -> Verdict:
    most = f"{UNLOADING:.0%} is the most allowed ({SOURCE})"
    words = f"{worst.wheel} loses {worst.worst:.0%} of its load on {worst.case}, {worst.state}"
    return Verdict(f"{words}; {most}", worst.worst <= UNLOADING)


def _verdicts_on_boxes(ride: Ride) -> Iterator[Verdict]:
    """Tell of each motion for the box that has least to spare."""
    for motion in MOTIONS:
        boxes = [one for one in ride.asked if one.motion == motion]
        worst = max(boxes, key=lambda one: one.asked - (90 if one.allowed is None else one.allowed))
        does = "tilts" if motion == "tilt" else "pitches"
        if worst.allowed is None:
            words = f"the track asks that the box {worst.box} {does} {worst.asked:.2f}°"
            yield Verdict(f"{words} ({worst.at}); nothing here says how far it can", None)
        else:
            words = f"the box {worst.box} {does} {worst.allowed:.2f}° before it touches"
            yield Verdict(f"{words}; the track asks {worst.asked:.2f}° ({worst.at})", worst.enough)


def _run(run: Run, state: str) -> Verdict:
    speed = f"at {run.speed * 3.6:.3g} km/h over the joints, {state}"
    if run.lifts:
        return Verdict(f"{run.wheel} leaves the rail {speed}, {run.at:.2f} s from the start", False)
    return Verdict(f"{run.wheel} loses {run.unloading:.0%} of its load {speed}", True)


def record(ride: Ride) -> dict[str, Any]:
    """Return the ride as plain data."""
    return {
        "holds": ride.holds,
        "verdicts": [asdict(verdict) for verdict in verdicts(ride)],
        "springs": [spring_record(one) for one in ride.springs.values()],
        "states": {name: _state(state) for name, state in ride.states.items()},
        "sinks": ride.sinks,
        "unsprung": ride.unsprung,
        "passings": [
            {
                "case": one.case,
                "state": one.state,
                "unloading": one.unloading,
                "boxes": {n: _box(asdict(b)) for n, b in one.standing.boxes.items()},
                "residual": one.standing.residual,
            }
            for one in ride.passings
        ],
        "asked": [asdict(one) for one in ride.asked],
        "left": ride.left,
        "limit": {"unloading": UNLOADING, "source": SOURCE},
        "caution": CAUTION,
    }


def _state(state: State) -> dict[str, Any]:
    standing = state.standing
    return {
        "boxes": {name: _box(asdict(box)) for name, box in standing.boxes.items()},
        "heave": standing.heave,
        "roll": standing.roll,
        "pitch": standing.pitch,
        "residual": standing.residual,
        "carried": state.carried,
        "centre": state.centre,
        "stiffness": {
            "heave": state.swaying.heave,
            "roll": state.swaying.roll,
            "pitch": state.swaying.pitch,
        },
        "modes": [asdict(mode) for mode in state.swaying.modes],
        "run": None if state.run is None else asdict(state.run),
    }


def _box(data: dict[str, Any]) -> dict[str, Any]:
    """Return the box without what JSON cannot hold."""
    return {k: None if v == float("inf") else v for k, v in data.items()}
