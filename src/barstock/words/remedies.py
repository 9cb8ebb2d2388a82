"""Remedies in words: what gives a size, and what would make it hold."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from barstock.route.statements import Given, GivenKind, Remedy, RemedyKind
from barstock.words.filling_in import Sentence, filled
from barstock.words.reader import Reader


def _work_to(told: Remedy, reader: Reader) -> str:
    larger = told.lengths["aim"] > told.lengths["nominal"]
    aim, nominal, by = (reader.length(told.lengths[name]) for name in ("aim", "nominal", "by"))
    return (
        f"work to {aim} instead of {nominal}: move the printed {told.names['axis']} by {by}, so "
        f"that it comes out {'larger' if larger else 'smaller'}"
    )


REMEDIES: Mapping[RemedyKind, Sentence[Remedy]] = {
    RemedyKind.FIRST_OFF: "correct the readings by the first-off ({instrument})",
    RemedyKind.OTHER_FACE: "put the {face} face against the {against} in setup {setup}",
    RemedyKind.EDGE_AFRESH: "find the edge afresh on each copy in setup {setup}",
    RemedyKind.TOP_AFRESH: "touch the top of each copy in setup {setup}",
    RemedyKind.CLOSE_IN: "measure each copy and close in on it ({instrument})",
    RemedyKind.MEASURE_BAR: "measure the {size} of the bar before sawing: it may lack no more "
    "than {lacks} of its size",
    RemedyKind.CLOSER_STOP: "a stop that repeats to ±{repeats}",
    RemedyKind.CLOSER_VISE: "a vise that repeats to ±{repeats}",
    RemedyKind.WORK_TO: _work_to,
    RemedyKind.SMALLER_DRILL: "take the next smaller tapping drill",
    RemedyKind.BORE: "bore it with a boring head, measuring, or open the limits",
    RemedyKind.DRILL_AND_BORE: "drill it a little smaller first and open it out to size, or ream "
    "it, or open the limits",
    RemedyKind.GET_GAUGE: "buy or borrow a plug or a bore gauge",
    RemedyKind.PLUG: "measure it by a plug made to its limits",
    RemedyKind.OTHER_COUNTERSINK: "grind or buy another",
    RemedyKind.INDICATE: "run a dial indicator along it in the vise, and tap it true",
    RemedyKind.CUTTER_OF_RADIUS: "take a cutter of the corner's radius",
}


def _tilt(told: Given, reader: Reader) -> str:
    seat = told.numbers.get("seat", 0.0)
    bar = f" {reader.length(told.lengths['bar'])}" if "bar" in told.lengths else ""
    words = f"set by the {told.names['by']}{bar}, ±{told.numbers['error']:.2g}°"
    return words + (f", and the work lies on it, ±{seat:.2g}°" if seat else "")


GIVEN: Mapping[GivenKind, Sentence[Given]] = {
    GivenKind.MEASURED: "measured, not reckoned here",
    GivenKind.TAP: "the tap gives it; no tapping drill is in this plan",
    GivenKind.TAPPING_DRILL: "the tap gives it; its {drill} drill leaves {most:.0f} % of the "
    "thread, {least:.0f} % where it cuts wide",
    GivenKind.REAMER: "a reamer leaves H7",
    GivenKind.DRILL: "a drill may cut as wide as H12",
    GivenKind.CUTTER: "the {cutter}'s own size",
    GivenKind.BORED_BLIND: "bored until it measures right, but nothing owned measures it",
    GivenKind.BORED: "bored until the {instrument} says so, which may be out by {error}",
    GivenKind.CUTTER_ANGLE: "the cutter's own angle",
    GivenKind.COUNTERSINK: "the countersink's own angle",
    GivenKind.TILT: _tilt,
    GivenKind.CUTTER_RADIUS: "the cutter's own radius",
}


def all_of(told: Sequence[Remedy], reader: Reader) -> str:
    """The remedies that are needed together, as one line."""
    words = [filled(REMEDIES[one.kind], one, reader) for one in told]
    if len(told) > 1 and told[-1].kind is RemedyKind.WORK_TO:
        return f"{' and '.join(words[:-1])}, and {words[-1]}"
    return " and ".join(words)


def given(told: Given, reader: Reader) -> str:
    """The words for what gives a size that no reading makes."""
    return filled(GIVEN[told.kind], told, reader)
