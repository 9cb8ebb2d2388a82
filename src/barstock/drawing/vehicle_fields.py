"""The fields of a vehicle: how it is written in build.yaml.

Places: along the track from the middle of the vehicle, forward positive; across from its centre
line, left positive; heights above the rail, laden and at rest.
"""

from __future__ import annotations

from pydantic import Field

from barstock.reading.fields import Fields, Written


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
    """A vehicle as written."""

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
