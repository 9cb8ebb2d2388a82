"""Do the plan's own chains guarantee the drawing's limits, and what would where they do not."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from barstock.drawing.build import Build
from barstock.drawing.size_distribution import Law
from barstock.methods.kind import Kind
from barstock.quantities import show
from barstock.route import Route
from barstock.tolerancing.by_chance import root_sum_square, throw
from barstock.tolerancing.chains import Chain, Link
from barstock.tolerancing.cures import Cure
from barstock.tolerancing.dimension_ends import Asked, all_asked
from barstock.tolerancing.shop_errors import BLOCKS, FINDER, Cause
from barstock.tolerancing.working_limits import fill
from barstock.workshop.shop import Workshop

SAMPLES = 50_000
TINY = 1e-7


@dataclass(frozen=True)
class Remedy:
    """What would make a dimension hold. minutes: in all; inf where something must be bought.

    aim: the size to work to instead of the printed one [mm], None where that stays.
    """

    words: str
    minutes: float
    chain: Chain
    aim: float | None = None


@dataclass(frozen=True)
class Guarantee:
    """A dimension made by readings, judged. low, high: what it can come out at the worst [mm].

    missing: how far beyond a limit that is [mm]. remedies: what would help, the cheapest first.
    allowed: a reading's name -> how far it may be out either way [mm], so that every dimension made
    by it holds (with its remedy, where it needs one).
    """

    asked: Asked
    low: float
    high: float
    missing: float
    remedies: tuple[Remedy, ...] = ()
    allowed: Mapping[str, float] | None = None

    @property
    def holds(self) -> bool:
        """Is the drawing's limit guaranteed, as planned?"""
        return self.missing <= TINY

    @property
    def chain(self) -> Chain:
        """How it is made."""
        assert self.asked.chain is not None
        return self.asked.chain

    @property
    def likely(self) -> tuple[float, float]:
        """What all but 0.27 % come out between, by the root of the sum of squares [mm]."""
        half, middle = root_sum_square(self.chain), (self.low + self.high) / 2
        return middle - half, middle + half

    def share(self, law: Law = Law.NORMAL, samples: int = SAMPLES, seed: int = 1) -> float:
        """Share of copies within the drawing's limits, 1 being all; every cause by chance."""
        d = self.asked.dimension
        thrown = throw(self.chain, (d.minus, d.plus), law=law, samples=samples, seed=seed)
        return 1 - thrown.outside


def guarantees(
    route: Route, build: Build, workshop: Workshop, kinds: Mapping[str, Kind] | None = None
) -> tuple[Guarantee, ...]:
    """Every dimension with limits that readings make, in the route's order.

    Sizes that a tool gives by itself (bores, threads, radii, angles): see `by_tool`.
    """
    if kinds is None:
        from barstock.methods import KINDS

        kinds = KINDS
    asked = [a for a in all_asked(route, build, workshop, kinds) if a.chain is not None]
    judged = [_judge(one, workshop) for one in asked if one.dimension.high > one.dimension.low]
    rooms = {part: _shares([g for g in judged if g.asked.part == part])
             for part in dict.fromkeys(g.asked.part for g in judged)}  # fmt: skip
    return tuple(
        replace(g, allowed={k.name: rooms[g.asked.part][k.name] for k, _ in _effective(g)[0].links
                            if k.name in rooms[g.asked.part]})
        for g in judged
    )  # fmt: skip


def _judge(asked: Asked, shop: Workshop) -> Guarantee:
    made, d = asked.chain, asked.dimension
    assert made is not None
    missing = max(d.minus - made.low, made.high - d.plus, 0.0)
    remedies = _remedies(asked, made, shop) if missing > TINY else ()
    return Guarantee(asked, d.nominal + made.low, d.nominal + made.high, missing, remedies)


# -- remedies ----------------------------------------------------------------------------------


def _remedies(asked: Asked, made: Chain, shop: Workshop) -> tuple[Remedy, ...]:
    """What alone, or two things together, would make it hold; the cheapest first."""
    cures = [*_cures(asked, made, shop)]
    found: list[tuple[tuple[Cure, ...], Remedy]] = []
    for many in (0, 1, 2):
        for several in combinations(cures, many):
            if any(set(done) <= set(several) for done, _ in found):
                continue
            remedy = _remedy(asked, made, several)
            if remedy is not None:
                found.append((several, remedy))
    return tuple(sorted((r for _, r in found), key=lambda r: r.minutes))


def _remedy(asked: Asked, made: Chain, cures: Sequence[Cure]) -> Remedy | None:
    d = asked.dimension
    mended = _mended(made, cures)
    if mended.high - mended.low > d.high - d.low + TINY:
        return None
    words = " and ".join(cure.words for cure in cures)
    minutes = sum(cure.minutes for cure in cures)
    if mended.low >= d.minus - TINY and mended.high <= d.plus + TINY:
        return Remedy(words, minutes, mended)
    read = [(k, n) for k, n in _causes(mended) if k.kind == "reading" and k.setup == asked.setup.id]
    if not read or any(k.kind == "bar" for k, _ in _causes(mended)):
        return None  # a bar is measured rather than its want of size guessed at
    aim = round((d.low + d.high) / 2 - (mended.low + mended.high) / 2, 3)
    reading, times = read[-1]
    by, larger = show(abs((aim - d.nominal) / times), asked.unit), aim > d.nominal
    there = (
        f"work to {show(aim, asked.unit)} instead of {show(d.nominal, asked.unit)}: move the "
        f"printed {reading.axis} by {by}, so that it comes out {'larger' if larger else 'smaller'}"
    )
    return Remedy(f"{words}, and {there}" if words else there, minutes, mended, aim)


def _causes(made: Chain) -> list[tuple[Cause, float]]:
    return [(link, times) for link, times in made.links if isinstance(link, Cause)]


def _mended(made: Chain, cures: Sequence[Cure]) -> Chain:
    new: dict[str, Link] = {}
    for link in (link for cure in cures for link in cure.links):
        if link.name not in new or link.width < new[link.name].width:
            new[link.name] = link
    links = ((new.get(link.name, link), times) for link, times in made.links)
    return replace(made, links=tuple((k, n) for k, n in links if k.width > 0))


def _held(link: Link, error: float) -> Link:
    return replace(link, minus=-error, plus=error)


def _cures(asked: Asked, made: Chain, shop: Workshop) -> list[Cure]:
    """The changes that a machinist would think of."""
    links = _causes(made)
    copies, times = asked.setup.copies, shop.times
    error = _instrument(asked, shop)
    found = []
    once = [(k, n) for k, n in links if not k.each]
    if error is not None and once:
        new = [_held(k, error / abs(n) if i == 0 else 0.0) for i, (k, n) in enumerate(once)]
        words = f"correct the readings by the first-off ({asked.check.with_})"
        found.append(Cure(words, times.first_off, tuple(new)))
    own, side = asked.own, asked.from_face
    if own is not None and side is not None:
        axis = next((k.axis for k, _ in links if k.setup == own.setup and k.kind == "reading"), "")
        here = [k for k, _ in links if k.setup == own.setup and k.axis == axis]
        others = tuple(_held(k, 0.0) for k, _ in links if k not in here and k.kind != "cutter")
        if others and axis in "XY" and any(k.kind in ("stop", "seat") for k in here):
            against = "the stop" if axis == "X" else "the fixed jaw"
            words = f"put the {side} face against {against} in setup {own.setup}"
            found.append(Cure(words, times.set_up, others))
    for setup in dict.fromkeys(k.setup for k, _ in links):
        placed = [k for k, _ in links if k.setup == setup and k.kind in ("stop", "seat")]
        stopped = [k for k in placed if k.axis in ("X", "Y")]
        if stopped:
            words = f"find the edge afresh on each copy in setup {setup}"
            new = [_held(k, FINDER) for k in stopped if k.plus > FINDER]
            new += [_held(k, 0.0) for k, _ in links if k.setup == setup and k.kind == "edge"]
            found.append(Cure(words, times.find_zero / 2 * copies, tuple(new)))
        if any(k.axis == "Z" for k in placed) and asked.setup.zero_z.find == "top":
            new = [_held(k, 0.0) for k in placed if k.axis == "Z"]
            new += [_held(k, 0.0) for k, _ in links if k.name.endswith("first copy")]
            words = f"touch the top of each copy in setup {setup}"
            found.append(Cure(words, times.touch_off * copies, tuple(new)))
    if error is not None and len(links) > 0:
        step = max((k.plus for k, _ in links if k.kind == "reading"), default=0.0)
        new = [_held(k, 0.0) for k, _ in links]
        first, often = links[0]
        new[0] = _held(first, (error + step) / abs(often))
        words = f"measure each copy and close in on it ({asked.check.with_})"
        found.append(Cure(words, (times.first_off + times.measure) * copies, tuple(new)))
    return found + _closer(asked, made) + _fuller(asked, made, shop)


def _fuller(asked: Asked, made: Chain, shop: Workshop) -> list[Cure]:
    """A bar that is less under its size than bars may be: it is measured before it is sawn."""
    missing = max(asked.dimension.minus - made.low, made.high - asked.dimension.plus)
    found = []
    for bar, times in _causes(made):
        lacks = bar.minus + missing / abs(times)
        if bar.kind == "bar" and bar.minus < lacks <= bar.plus:
            words = (
                f"measure the {bar.name} before sawing: it may lack no more than "
                f"{show(-lacks, asked.unit)} of its size"
            )
            found.append(Cure(words, shop.times.measure, (replace(bar, minus=lacks),)))
    return found


def _closer(asked: Asked, made: Chain) -> list[Cure]:
    """A stop, or a vise, that repeats well enough."""
    d, found = asked.dimension, []
    excess = (made.high - made.low) - (d.high - d.low)
    for kind, name in (("stop", "stop"), ("seat", "vise")):
        these = [(k, n) for k, n in _causes(made) if k.kind == kind]
        room = sum(abs(n) * k.width for k, n in these)
        if room > excess > 0:
            part = (room - excess) / room
            new = tuple(_held(k, k.plus * part) for k, _ in these)
            closest = show(min(k.plus for k in new), asked.unit)
            words = f"a {name} that repeats to ±{closest}"
            found.append(Cure(words, float("inf"), new))
    return found


def _instrument(asked: Asked, shop: Workshop) -> float | None:
    """What the dimension's own check may be out by [mm]; None where nothing owned measures it."""
    for one in shop.instruments:
        if one.name == asked.check.with_:
            return one.step or BLOCKS
    return None


# -- working limits ----------------------------------------------------------------------------


def _effective(g: Guarantee) -> tuple[Chain, float]:
    """The chain that is to hold, and the size worked to [mm]."""
    if g.holds or not g.remedies:
        return g.chain, g.asked.dimension.nominal
    best = g.remedies[0]
    return best.chain, g.asked.dimension.nominal if best.aim is None else best.aim


def _shares(judged: Sequence[Guarantee]) -> dict[str, float]:
    """The working limits of a part's readings, so that all its dimensions hold together."""
    floors: dict[str, float] = {}
    chains = []
    for g in judged:
        if not g.holds and not g.remedies:
            continue
        made, aim = _effective(g)
        d = g.asked.dimension
        read = [(k, n) for k, n in _causes(made) if k.kind == "reading"]
        if not read:
            continue
        rest = replace(made, links=tuple(pair for pair in made.links if pair not in read))
        room = min(d.high - aim - rest.high, aim + rest.low - d.low)
        floors |= {k.name: k.plus for k, _ in read}
        chains.append((replace(made, links=tuple(read)), room))
    return fill(floors, chains)
