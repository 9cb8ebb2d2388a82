"""The chains of a plan in a machinist's words and as plain records."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import isinf
from typing import Any

from barstock.quantities import Length, Unit, show, show_limits, told_in
from barstock.route.statements import GivenKind
from barstock.tolerancing.by_tool import ByTool
from barstock.tolerancing.chains import Link
from barstock.tolerancing.fits_of_build import Mated
from barstock.tolerancing.guarantee import Guarantee
from barstock.tolerancing.shop_errors import Cause
from barstock.words.checks import measured
from barstock.words.reader import Reader
from barstock.words.remedies import all_of, given

MOST = 3
"""Most cures told of one dimension."""


def limit_lines(judged: Sequence[Guarantee], tools: Sequence[ByTool] = ()) -> Iterator[str]:
    """The dimensions that readings make, then those that tools give, part by part."""
    for part in sorted({g.asked.part for g in judged} | {g.asked.part for g in tools}):
        yield part
        for g in judged:
            if g.asked.part == part:
                yield from _dimension(g)
        for one in tools:
            if one.asked.part == part:
                yield from _given(one)
    held = sum(g.holds for g in judged)
    cured = sum(bool(g.cures) for g in judged if not g.holds)
    yield f"{held} of {len(judged)} dimensions are guaranteed as planned, {cured} more with a cure"
    if tools:
        held = sum(g.holds is True for g in tools)
        yield f"{held} of {len(tools)} sizes hold that a tool or a setting gives by itself"


def _gives(g: ByTool) -> str:
    """What gives a size, or how it is measured where nothing is known of that."""
    if g.given.kind is GivenKind.MEASURED:
        return f"measured ({measured(g.asked.check)}), not reckoned here"
    return given(g.given, Reader(g.asked.unit))


def _given(g: ByTool) -> Iterator[str]:
    """A dimension that no reading makes."""
    size, d = _size(g), g.asked.dimension
    judged = g.low is not None and g.high is not None and d.high > d.low
    made = ""
    if judged:
        low, high = show_limits(d.low, d.high, g.asked.unit)
        if g.asked.check.angle:
            low, high = (f"{limit:.4g}°" for limit in (d.low, d.high))
        wanted = f"wanted {low} to {high}"
        made = f", {wanted}; comes out {_figure(g, g.low or 0.0)} to {_figure(g, g.high or 0.0)}"
    lacks = f"LACKS {_figure(g, g.missing)}" if g.missing else "LACKS"
    yield f"  {'not judged' if g.holds is None else 'holds' if g.holds else lacks}: {size}{made}"
    yield f"    no readings to chain: {_gives(g)}"
    if g.holds is False:
        yield f"    cure: {_mend(g)}"


def _mend(g: ByTool) -> str:
    return all_of((g.mend,), Reader(g.asked.unit)) if g.mend else ""


def _figure(g: ByTool, value: float) -> str:
    return f"{value:.4g}°" if g.asked.check.angle else show(value, g.asked.unit)


def _dimension(g: Guarantee) -> Iterator[str]:
    unit, d = g.asked.unit, g.asked.dimension
    made = f"comes out {show(g.low, unit)} to {show(g.high, unit)}"
    wanted = f"wanted {' to '.join(show_limits(d.low, d.high, unit))}"
    if g.holds:
        yield f"  holds: {_size(g)}, {wanted}; {made}"
    else:
        yield f"  LACKS {show(g.missing, unit)}: {_size(g)}, {wanted}; {made}"
        yield f"    {g.share():.1%} of copies are within the limits by chance"
        yield "    made by: " + "; ".join(_cause(k, n, unit) for k, n in g.chain.links)
        for n, cure in enumerate(g.cures[:MOST]):
            costs = "to buy" if isinf(cure.minutes) else f"{cure.minutes:.0f} minutes"
            yield f"    {'or' if n else 'cure'}: {all_of(cure.remedies, Reader(unit))} ({costs})"
        if not g.cures:
            yield "    no cure in this shop: open the limits, or have it made elsewhere"
    once = {k.name for k, _ in g.chain.links if isinstance(k, Cause) and k.first}
    for name, room in (g.allowed or {}).items():
        if name not in once:
            yield f"    keep the {name} within ±{show(room, unit)}"


def records(judged: Sequence[Guarantee], tools: Sequence[ByTool] = ()) -> list[dict[str, Any]]:
    """The chains as plain data; every length in mm, minutes null where something is to be bought.

    "by": what gives a size that no readings make, which then has no chain; angles in degrees.
    """
    return [*_chained(judged), *_by_tools(tools)]


def _by_tools(tools: Sequence[ByTool]) -> Iterator[dict[str, Any]]:
    for g in tools:
        made = None if g.low is None or g.high is None else [_mm(g.low), _mm(g.high)]
        yield {
            "part": g.asked.part,
            "dimension": g.asked.check.name,
            "operation": g.asked.operation.id,
            "setup": g.asked.setup.id,
            "wanted": [_mm(g.asked.dimension.low), _mm(g.asked.dimension.high)],
            "made": made,
            "holds": g.holds,
            "missing": _mm(g.missing),
            "by": _gives(g),
            "cures": [] if g.holds is not False else [{"words": _mend(g), "minutes": None}],
        }


def _chained(judged: Sequence[Guarantee]) -> list[dict[str, Any]]:
    return [
        {
            "part": g.asked.part,
            "dimension": g.asked.check.name,
            "operation": g.asked.operation.id,
            "setup": g.asked.setup.id,
            "wanted": [_mm(g.asked.dimension.low), _mm(g.asked.dimension.high)],
            "made": [_mm(g.low), _mm(g.high)],
            "holds": g.holds,
            "missing": _mm(g.missing),
            "likely": [_mm(end) for end in g.likely],
            "share": round(g.share(), 5),
            "chain": [
                {"cause": k.name, "times": _mm(n), "minus": _mm(k.minus), "plus": _mm(k.plus)}
                for k, n in g.chain.links
            ],
            "cures": [
                {
                    "words": all_of(r.remedies, Reader(g.asked.unit)),
                    "minutes": None if isinf(r.minutes) else round(r.minutes, 1),
                    "work to": r.aim,
                }
                for r in g.cures
            ],
            "readings": {name: _mm(room) for name, room in (g.allowed or {}).items()},
        }
        for g in judged
    ]


def fit_lines(found: Sequence[Mated]) -> Iterator[str]:
    """The fits of a build, in words."""
    for m in found:
        with told_in(m.wanted.unit):
            told = tuple(_fit(m))
        yield from told
    if not found:
        yield "the build names no fits; write them under 'fits' in build.yaml"


def _fit(m: Mated) -> Iterator[str]:
    low, high = m.fit.clearance()
    made = f"{_way(low)} to {_way(high)}" if low < 0 else f"{Length(low, high):.3f}"
    least, most = m.wanted.least, m.wanted.most
    wanted = f"{Length(least):.3f} or more" if most is None else f"{Length(least, most):.3f}"
    yield f"{m.wanted.name}: {'holds' if m.holds else 'DOES NOT HOLD'}, {made}; wanted {wanted}"
    spread = m.by_chance()
    yield (
        f"  by chance {Length(spread.low, spread.high):.3f}, "
        f"{1 - spread.outside:.2%} of pairs as wanted"
    )
    if m.eaten:
        yield f"  the coats eat it: bare it would have {Length(*m.bare):.3f}"


def fit_records(found: Sequence[Mated]) -> list[dict[str, Any]]:
    """The fits as plain data [mm]; share: of pairs with the clearance wanted, 1 being all."""
    return [
        {
            "fit": m.wanted.name,
            "wanted": [m.wanted.least, m.wanted.most],
            "clearance": [_mm(c) for c in m.fit.clearance()],
            "bare": [_mm(c) for c in m.bare],
            "holds": m.holds,
            "lacks": _mm(m.lacks),
            "eaten by coats": m.eaten,
            "share": round(1 - m.by_chance().outside, 6),
        }
        for m in found
    ]


def _way(clearance: float) -> str:
    return f"{Length(abs(clearance)):.3f} {'tight' if clearance < 0 else 'free'}"


def _size(g: Guarantee | ByTool) -> str:
    d = g.asked.dimension
    return f"{g.asked.check.name.replace('/', ': ', 1)} {d.text or show(d.nominal, g.asked.unit)}"


def _cause(link: Link, times: float, unit: Unit) -> str:
    low, high = sorted((abs(times) * link.minus, abs(times) * link.plus))
    if abs(low + high) < 1e-9:
        return f"{link.name} ±{show(high, unit)}"
    return f"{link.name} {show(low, unit)} to {show(high, unit)}"


def _mm(value: float) -> float:
    return round(value, 5) + 0.0
