"""What is left to the person, in words: how many features, which, and why."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from barstock.drawing.build import Build, Part
from barstock.drawing.other_hands import Source
from barstock.quantities import counted
from barstock.route import Left, LeftHow, Tried
from barstock.words.filling_in import joined
from barstock.words.reader import Reader

HOW = {
    LeftHow.LEFT: "left to you",
    LeftHow.BY_HAND: "made by hand",
    LeftHow.FILED: "marked out and filed",
    LeftHow.WITH_MATE: "drilled with its mate",
    LeftHow.BOUGHT: "bought",
    LeftHow.ELSEWHERE: "turned elsewhere",
    LeftHow.CAST: "cast",
}
"""How what is left comes about."""

ORDERED = {
    Source.BOUGHT: "bought as drawn",
    Source.ELSEWHERE: "to be turned elsewhere",
    Source.CAST: "to be cast",
}
"""How a part is ordered that comes from elsewhere."""


def left_lines(left: Sequence[Left], build: Build) -> tuple[str, ...]:
    """The lines of the first page on what is not planned; none where all is."""
    mine = [one for one in left if not _comes_made(one, build)]
    come = [part for part in build.parts if part.made is not None]
    lines = []
    if mine:
        planned = [part for part in build.parts if part.made is None]
        total = sum(len(_features(part)) for part in planned)
        total += sum(len(one.features) for one in build.unread)
        open_ = len({(one.part, name) for one in mine for name in _names(one, build)})
        are = "is" if open_ == 1 else "are"
        many = f"{open_} {are} left to you" if open_ else "left to you"
        wholes = {one.part for one in mine if one.whole}
        which = ", ".join(_which(one) for one in mine if one.whole or one.part not in wholes)
        noun = "feature" if total == 1 else "features"
        lines.append(f"{total - open_} of {total} {noun} are planned and proven; {many}: {which}")
    if come:
        lines.append("Not made here: " + ", ".join(_come(part) for part in come))
    return tuple(lines)


def ordered(build: Build) -> tuple[str, ...]:
    """What is to be ordered: the parts that come from elsewhere, with their sizes over all."""
    return tuple(
        f"{part.copies} x {part.name}, {part.material}, {over_all(part, Reader(part.unit))}: "
        f"{ORDERED[part.made]}"
        for part in build.parts
        if part.made in ORDERED
    )


def made_first(parts: Sequence[str], left: Sequence[Left]) -> tuple[str, ...]:
    """What of the parts that a whole is joined from must be made otherwise before it is joined."""
    mine = [one for one in left if one.part in parts]
    return tuple(
        f"{joined(one.features)} of the {one.part}: {HOW[one.how]}"
        if one.features
        else f"the {one.part}: {HOW[one.how]}"
        for one in mine
    )


def open_still(left: Sequence[Left]) -> bool:
    """Is anything left that the build does not itself say is made otherwise?"""
    return any(one.how is LeftHow.LEFT or one.tried for one in left)


def over_all(part: Part, reader: Reader) -> str:
    """The sizes of a part over all: "⌀8 mm x 14 mm", "40 mm x 20 mm x 10 mm"."""
    long, wide, high = (reader.length(mm) for mm in part.size)
    return f"⌀{wide} x {long}" if part.round else f"{long} x {wide} x {high}"


def made_as(part: Part, left: Sequence[Left]) -> str:
    """How a part comes about, beside its setups; "" where it is planned whole."""
    mine = [one for one in left if one.part == part.name]
    if part.made is not None:
        return str(part.made)
    if any(one.whole for one in mine):
        return next(HOW[one.how] for one in mine if one.whole)
    return counted(sum(len(one.features) for one in mine), "feature") + " left" if mine else ""


def tried_rows(tried: Iterable[Tried]) -> tuple[tuple[str, str, str], ...]:
    """Each way tried, why it failed, and the advice that went with the refusal.

    >>> refusal = "no vise holds it; nor do straps; borrow one"
    >>> tried_rows([Tried(way="drill eye", refusal=refusal)])
    (('drill eye', 'no vise holds it; nor do straps', 'borrow one'),)
    """
    rows = []
    for one in tried:
        why, *more = one.refusal.split("; ")
        while more and more[0].startswith("nor "):
            why = f"{why}; {more.pop(0)}"
        rows.append((one.way or "-", why, "; ".join(more)))
    return tuple(dict.fromkeys(rows))


def why_left(left: Left) -> tuple[str, ...]:
    """The lines of what is left of a part, how it comes about and what was tried."""
    what = f"{joined(left.features)} of the {left.part}" if left.features else f"the {left.part}"
    lines = [f"{what}: {HOW[left.how]}"]
    if left.tried:
        lines.append("Tried:")
    lines += ["  " + ": ".join(filter(None, (one.way, one.refusal))) for one in left.tried]
    return tuple(lines)


def _comes_made(one: Left, build: Build) -> bool:
    return any(part.name == one.part and part.made is not None for part in build.parts)


def _features(part: Part) -> list[str]:
    return [*(feature.name for feature in part.features), *sorted(part.unread)]


def _names(one: Left, build: Build) -> list[str]:
    if one.features:
        return list(one.features)
    unread = [name for part in build.unread if part.name == one.part for name in part.features]
    known = [name for part in build.parts if part.name == one.part for name in _features(part)]
    return [*known, *unread]


def _which(one: Left) -> str:
    what = f"{joined(one.features)} of the {one.part}" if one.features else f"all of the {one.part}"
    return what if one.how is LeftHow.LEFT else f"{what} ({HOW[one.how]})"


def _come(part: Part) -> str:
    return f"{part.copies} x {part.name} ({part.made})"
