"""Judges whether the plan's own chains guarantee the drawing's limits, and what would where they do
not.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from barstock.drawing.build import Build
from barstock.drawing.size_distribution import Law
from barstock.methods.kind import Kind
from barstock.route import Route
from barstock.route.statements import Remedy, RemedyKind
from barstock.tolerancing.by_chance import root_sum_square, throw
from barstock.tolerancing.chains import Chain, Link
from barstock.tolerancing.dimension_ends import Asked, all_asked
from barstock.tolerancing.shop_errors import BLOCKS, FINDER, Cause, CauseKind
from barstock.tolerancing.working_limits import fill
from barstock.workshop.shop import Workshop

SAMPLES = 50_000
TINY = 1e-7


@dataclass(frozen=True)
class Cure:
    """What would make a dimension hold: all of its remedies together. minutes: in all; inf where
    something must be bought.

    aim: the size to work to instead of the printed one [mm], None where that stays.
    """

    remedies: tuple[Remedy, ...]
    minutes: float
    chain: Chain
    aim: float | None = None


@dataclass(frozen=True)
class Change:
    """One thing done otherwise. minutes: what it costs in all; links: those that replace the
    planned links of the same names."""

    remedy: Remedy
    minutes: float
    links: tuple[Link, ...]


@dataclass(frozen=True)
class Guarantee:
    """A dimension made by readings, judged. low, high: what it can come out at the worst [mm].

    missing: how far beyond a limit that is [mm]. cures: what would help, the cheapest first.
    allowed: a reading's name -> how far it may be out either way [mm], so that every dimension made
    by it holds (with its cure, where it needs one).
    """

    asked: Asked
    low: float
    high: float
    missing: float
    cures: tuple[Cure, ...] = ()
    allowed: Mapping[str, float] | None = None

    @property
    def holds(self) -> bool:
        """Is the drawing's limit guaranteed, as planned?"""
        return self.missing <= TINY

    @property
    def chain(self) -> Chain:
        """The chain by which the dimension is made."""
        assert self.asked.chain is not None
        return self.asked.chain

    @property
    def likely(self) -> tuple[float, float]:
        """The limits that all but 0.27 % come out between, by the root of the sum of
        squares [mm].
        """
        half, middle = root_sum_square(self.chain), (self.low + self.high) / 2
        return middle - half, middle + half

    def share(self, law: Law = Law.NORMAL, samples: int = SAMPLES, seed: int = 1) -> float:
        """The share of copies within the drawing's limits, 1 being all; every cause by chance."""
        d = self.asked.dimension
        thrown = throw(self.chain, (d.minus, d.plus), law=law, samples=samples, seed=seed)
        return 1 - thrown.outside


def guarantees(
    route: Route, build: Build, workshop: Workshop, kinds: Mapping[str, Kind] | None = None
) -> tuple[Guarantee, ...]:
    """The judgement of every dimension with limits that readings make, in the route's order.

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
    cures = _cures(asked, made, shop) if missing > TINY else ()
    return Guarantee(asked, d.nominal + made.low, d.nominal + made.high, missing, cures)


# -- cures -------------------------------------------------------------------------------------


def _cures(asked: Asked, made: Chain, shop: Workshop) -> tuple[Cure, ...]:
    """What alone, or two things together, would make it hold; the cheapest first."""
    changes = list(enumerate(_changes(asked, made, shop)))
    found: list[tuple[set[int], Cure]] = []
    for many in (0, 1, 2):
        for several in combinations(changes, many):
            these = {n for n, _ in several}
            if any(done <= these for done, _ in found):
                continue
            cure = _cure(asked, made, [change for _, change in several])
            if cure is not None:
                found.append((these, cure))
    return tuple(sorted((cure for _, cure in found), key=lambda cure: cure.minutes))


def _cure(asked: Asked, made: Chain, changes: Sequence[Change]) -> Cure | None:
    d = asked.dimension
    mended = _mended(made, changes)
    if mended.high - mended.low > d.high - d.low + TINY:
        return None
    remedies = tuple(change.remedy for change in changes)
    minutes = sum(change.minutes for change in changes)
    if mended.low >= d.minus - TINY and mended.high <= d.plus + TINY:
        return Cure(remedies, minutes, mended)
    read = [
        (k, n)
        for k, n in _causes(mended)
        if k.kind is CauseKind.READING and k.setup == asked.setup.id
    ]
    if not read or any(k.kind is CauseKind.BAR for k, _ in _causes(mended)):
        return None  # a bar is measured rather than its want of size guessed at
    aim = round((d.low + d.high) / 2 - (mended.low + mended.high) / 2, 3)
    reading, times = read[-1]
    by = abs((aim - d.nominal) / times)
    there = Remedy(
        kind=RemedyKind.WORK_TO,
        names={"axis": reading.axis},
        lengths={"aim": aim, "nominal": d.nominal, "by": by},
    )
    return Cure((*remedies, there), minutes, mended, aim)


def _causes(made: Chain) -> list[tuple[Cause, float]]:
    return [(link, times) for link, times in made.links if isinstance(link, Cause)]


def _mended(made: Chain, changes: Sequence[Change]) -> Chain:
    new: dict[str, Link] = {}
    for link in (link for change in changes for link in change.links):
        if link.name not in new or link.width < new[link.name].width:
            new[link.name] = link
    links = ((new.get(link.name, link), times) for link, times in made.links)
    return replace(made, links=tuple((k, n) for k, n in links if k.width > 0))


def _held(link: Link, error: float) -> Link:
    return replace(link, minus=-error, plus=error)


def _changes(asked: Asked, made: Chain, shop: Workshop) -> list[Change]:
    """The changes that a machinist would think of."""
    links = _causes(made)
    copies, times = asked.setup.copies, shop.times
    error = _instrument(asked, shop)
    found = []
    once = [(k, n) for k, n in links if not k.each]
    if error is not None and once:
        new = [_held(k, error / abs(n) if i == 0 else 0.0) for i, (k, n) in enumerate(once)]
        first_off = Remedy(kind=RemedyKind.FIRST_OFF, names={"instrument": asked.check.with_})
        found.append(Change(first_off, times.first_off, tuple(new)))
    own, side = asked.own, asked.from_face
    if own is not None and side is not None:
        axis = next(
            (k.axis for k, _ in links if k.setup == own.setup and k.kind is CauseKind.READING), ""
        )
        here = [k for k, _ in links if k.setup == own.setup and k.axis == axis]
        others = tuple(
            _held(k, 0.0) for k, _ in links if k not in here and k.kind is not CauseKind.CUTTER
        )
        if (
            others
            and axis in "XY"
            and any(k.kind in (CauseKind.STOP, CauseKind.SEAT) for k in here)
        ):
            against = "stop" if axis == "X" else "fixed jaw"
            names = {"face": str(side), "against": against, "setup": own.setup}
            turned = Remedy(kind=RemedyKind.OTHER_FACE, names=names)
            found.append(Change(turned, times.set_up, others))
    for setup in dict.fromkeys(k.setup for k, _ in links):
        placed = [
            k for k, _ in links if k.setup == setup and k.kind in (CauseKind.STOP, CauseKind.SEAT)
        ]
        stopped = [k for k in placed if k.axis in ("X", "Y")]
        if stopped:
            afresh = Remedy(kind=RemedyKind.EDGE_AFRESH, names={"setup": setup})
            new = [_held(k, FINDER) for k in stopped if k.plus > FINDER]
            new += [
                _held(k, 0.0) for k, _ in links if k.setup == setup and k.kind is CauseKind.EDGE
            ]
            found.append(Change(afresh, times.find_zero / 2 * copies, tuple(new)))
        if any(k.axis == "Z" for k in placed) and asked.setup.zero_z.find == "top":
            new = [_held(k, 0.0) for k in placed if k.axis == "Z"]
            new += [_held(k, 0.0) for k, _ in links if k.first]
            touched = Remedy(kind=RemedyKind.TOP_AFRESH, names={"setup": setup})
            found.append(Change(touched, times.touch_off * copies, tuple(new)))
    if error is not None and len(links) > 0:
        step = max((k.plus for k, _ in links if k.kind is CauseKind.READING), default=0.0)
        new = [_held(k, 0.0) for k, _ in links]
        first, often = links[0]
        new[0] = _held(first, (error + step) / abs(often))
        close_in = Remedy(kind=RemedyKind.CLOSE_IN, names={"instrument": asked.check.with_})
        found.append(Change(close_in, (times.first_off + times.measure) * copies, tuple(new)))
    return found + _closer(asked, made) + _fuller(asked, made, shop)


def _fuller(asked: Asked, made: Chain, shop: Workshop) -> list[Change]:
    """A bar that is less under its size than bars may be: it is measured before it is sawn."""
    missing = max(asked.dimension.minus - made.low, made.high - asked.dimension.plus)
    found = []
    for bar, times in _causes(made):
        lacks = bar.minus + missing / abs(times)
        if bar.kind is CauseKind.BAR and bar.minus < lacks <= bar.plus:
            remedy = Remedy(
                kind=RemedyKind.MEASURE_BAR, names={"size": bar.side}, lengths={"lacks": -lacks}
            )
            found.append(Change(remedy, shop.times.measure, (replace(bar, minus=lacks),)))
    return found


def _closer(asked: Asked, made: Chain) -> list[Change]:
    """A stop, or a vise, that repeats well enough."""
    d, found = asked.dimension, []
    excess = (made.high - made.low) - (d.high - d.low)
    for kind, closer in (
        (CauseKind.STOP, RemedyKind.CLOSER_STOP),
        (CauseKind.SEAT, RemedyKind.CLOSER_VISE),
    ):
        these = [(k, n) for k, n in _causes(made) if k.kind == kind]
        room = sum(abs(n) * k.width for k, n in these)
        if room > excess > 0:
            part = (room - excess) / room
            new = tuple(_held(k, k.plus * part) for k, _ in these)
            repeats = {"repeats": min(k.plus for k in new)}
            found.append(Change(Remedy(kind=closer, lengths=repeats), float("inf"), new))
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
    if g.holds or not g.cures:
        return g.chain, g.asked.dimension.nominal
    best = g.cures[0]
    return best.chain, g.asked.dimension.nominal if best.aim is None else best.aim


def _shares(judged: Sequence[Guarantee]) -> dict[str, float]:
    """The working limits of a part's readings, so that all its dimensions hold together."""
    floors: dict[str, float] = {}
    chains = []
    for g in judged:
        if not g.holds and not g.cures:
            continue
        made, aim = _effective(g)
        d = g.asked.dimension
        read = [(k, n) for k, n in _causes(made) if k.kind is CauseKind.READING]
        if not read:
            continue
        rest = replace(made, links=tuple(pair for pair in made.links if pair not in read))
        room = min(d.high - aim - rest.high, aim + rest.low - d.low)
        floors |= {k.name: k.plus for k, _ in read}
        chains.append((replace(made, links=tuple(read)), room))
    return fill(floors, chains)
