"""The mechanism of a build: what is to move when the parts are together, and on what track."""

from __future__ import annotations

from dataclasses import dataclass

from pydantic import Field

from barstock.drawing.guides import Guide, GuideFields, read_guides
from barstock.drawing.named_figures import Figures
from barstock.drawing.sizes_by_name import written_features
from barstock.drawing.springs import Spring, SpringFields, read_springs
from barstock.drawing.track_measured import Track, TrackFields, read_track
from barstock.drawing.vehicle import Vehicle, read_vehicle
from barstock.drawing.vehicle_fields import VehicleFields
from barstock.quantities import Unit
from barstock.reading.faults import Fault
from barstock.reading.fields import Fields
from barstock.reading.nodes import Table


class MechanismFields(Fields):
    """The mechanism as written."""

    springs: dict[str, SpringFields] = Field({}, description="The springs by name.")
    guides: dict[str, GuideFields] = Field({}, description="Blocks that move in guides, by name.")
    vehicle: VehicleFields | None = Field(None, description="The vehicle that stands on them.")
    track: TrackFields | None = Field(None, description="The track it is to run on.")


@dataclass(frozen=True)
class Mechanism:
    """The springs, guides, vehicle and track of a build."""

    springs: tuple[Spring, ...] = ()
    guides: tuple[Guide, ...] = ()
    vehicle: Vehicle | None = None
    track: Track | None = None

    def guide(self, name: str) -> Guide:
        """The guide of that name. Raises KeyError if there is none."""
        for guide in self.guides:
            if guide.name == name:
                return guide
        raise KeyError(name)


def read_mechanism(
    fields: MechanismFields | None, table: Table, unit: Unit
) -> tuple[Mechanism | None, list[Fault]]:
    """The mechanism written in a build's table, and what is wrong in it but for its form.

    unit: what bare lengths are in.
    """
    if fields is None:
        return None, []
    faults: list[Fault] = []
    whole = Figures(table, unit, lambda *told: faults.append(Fault(*told)))
    written = whole.inside("mechanism")
    features = written_features(table)
    springs = read_springs(fields.springs, written, features)
    pressed = tuple(spring.name for spring in springs if spring.kind == "compression")
    vehicle = read_vehicle(fields.vehicle, written, pressed, tuple(fields.guides))
    if vehicle is not None and fields.track is None:
        written.fault("vehicle", "nothing says what track the vehicle is to run on", "add 'track'")
    guides = read_guides(fields.guides, written, features)
    return Mechanism(springs, guides, vehicle, read_track(fields.track, written)), faults
