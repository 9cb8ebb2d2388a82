"""This module tells a guide's judgement in words and as plain data."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from math import isfinite, isinf, isnan
from typing import Any

from barstock.mechanism.guides.guide_as_made import MadeSet
from barstock.mechanism.guides.guide_check import Freedom, Judged, Touch
from barstock.mechanism.guides.guide_faces import REACH
from barstock.mechanism.guides.guide_play import MOTIONS
from barstock.mechanism.guides.motion_over_limits import Weight
from barstock.mechanism.guides.size_studies import Study

VERBS = {
    "tilt": "tilts", "pitch": "pitches", "twist": "twists", "ahead": "shifts ahead or back",
    "sideways": "shifts sideways", "rise": "rises or sinks",
}  # fmt: skip
MOST_SIZES = 5
CAUTION = (
    "These numbers do not replace a test: a vehicle that carries people answers to the club's, the "
    "insurer's and local rules."
)


def guide_lines(judged: Judged) -> Iterator[str]:
    """Tell the guide line by line, the verdicts first."""
    guide = judged.guide
    yield f"{guide.name}:"
    yield from (f"  {line}" for line in doubts(judged))
    if not judged.goes_in:
        yield f"  NOT: the {guide.block.name} does not go in by the sizes as drawn"
        return
    for freedom in judged.freedoms.values():
        yield f"  {'' if freedom.enough else 'NOT ENOUGH: '}{verdict(judged, freedom)}"
        if freedom.asked:
            yield from (f"    {line}" for line in _asked(freedom))
    yield from (f"  {line}" for line in bound(judged))


def doubts(judged: Judged) -> Iterator[str]:
    """Ask back where the guide stands so that the answer may be of another than is meant."""
    block = judged.guide.block.name
    for name in judged.faces.unmet:
        yield (
            f"IS IT SO? no face of the {name} looks at the {block} within {REACH:g} mm: see "
            "whether its 'at' names the right face, and 'up' and 'ahead' are as it stands"
        )
    if judged.goes_in and not judged.guided:
        yield (
            f"IS IT SO? nothing holds the {block} between two sides, neither ahead and back nor "
            "sideways: see whether every 'at' names the right face"
        )


def verdict(judged: Judged, freedom: Freedom) -> str:
    """Tell one motion against what is asked of it."""
    verb = VERBS[freedom.motion.name]
    block = judged.guide.block.name
    amount, unit = freedom.amount, freedom.motion.unit
    free = (
        f"nothing in the guide stops the {block} where it {verb}"
        if isinf(amount)
        else f"the {block} {verb} {shown(amount, unit)} before it touches"
    )
    return (
        f"{free}; {freedom.asked_by} asks {shown(freedom.asked, unit)}" if freedom.asked else free
    )


def at_worst(freedom: Freedom) -> str:
    """Tell what a motion comes to in the worst of the limits; "" where nothing asks or stops it."""
    if freedom.worst is None or isinf(freedom.worst):
        return ""
    if isnan(freedom.worst):
        return "in the worst of the limits the block does not go in at all"
    word = "still enough" if freedom.sure else "not enough"
    return f"in the worst of the limits {shown(freedom.worst, freedom.motion.unit)}, {word}"


def _asked(freedom: Freedom) -> Iterator[str]:
    unit = freedom.motion.unit
    if worst := at_worst(freedom):
        yield worst
    if freedom.spread is not None and isfinite(freedom.spread.low):
        good = 1 - freedom.spread.fails
        low, high = shown(freedom.spread.low, unit), shown(freedom.spread.high, unit)
        yield f"by chance {good:.1%} of assemblies do what is asked; most lie from {low} to {high}"
    for way in freedom.ways[:1]:
        for touch in way.touches:
            yield f"touches first: {touched(touch)}"
    if freedom.weights:
        told = (weighed(w, unit) for w in freedom.weights[:MOST_SIZES])
        yield f"matters most: {'; '.join(told)}"


def touched(touch: Touch) -> str:
    """Tell which faces touch, and where."""
    ahead, left, up = touch.at
    where = ", ".join(
        f"{abs(value):.1f} {words[value < 0]}"
        for value, words in (
            (ahead, ("ahead", "behind")), (left, ("left", "right")), (up, ("up", "down"))
        )
    )  # fmt: skip
    return f"{touch.ours}, on {touch.theirs}; {where} mm"


def weighed(weight: Weight, unit: str) -> str:
    """Tell what a size can take within its limits."""
    return f"{weight.name} (its limits are worth {shown(weight.spread, unit)})"


def bound(judged: Judged) -> Iterator[str]:
    """Tell whether the block binds or wedges."""
    found = judged.binding
    if found is not None and found.binds:
        yield (
            f"BINDS: it bears {found.length:.1f} mm apart and is pushed {found.off_centre:g} mm "
            f"off the middle; with friction {found.friction:g} it wants {found.least_length:.1f} mm"
        )
    elif found is not None:
        pushed = f"; it is pushed {found.off_centre:g} mm off" if found.off_centre else ""
        yield (
            f"it does not bind while pushed less than {found.most_off_centre:.0f} mm off the "
            f"middle (bears {found.length:.1f} mm apart, friction {found.friction:g}){pushed}"
        )
    if judged.wedge is not None:
        yield (
            f"WEDGES: it stops between faces that lean {judged.wedge:.1f}°, less than the angle of "
            "friction, and may stay there"
        )


def shown(amount: float, unit: str) -> str:
    """Write an amount to two figures after the point, or three of a small length.

    >>> shown(2.617, "°"), shown(0.1234, "mm")
    ('2.62°', '0.123 mm')
    """
    if isnan(amount):
        return "none"
    if isinf(amount):
        return "no end"
    return f"{amount:.2f}°" if unit == "°" else f"{amount:.3f} mm"


def made_lines(name: str, made: MadeSet) -> Iterator[str]:
    """Tell of a set as made."""
    word = "this set will move" if made.goes else "this set will NOT all move as asked"
    yield f"{name}, as made: {word}; paired for the most even play, {made.least:.3f} mm at least"
    for pair in made.pairs:
        amounts = ", ".join(
            f"{VERBS[motion]} {shown(amount, MOTIONS[motion].unit)}"
            for motion, amount in pair.amounts.items()
        )
        good = "" if pair.goes else "NOT ENOUGH: "
        yield f"  {pair.guide}: {pair.block}, play {pair.play:.3f} mm; {good}{amounts}"
    if made.left_over:
        yield f"  left over: {', '.join(made.left_over)}"


def study_lines(study: Study) -> Iterator[str]:
    """Tell a study's points as a table, and the best of them."""
    names = [sweep.name for sweep in study.sweeps]
    yield f"{study.guide}: {', '.join(names)}"
    for point in study.points:
        sizes = ", ".join(f"{value:g}" for _, value in point.sizes)
        if point.fault:
            yield f"  {sizes}: {point.fault}"
            continue
        told = []
        for motion, seen in point.motions.items():
            unit = MOTIONS[motion].unit
            low, nominal = shown(seen.low, unit), shown(seen.nominal, unit)
            told.append(f"{motion} {nominal}, at least {low}, {1 - seen.fails:.1%} good")
        yield f"  {sizes}: {'; '.join(told)}"
    best = ", ".join(f"{name} {value:g}" for name, value in study.best.sizes)
    yield f"best: {best} ({1 - study.best.fails:.1%} of assemblies do what is asked)"


def record(judged: Judged) -> dict[str, Any]:
    """Return the guide as plain data; what has no end or does not go in is None."""
    return {
        "guide": judged.guide.name,
        "goes in": judged.goes_in,
        "goes": judged.goes,
        "motions": {name: _motion(freedom) for name, freedom in judged.freedoms.items()},
        "binding": None
        if judged.binding is None
        else {
            "bears apart": _plain(judged.binding.length),
            "friction": judged.binding.friction,
            "most off centre": _plain(judged.binding.most_off_centre),
            "off centre": judged.binding.off_centre,
            "binds": judged.binding.binds,
        },
        "wedges at": judged.wedge,
    }


def _motion(freedom: Freedom) -> dict[str, Any]:
    spread = freedom.spread
    return {
        "unit": freedom.motion.unit,
        "amount": _plain(freedom.amount),
        "ways": [
            {
                "amount": _plain(way.amount),
                "touches": [
                    {"block": t.ours, "guide": t.theirs, "at": list(t.at)} for t in way.touches
                ],
            }
            for way in freedom.ways
        ],
        "worst": None if freedom.worst is None else _plain(freedom.worst),
        "asked": freedom.asked or None,
        "asked by": freedom.asked_by or None,
        "enough": freedom.enough,
        "by chance": None
        if spread is None
        else {
            "mean": _plain(spread.mean), "low": _plain(spread.low), "high": _plain(spread.high),
            "fails": spread.fails, "does not go in": spread.tight,
        },
        "sizes": [{"name": w.name, "gain": w.gain, "spread": w.spread} for w in freedom.weights],
    }  # fmt: skip


def made_record(made: MadeSet) -> dict[str, Any]:
    """Return a set as made as plain data."""
    return {"goes": made.goes, **asdict(made)}


def study_record(study: Study) -> dict[str, Any]:
    """Return a study as plain data."""
    return {
        "guide": study.guide,
        "sweeps": {sweep.name: list(sweep.values) for sweep in study.sweeps},
        "points": [
            {
                "sizes": dict(point.sizes),
                "fault": point.fault or None,
                "motions": {
                    name: {word: _plain(value) for word, value in asdict(seen).items()}
                    for name, seen in point.motions.items()
                },
            }
            for point in study.points
        ],
        "best": dict(study.best.sizes),
    }


def _plain(value: float) -> float | None:
    return value if isfinite(value) else None
