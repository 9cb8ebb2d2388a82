"""The vehicle of a mechanism: masses, axles, springs, bogies and equalisers, and where they are.

Places: along the track from the middle of the vehicle, forward positive; across from its centre
line, left positive; heights above the rail, laden and at rest.
"""

from __future__ import annotations

from dataclasses import dataclass

from barstock.drawing.named_figures import Figures
from barstock.drawing.vehicle_fields import AxleFields, EqualiserFields, VehicleFields
from barstock.reading.amounts import MASS
from barstock.reading.faults import Place, nearest
from barstock.reading.nodes import Listing, Text

SIDES = ("left", "right")


@dataclass(frozen=True)
class Mass:
    """A mass where it is. mass [kg] at along, across, height [mm]; size: length, width, height of
    the block [mm].
    """

    name: str
    mass: float
    along: float
    across: float
    height: float
    size: tuple[float, float, float] = (0.0, 0.0, 0.0)


@dataclass(frozen=True)
class Axle:
    """An axle with its two wheels. along [mm]; mass [kg]; spring: by name, "" where rigid; bogie,
    guide: by name or "".
    """

    name: str
    along: float
    mass: float
    spring: str = ""
    springs: int = 1
    bogie: str = ""
    guide: str = ""

    @property
    def boxes(self) -> tuple[str, str]:
        """The names of the axle's two boxes: "leading left", "leading right"."""
        return (f"{self.name} left", f"{self.name} right")


@dataclass(frozen=True)
class Bearers:
    """The side bearers of a bogie. apart, gap [mm]; spring: under each, by name, "" where they are
    hard.
    """

    apart: float
    gap: float = 0.0
    spring: str = ""
    springs: int = 1


@dataclass(frozen=True)
class Bogie:
    """A bogie of a vehicle. frame: its mass and place; pivot: height of the body's rest above the
    rail [mm].
    """

    name: str
    along: float
    frame: Mass
    pivot: float
    bearers: Bearers | None = None


@dataclass(frozen=True)
class Equaliser:
    """A lever between two boxes. pivot: its place, as a share of the way from the first."""

    name: str
    between: tuple[str, str]
    pivot: float = 0.5
    spring: str = ""
    springs: int = 1


@dataclass(frozen=True)
class Vehicle:
    """A vehicle with its masses. wheel: radius [mm]; centres: across between springs [mm].

    bump, rebound: of a box from where it is laden, None where nothing stops it [mm].
    """

    masses: tuple[Mass, ...]
    load: tuple[Mass, ...]
    axles: tuple[Axle, ...]
    wheel: float
    centres: float
    place: Place
    bump: float | None = None
    rebound: float | None = None
    bogies: tuple[Bogie, ...] = ()
    equalisers: tuple[Equaliser, ...] = ()
    damping: float = 0.05


def read_vehicle(
    fields: VehicleFields | None,
    within: Figures,
    springs: tuple[str, ...],
    guides: tuple[str, ...],
) -> Vehicle | None:
    """The vehicle as written. springs, guides: the names of compression springs and guides."""
    if fields is None:
        return None
    written = within.inside("vehicle")
    axles = tuple(_axle(fields.axles[n], n, f, fields, springs, guides)
                  for n, f in written.each("axles") if n in fields.axles)  # fmt: skip
    bogies = tuple(_bogie(n, f, springs) for n, f in written.each("bogies"))
    equalisers = tuple(
        _equaliser(fields.equalisers[n], n, f, axles, springs)
        for n, f in written.each("equalisers")
        if n in fields.equalisers
    )
    vehicle = Vehicle(
        masses=tuple(_mass(n, f) for n, f in written.each("masses")),
        load=tuple(_mass(n, f) for n, f in written.each("load")),
        axles=axles,
        wheel=written.positive("wheel") / 2,
        centres=written.positive("spring centres"),
        place=written.node.place,
        bump=written.positive("bump") if written.has("bump") else None,
        rebound=written.positive("rebound") if written.has("rebound") else None,
        bogies=bogies,
        equalisers=equalisers,
        damping=fields.damping,
    )
    _stands(vehicle, written)
    return vehicle


def _stands(vehicle: Vehicle, written: Figures) -> None:
    """Has the vehicle wheels enough to stand on, and masses on them?"""
    if not vehicle.masses:
        written.fault("masses", "nothing is given for the springs to carry", "give the masses")
    if len({axle.along for axle in vehicle.axles}) < 2:
        written.fault("axles", "a vehicle needs two axles to stand on", "give another, elsewhere")
    for bogie in vehicle.bogies:
        if len({axle.along for axle in vehicle.axles if axle.bogie == bogie.name}) < 2:
            what = f"the bogie '{bogie.name}' needs two axles to stand on"
            written.fault("bogies", what, f"write 'bogie: {bogie.name}' at its axles")
    loose = [axle for axle in vehicle.axles if not axle.bogie]
    rests = {*(bogie.along for bogie in vehicle.bogies), *(axle.along for axle in loose)}
    if vehicle.bogies and len(rests) < 2:
        written.fault("bogies", "the body rests at one place only and would tip", "give another")


def _mass(name: str, figures: Figures) -> Mass:
    return Mass(
        name,
        figures.amount("mass", MASS),
        figures.length("along"),
        figures.length("across"),
        figures.length("height"),
        (figures.positive("length"), figures.positive("width"), figures.positive("tall")),
    )


def _axle(
    fields: AxleFields,
    name: str,
    figures: Figures,
    of: VehicleFields,
    springs: tuple[str, ...],
    guides: tuple[str, ...],
) -> Axle:
    figures.known("spring", springs, "compression spring")
    figures.known("bogie", of.bogies, "bogie")
    figures.known("guide", guides, "guide")
    return Axle(
        name,
        figures.length("along"),
        figures.amount("mass", MASS),
        fields.spring or "",
        fields.springs,
        fields.bogie or "",
        fields.guide or "",
    )


def _bogie(name: str, figures: Figures, springs: tuple[str, ...]) -> Bogie:
    along = figures.length("along")
    frame = Mass(
        name,
        figures.amount("mass", MASS),
        along,
        0.0,
        figures.length("height"),
        (figures.positive("length"), figures.positive("width"), 0.0),
    )
    side = figures.inside("side bearers")
    side.known("spring", springs, "compression spring")
    count = side.text("springs")
    bearers = Bearers(
        side.positive("apart"),
        side.length("gap"),
        side.text("spring"),
        int(count) if count.isdigit() else 1,
    )
    has = figures.has("side bearers")
    return Bogie(name, along, frame, figures.positive("pivot height"), bearers if has else None)


def _equaliser(
    fields: EqualiserFields,
    name: str,
    figures: Figures,
    axles: tuple[Axle, ...],
    springs: tuple[str, ...],
) -> Equaliser:
    figures.known("spring", springs, "compression spring")
    boxes = [box for axle in axles for box in axle.boxes]
    node = figures.node.entries["between"].value  # type: ignore[union-attr]
    for item in node.items if isinstance(node, Listing) else ():
        if isinstance(item, Text) and item.text not in boxes:
            what = f"there is no box '{item.text}'"
            figures.report(item.place, what, nearest(item.text, boxes))
    return Equaliser(name, fields.between, fields.pivot, fields.spring or "", fields.springs)
