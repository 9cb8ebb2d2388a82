"""Chooses the length of the fixing screws: in far enough, not bottoming, not proud; what to saw
off.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from math import floor

from barstock.fabricating.joining_findings import Finding, Mistake
from barstock.handbook.materials import material
from barstock.handbook.screw_lengths import sold_lengths
from barstock.handbook.thread_strength import engagement_length
from barstock.handbook.threads import Thread, thread
from barstock.quantities import Length
from barstock.route import ToShorten

LEAD = 1.0
"""Pitches lost at a sawn and filed end, and left free above the end of a blind thread. Common
practice."""

SLACK = 0.5
"""Share of the engagement wanted below which a screw is refused: it only fixes, it does not
carry. Common practice."""


@dataclass(frozen=True)
class ScrewPlace:
    """The place where a screw goes.

    grip_least, grip_most: limits of the way from where its length is measured (under the head, or
    the top of a countersunk head) to the mouth of the tapped hole [mm]; into: material tapped;
    full_thread: depth of full thread from the mouth [mm]; blind: does the hole end below? out: how
    far the end may stand out behind a through hole [mm]; count: of such screws; of: the screw's
    material.
    """

    name: str
    thread: str
    grip_least: float
    grip_most: float
    into: str
    full_thread: float
    blind: bool = False
    out: float = 0.0
    count: int = 1
    of: str = "steel"


@dataclass(frozen=True)
class ScrewLength:
    """The screw for a place.

    least, most: lengths that do [mm]; stock: as bought [mm]; cut_to: what to shorten it to, the
    stock length where it does as bought [mm]; engaged: thread that holds at least [mm]; wanted:
    what the material asks for [mm]; to_buy: none of those owned does.
    """

    place: ScrewPlace
    least: float
    most: float
    stock: float
    cut_to: float
    engaged: float
    wanted: float
    to_buy: bool = False
    findings: tuple[Finding, ...] = ()

    @property
    def saw_off(self) -> float:
        """The length to saw off [mm]."""
        return round(self.stock - self.cut_to, 3)


def screw_length(place: ScrewPlace, owned: tuple[float, ...] | None = None) -> ScrewLength:
    """The length for a place, from those owned [mm] where given, else those commonly sold.

    Raises UnknownError for a thread or a material not known, ValueError for a grip with its limits
    the wrong way round.
    """
    if not 0 <= place.grip_least <= place.grip_most:
        raise ValueError(f"screw '{place.name}': its least grip is above its most")
    form = thread(place.thread)
    least, most = _range(place, form)
    for lengths, to_buy in ((owned, False), (sold_lengths(form), owned is not None)):
        found = _chosen(least, most, lengths or ())
        if found:
            stock, cut_to = found
            engaged = _engaged(place, form, cut_to)
            wanted = _wanted(place, form)
            return ScrewLength(place, least, most, stock, cut_to, engaged, wanted, to_buy,
                               check_screw(place, cut_to))  # fmt: skip
    what = f"no {place.thread} screw is sold long enough for {Length(least):.1f}"
    finding = Finding(Mistake.SCREW, place.name, what, "use studding, or sink the head deeper")
    return ScrewLength(place, least, most, 0.0, 0.0, 0.0, _wanted(place, form), True, (finding,))


def check_screw(place: ScrewPlace, length: float) -> tuple[Finding, ...]:
    """The faults of a length [mm] in a place: it bottoms, stands proud, holds too little.

    Raises UnknownError for a thread or a material not known.
    """
    return tuple(_wrong(place, thread(place.thread), length))


def to_shorten(found: tuple[ScrewLength, ...]) -> tuple[ToShorten, ...]:
    """The screws to shorten, those alike on one line, by thread, then length."""
    alike: dict[tuple[str, str, float, float], list[ScrewPlace]] = defaultdict(list)
    for each in found:
        if each.saw_off > 0:
            key = (each.place.thread, each.place.of, each.stock, each.cut_to)
            alike[key].append(each.place)
    return tuple(
        ToShorten(
            thread=thread,
            material=of,
            stock=stock,
            cut_to=cut_to,
            count=sum(p.count for p in places),
            places=tuple(p.name for p in places),
        )
        for (thread, of, stock, cut_to), places in sorted(alike.items())
    )


def lacking(found: tuple[ScrewLength, ...]) -> dict[tuple[str, str, float], int]:
    """How many screws to buy, by thread, material and length as sold [mm]."""
    many: dict[tuple[str, str, float], int] = defaultdict(int)
    for each in found:
        if each.to_buy and each.stock:
            many[each.place.thread, each.place.of, each.stock] += each.place.count
    return dict(sorted(many.items()))


def longest_sold(form: Thread) -> float:
    """The longest screw of a thread that is sold [mm]."""
    return max(sold_lengths(form))


def _wanted(place: ScrewPlace, form: Thread) -> float:
    return engagement_length(form, material(place.into))


def _range(place: ScrewPlace, form: Thread) -> tuple[float, float]:
    """Shortest that holds as the material wants, longest that fits [mm]."""
    least = place.grip_most + _wanted(place, form) + LEAD * form.pitch
    room = -LEAD * form.pitch if place.blind else place.out
    return least, place.grip_least + place.full_thread + room


def _engaged(place: ScrewPlace, form: Thread, length: float) -> float:
    """Full thread that holds where the grip is longest [mm]."""
    inside = length - LEAD * form.pitch - place.grip_most
    return max(0.0, min(inside, place.full_thread))


def _chosen(least: float, most: float, lengths: tuple[float, ...]) -> tuple[float, float] | None:
    """Length as bought and what to cut it to: one that does as it is, else the next above."""
    as_bought = [each for each in sorted(lengths) if least <= each <= most + 1e-9]
    if as_bought:
        return as_bought[0], as_bought[0]
    longer = [each for each in sorted(lengths) if each > most]
    if not longer:
        return None
    step = 0.5 if floor(most * 2) / 2 >= least else 0.1
    return longer[0], round(floor(most / step + 1e-9) * step, 3)


def _wrong(place: ScrewPlace, form: Thread, length: float) -> Iterator[Finding]:
    least, most = _range(place, form)
    over = length - most
    if over > 1e-6 and place.blind:
        what = (
            f"a {Length(length):g} {place.thread} screw bottoms {_tenths(over)} before its head "
            "is down"
        )
        yield Finding(Mistake.SCREW, place.name, what, f"shorten it to {Length(most):.1f}")
    elif over > 1e-6:
        allowed = f" ({_tenths(place.out)} may)" if place.out else ""
        what = (
            f"a {Length(length):g} {place.thread} screw stands {_tenths(over + place.out)} "
            f"proud{allowed}"
        )
        yield Finding(Mistake.SCREW, place.name, what, f"shorten it to {Length(most):.1f}")
    engaged, wanted = _engaged(place, form, length), _wanted(place, form)
    if engaged < wanted - 1e-6:
        what = f"a {Length(length):g} {place.thread} screw holds by {_tenths(engaged)} of thread; "
        what += f"{place.into} wants {_tenths(wanted)}"
        can = most >= least
        mend = (
            f"take one of {Length(least):.1f} or more" if can else "tap deeper, or use more screws"
        )
        yield Finding(Mistake.SCREW, place.name, what, mend, engaged < SLACK * wanted)


def _tenths(length: float) -> str:
    return f"{Length(length):.1f}"
