"""What a changed drawing or shop touches of the work that is planned and half done."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from barstock.bench.work import Work
from barstock.drawing.build import Build, Part
from barstock.route import Route
from barstock.store.content import digest


@dataclass(frozen=True)
class Change:
    """One thing that differs from what the route was planned from.

    what: in words. operations: of the route that make it; done: those of them that copies have.
    """

    part: str
    what: str
    operations: tuple[str, ...] = ()
    done: tuple[str, ...] = ()


def changes(was: Build, now: Build, route: Route, work: Work) -> list[Change]:
    """What differs between the drawing the route was planned from and the drawing now."""
    before = {part.name: part for part in was.parts}
    after = {part.name: part for part in now.parts}
    found = []
    for name in dict.fromkeys([*before, *after]):
        old, new = before.get(name), after.get(name)
        if old is None:
            found.append(Change(name, "a new part"))
        elif new is None:
            found.append(_change(name, "no longer in the build", None, route, work))
        else:
            found += _part(old, new, route, work)
    if digest(was.pins) != digest(now.pins):
        found.append(Change("", "the pins"))
    if digest(was.general, was.least_wall) != digest(now.general, now.least_wall):
        found.append(Change("", "the general tolerance or the least wall"))
    return found


def _part(old: Part, new: Part, route: Route, work: Work) -> Iterable[Change]:
    if old.copies != new.copies:
        yield Change(old.name, f"{new.copies} wanted instead of {old.copies}")
    if _bare(old) != _bare(new):
        yield _change(old.name, "its sizes, its material or its bar", None, route, work)
    before, after = _features(old), _features(new)
    for name in dict.fromkeys([*before, *after]):
        if before.get(name) == after.get(name):
            continue
        how = "new" if name not in before else "gone" if name not in after else "changed"
        yield _change(old.name, f"{name}: {how}", name, route, work)


def _bare(part: Part) -> str:
    """What a part is without its features; where it stands in which file does not matter."""
    return digest(replace(part, features=(), copies=0))


def _features(part: Part) -> dict[str, str]:
    return {f.name: digest(f.kind, f.spec) for f in part.features}


def _change(part: str, what: str, feature: str | None, route: Route, work: Work) -> Change:
    operations = tuple(
        o.id
        for s in route.setups
        for o in s.operations
        if o.part == part and (feature is None or feature in o.features)
    )
    return Change(part, what, operations, tuple(o for o in operations if work.copies(o)))
