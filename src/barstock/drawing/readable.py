"""Leaves out of a build what names parts and features that cannot be read."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from barstock.drawing.build import Build, Part, Pin, Side, within
from barstock.drawing.mechanism_wanted import Mechanism


def only_read(build: Build, faulty: Collection[str]) -> Build:
    """The build without pins, fits, springs, guides and vehicle that rest on what is not there.

    faulty: the parts with faults, which no guide can stand on.
    """
    gone = [one.name for one in build.unread]
    gone += [f"{part.name}/{feature}" for part in build.parts for feature in part.unread]
    if not gone and not faulty:
        return build
    return replace(
        build,
        pins=tuple(pin for pin in build.pins if not _pins_down(pin, gone)),
        fits=tuple(f for f in build.fits if _there(f.inside, gone) and _there(f.outside, gone)),
        mechanism=build.mechanism and _mechanism(build.mechanism, build, gone, faulty),
    )


def _pins_down(pin: Pin, gone: Collection[str]) -> bool:
    return any(within(one, name) for one in gone for name in pin.names)


def _there(side: Side, gone: Collection[str]) -> bool:
    return not any(within(one, name) for one in gone for name in side.names)


def _mechanism(
    whole: Mechanism, build: Build, gone: Collection[str], faulty: Collection[str]
) -> Mechanism:
    """What of it can be judged. The vehicle stands on all of them."""
    named = {part.name: part for part in build.parts if part.name not in faulty}
    guides = tuple(
        guide
        for guide in whole.guides
        if all(_whole(named.get(one.part), faulty) for one in (guide.block, *guide.fixed))
    )
    springs = tuple(
        spring
        for spring in whole.springs
        if not any(within(one, hollow.of) for one in gone for hollow in spring.hollows)
    )
    all_there = (guides, springs) == (whole.guides, whole.springs)
    return replace(
        whole, guides=guides, springs=springs, vehicle=whole.vehicle if all_there else None
    )


def _whole(part: Part | None, faulty: Collection[str]) -> bool:
    """Is a part there with all its features, and those of its pieces?"""
    if part is None or part.unread or part.name in faulty:
        return False
    pieces = part.joined.pieces if part.joined else ()
    return all(_whole(piece.part, faulty) for piece in pieces)
