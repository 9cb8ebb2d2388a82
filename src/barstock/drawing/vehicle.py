"""The vehicle of a mechanism: masses, axles, springs, bogies and equalisers, and where they are.

Places: along the track from the middle of the vehicle, forward positive; across from its centre
line, left positive; heights above the rail, laden and at rest.
"""

from __future__ import annotations

from dataclasses import dataclass

from pydantic import Field

from barstock.drawing.figures import Figures
from barstock.reading.amounts import MASS
from barstock.reading.faults import Place, nearest
from barstock.reading.fields import Fields, Written
from barstock.reading.nodes import Listing, Text

SIDES = ("left", "right")


class MassFields(Fields):
    """A mass with its place, and its sizes where its inertia counts."""

    mass: Written = Field(description="12 kg, 26 lb.")
    height: Written = Field(description="Of its centre above the rail.")
    along: Written = Field("0", description="Of its centre from the vehicle's middle, forward.")
    across: Written = Field("0", description="Of its centre from the centre line, to the left.")
    length: Written | None = Field(None, description="Over all along; a block is reckoned with.")
    width: Written | None = Field(None, description="Over all across.")
    tall: Written | None = Field(None, description="Over all upward.")


class AxleFields(Fields):
    """An axle with its two wheels and boxes."""

    along: Written = Field(description="From the vehicle's middle, forward.")
    mass: Written = Field(description="Of wheels, axle and boxes: all that no spring carries.")
    spring: str | None = Field(None, description="At each box, by name; none: the box is rigid.")
    springs: int = Field(1, ge=1, le=8, description="How many at each box.")
    bogie: str | None = Field(None, description="The bogie it belongs to.")
    guide: str | None = Field(None, description="The guide its boxes move in, by name.")


class BearerFields(Fields):
    """Side bearers of a bogie."""

    apart: Written = Field(description="Across, from one to the other.")
    gap: Written = Field("0", description="At rest, between bearer and body; 0 where they bear.")
    spring: str | None = Field(
        None, description="Under each, by name; the pivot then carries none."
    )
    springs: int = Field(1, ge=1, le=8, description="How many under each.")


class BogieFields(Fields):
    """A bogie's frame. Its pivot carries the body and lets it turn and rock."""

    along: Written = Field(description="Of its pivot, from the vehicle's middle, forward.")
    mass: Written = Field(description="Of the frame: what its own springs carry.")
    height: Written = Field(description="Of that mass's centre above the rail.")
    pivot_height: Written = Field(description="Where the body rests, above the rail.")
    length: Written | None = Field(None, description="Over all along; a block is reckoned with.")
    width: Written | None = Field(None, description="Over all across.")
    side_bearers: BearerFields | None = Field(None, description="What steadies the body on it.")


class EqualiserFields(Fields):
    """A lever between two boxes that shares a load between them."""

    between: tuple[str, str] = Field(description="Two boxes: [leading left, trailing left].")
    pivot: float = Field(
        0.5,
        gt=0,
        lt=1,
        description="Where it pivots on the frame, as a share of the way to the other.",
    )
    spring: str | None = Field(None, description="Between its pivot and the frame, by name.")
    springs: int = Field(1, ge=1, le=8, description="How many there.")


class VehicleFields(Fields):
    """A vehicle."""

    masses: dict[str, MassFields] = Field(description="What the springs carry, always on it.")
    load: dict[str, MassFields] = Field(
        {}, description="What is on it laden: coal, slate, a driver."
    )
    axles: dict[str, AxleFields] = Field(description="Its axles by name.")
    wheel: Written = Field(description="Diameter of the wheels on the tread.")
    spring_centres: Written = Field(
        description="Across, from the springs of one side to the other's."
    )
    bump: Written | None = Field(
        None, description="How far a box can rise from where it is laden before it touches."
    )
    rebound: Written | None = Field(
        None, description="How far a box can drop from where it is laden before its keep holds it."
    )
    bogies: dict[str, BogieFields] = Field({}, description="Its bogies by name.")
    equalisers: dict[str, EqualiserFields] = Field({}, description="Levers between boxes, by name.")
    damping: float = Field(
        0.05, ge=0, lt=1, description="Of the body on its springs, as a share of critical damping."
    )


@dataclass(frozen=True)
class Mass:
    """mass [kg] at along, across, height [mm]; size: length, width, height of the block [mm]."""

    name: str
    mass: float
    along: float
    across: float
    height: float
    size: tuple[float, float, float] = (0.0, 0.0, 0.0)


@dataclass(frozen=True)
class Axle:
    """along [mm]; mass [kg]; spring: by name, "" where rigid; bogie, guide: by name or ""."""

    name: str
    along: float
    mass: float
    spring: str = ""
    springs: int = 1
    bogie: str = ""
    guide: str = ""

    @property
    def boxes(self) -> tuple[str, str]:
        """Their names: "leading left", "leading right"."""
        return (f"{self.name} left", f"{self.name} right")


@dataclass(frozen=True)
class Bearers:
    """apart, gap [mm]; spring: under each, by name, "" where they are hard."""

    apart: float
    gap: float = 0.0
    spring: str = ""
    springs: int = 1


@dataclass(frozen=True)
class Bogie:
    """frame: its mass and place; pivot: height of the body's rest above the rail [mm]."""

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
    """A vehicle. wheel: radius [mm]; centres: across between springs [mm].

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
    """Has it wheels enough to stand on, and masses on them?"""
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
