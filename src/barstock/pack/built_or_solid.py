"""Compares a fabrication built up from pieces with the same thing cut from one bar.

Each way is planned for itself and proved; a way that cannot be is told of with its reason.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from barstock.drawing.build import Build, Part
from barstock.errors import UnplannableError
from barstock.fabricating.from_solid import NotFromSolidError, from_solid
from barstock.handbook.materials import material
from barstock.methods.drawn_solid import drawn_solid
from barstock.planning.order.part_order import NoOrderError
from barstock.planning.order.user_pins import ClashError, PinError
from barstock.planning.other_ways import made_otherwise, to_plan
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.route import BarPiece
from barstock.stocking.bar_choice import NoBarError
from barstock.words.reasons import rule
from barstock.words.summary import told_summary
from barstock.workshop.shop import Workshop


@dataclass(frozen=True)
class Way:
    """One way of making all copies. bought: of bar [g]; chips: what of it is cut away [cm3]; hours:
    of all of it, the fixture's with it; hearth: of them at the hearth; heats: of each copy; buy:
    what the shop lacks; trouble: why it cannot be made so, or what its proof refuses, "" if it can.
    """

    name: str
    bought: float = 0.0
    chips: float = 0.0
    hours: float = 0.0
    hearth: float = 0.0
    heats: int = 0
    setups: int = 0
    buy: tuple[str, ...] = ()
    trouble: str = ""

    @property
    def proven(self) -> bool:
        """Does the way's route make the thing as drawn?"""
        return not self.trouble


@dataclass(frozen=True)
class Compared:
    """Both ways. solid is None where the build does not say how it would be cut from one bar and
    that does not follow from the pieces: why_not; differs: volume by which the two drawings differ
    [mm3]."""

    part: str
    copies: int
    built: Way
    solid: Way | None
    differs: float = 0.0
    why_not: str = ""


def compared(build: Build, part: Part, workshop: Workshop) -> Compared:
    """Compare the two ways of making a fabrication of a build."""
    joined = part.joined
    assert joined is not None
    pieces = [piece.part for piece in joined.pieces]
    parts = [replace(p, copies=part.copies * pieces.count(p)) for p in dict.fromkeys(pieces)]
    if joined.fixture and joined.fixture.part:
        parts.append(joined.fixture.part)
    own = replace(build, parts=(*parts, part), pins=(), fits=())
    built = _way("built up", own, part, workshop)
    try:
        whole = joined.solid or from_solid(part, workshop)
    except NotFromSolidError as reason:
        return Compared(part.name, part.copies, built, None, why_not=str(reason))
    alone = replace(build, parts=(whole,), pins=(), fits=())
    solid = _way("from the solid", alone, whole, workshop)
    one, other = drawn_solid(part), drawn_solid(whole)
    differs = one.cut(other).volume + other.cut(one).volume
    return Compared(part.name, part.copies, built, solid, round(differs, 1))


def _way(name: str, build: Build, part: Part, workshop: Workshop) -> Way:
    try:
        route = plan_build(to_plan(build), workshop)
        route = route.model_copy(update={"left": made_otherwise(build)})
    except ClashError as clash:
        return Way(name, trouble=clash.in_words(rule))
    except (UnplannableError, NoBarError, PinError, NoOrderError) as reason:
        return Way(name, trouble=str(reason))
    proof = prove(route, build)
    wrong = [str(v) for v in proof.violations if v.severity == "error"]
    volume = drawn_solid(part).volume * part.copies
    fixture = [p for p in build.parts if not p.joined and _is_fixture(p, part)]
    volume += sum(drawn_solid(p).volume for p in fixture)
    raw = sum(_volume(bar) for bar in route.bars)
    return Way(
        name,
        bought=sum(_volume(bar) / 1000 * material(bar.material).density for bar in route.bars),
        chips=(raw - volume) / 1000,
        hours=route.summary.hours,
        hearth=route.summary.hearth_hours,
        heats=sum(len(one.heats) for one in route.fabrications),
        setups=len(route.setups),
        buy=told_summary(route.summary, build, workshop.unit).buy,
        trouble=wrong[0] if wrong else "",
    )


def _is_fixture(part: Part, whole: Part) -> bool:
    joined = whole.joined
    return bool(joined and joined.fixture and joined.fixture.part == part)


def _volume(bar: BarPiece) -> float:
    """Of all its lengths as they are sawn from the rack [mm3]."""
    return bar.width * bar.height * bar.length * bar.count


def lines(found: Compared) -> Iterator[str]:
    """The comparison as it is printed, line by line."""
    yield f"{found.part}, {found.copies} off"
    ways = [found.built, *([found.solid] if found.solid else [])]
    for way in ways:
        yield ""
        yield f"{way.name}:"
        if way.trouble and not way.hours:
            yield f"  cannot be made so in this shop: {way.trouble}"
            continue
        yield f"  bar      {way.bought / 1000:.2f} kg, {way.chips:.0f} cm3 of it to chips"
        yield f"  setups   {way.setups}, {way.hours:.1f} hours"
        yield f"  heats    {way.heats} for each, {way.hearth:.1f} of the hours at the hearth"
        for thing in way.buy:
            yield f"  to buy   {thing}"
        yield "  proven: as drawn" if way.proven else f"  NOT proven: {way.trouble}"
    yield ""
    yield from _verdict(found)


def _verdict(found: Compared) -> Iterator[str]:
    if found.solid is None:
        yield (
            "How it would be cut from one bar does not follow from the pieces by itself: "
            f"{found.why_not}. Write it under '{found.part}' as 'from the solid'."
        )
        return
    if found.differs > 1.0:
        yield (
            f"The two drawings differ by {found.differs:.0f} mm3: look at corners that a cutter "
            "leaves round, and at what is left of old holes."
        )
    if found.built.proven and found.solid.proven:
        spent = {way.name: way.hours for way in (found.built, found.solid)}
        quick = min(spent, key=lambda name: spent[name])
        saves = max(spent.values()) - min(spent.values())
        yield f"{quick[0].upper()}{quick[1:]} is quicker by {saves:.1f} hours."


def as_record(found: Compared) -> Mapping[str, object]:
    """The comparison as plain data."""
    from dataclasses import asdict

    return asdict(found)
