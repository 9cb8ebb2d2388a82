"""Makes the route of a whole build from the plans of its parts and the order of their setups."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import floor

from barstock.drawing.build import Build, Pin
from barstock.fabricating.fabrication_record import fabrication_of, screws_to_buy, shortened
from barstock.machines.saw import sawing_machine
from barstock.planning.not_listed import bar_to_buy, tool_to_buy, unlisted
from barstock.planning.order.arranging import Arranged
from barstock.planning.order.shared_patterns import Shared
from barstock.planning.order.user_pins import priced
from barstock.planning.part_plan import PartPlan
from barstock.route import Fabrication, Made, Route, Setup, Summary
from barstock.route.statements import Note, NoteKind, ReasonKind, because
from barstock.stocking.bar_choice import lacking
from barstock.workshop.shop import Workshop


@dataclass(frozen=True)
class Whole:
    """All parts planned, their setups in order. bound: minutes that no order of them can beat;
    shared: the hole patterns that are made by an earlier setup's readings."""

    plans: tuple[PartPlan, ...]
    arranged: Arranged
    bound: float
    shared: tuple[Shared, ...] = ()

    @property
    def minutes(self) -> float:
        """The minutes of all setups."""
        return sum(s.minutes for s in self.arranged.setups)


def route_of(
    build: Build,
    whole: Whole,
    shop: Workshop,
    costs: Mapping[Pin, float],
    saved_in_bar: Mapping[str, float],
) -> Route:
    """The route of a planned build. costs: minutes of each pin; saved_in_bar: those that a part
    saves by what is milled in the bar."""
    plans = whole.plans
    setups = tuple(
        s.model_copy(update={"id": str(n), "picture": f"setup-{n}.svg"})
        for n, s in enumerate(whole.arranged.setups, 1)
    )
    setups = _patterned(setups, whole)
    minutes = {s.id: s.minutes for s in setups}
    total = sum(minutes.values())
    tools = {name: tool for p in plans for name, tool in p.prepared.to_buy.items()}
    buy = [tool_to_buy(tool) for tool in tools.values()]
    sawing = [
        (p.prepared.stock.bar, p.bar.length, p.bar.count)
        for p in plans
        if p.bar and not (p.prepared.begun and p.prepared.begun.sawn)
    ]
    buy += map(bar_to_buy, lacking(sawing, sawing_machine(shop).kerf))
    buy += unlisted(setups, shop, {p.bar.id: p.part.name for p in plans if p.bar})
    buy += screws_to_buy(build.fabrications, shop)
    saved = whole.arranged.saved
    notes = []
    if saved >= 1:
        notes.append(Note(kind=NoteKind.HELD_ALIKE, numbers={"minutes": saved}))
    for p in plans:
        if p.bar and any(s.stage == "bar" and not s.saws for s in p.setups):
            numbers = {"pieces": p.bar.pieces, "minutes": saved_in_bar[p.part.name]}
            named = {"part": p.part.name}
            notes.append(Note(kind=NoteKind.IN_THE_BAR, names=named, numbers=numbers))
    planned = sum(len(p.setups) for p in plans)
    begun = sum(s.minutes for s in whole.arranged.setups[: len(setups) - planned])
    if any(p.prepared.begun for p in plans):
        notes.append(Note(kind=NoteKind.DONE_STAYS))
    fabrications = tuple(fabrication_of(part, shop, setups) for part in build.fabrications)
    notes += [_hearth_note(one) for one in fabrications]
    begun_on = {p.part.name for p in plans if p.prepared.begun}
    # what is machined after joining has been at the hearth when it has begun
    hearth = sum(one.left for one in fabrications if one.part not in begun_on)
    bound = min(whole.bound, total) + hearth
    total, begun = total + hearth, begun + hearth
    return Route(
        build=build.name,
        bars=tuple(p.bar for p in plans if p.bar),
        setups=setups,
        fabrications=fabrications,
        index=tuple(_index(plans, setups)),
        summary=Summary(
            hours=round(total / 60, 3),
            hearth_hours=round(hearth / 60, 3),
            minutes_by_setup=minutes,
            buy=tuple(buy),
            shorten=shortened(build.fabrications, shop),
            bound_hours=floor(bound / 60 * 100) / 100,
            optimal=total <= bound + 0.05,
            one_part_at_a_time_hours=round((whole.arranged.one_part + begun) / 60, 2),
            one_tool_at_a_time_hours=round((whole.arranged.one_tool + begun) / 60, 2),
            pins=tuple(priced(pin, cost) for pin, cost in costs.items()),
            notes=tuple(notes),
        ),
    )


def _hearth_note(one: Fabrication) -> Note:
    heats, minutes = one.careful
    numbers = {
        "heats": len(one.heats),
        "minutes": one.minutes,
        "careful_heats": heats,
        "careful_minutes": minutes,
    }
    return Note(kind=NoteKind.HEARTH, names={"part": one.part}, numbers=numbers)


def _patterned(setups: Sequence[Setup], whole: Whole) -> tuple[Setup, ...]:
    """The numbered setups, with word of the hole patterns that an earlier one's readings make."""
    number = {old.id: new for old, new in zip(whole.arranged.setups, setups, strict=True)}
    told = {}
    for p in whole.shared:
        earlier, setup = number[p.earlier], number[p.setup]
        pattern = because(
            ReasonKind.PATTERN,
            feature=p.feature,
            setup=earlier.id,
            work=earlier.work,
            other=p.earlier_feature,
        )
        told[setup.id] = setup.model_copy(update={"why": (*setup.why, pattern)})
    return tuple(told.get(s.id, s) for s in setups)


def _index(plans: Sequence[PartPlan], setups: tuple[Setup, ...]) -> list[Made]:
    names = {p.bar.id: p.part.name for p in plans if p.bar}
    names |= {p.part.name: p.part.name for p in plans}
    found = []
    for setup in setups:
        for operation in setup.operations:
            for check in operation.checks:
                found.append(
                    Made(
                        part=names[setup.work],
                        dimension=check.name,
                        operation=operation.id,
                        setup=setup.id,
                    )
                )
    return sorted(found, key=lambda m: m.part)
