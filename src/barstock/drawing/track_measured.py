"""The track a vehicle is to run on, as measured or as the club's rules give it."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from pydantic import Field

from barstock.drawing.named_figures import Figures
from barstock.reading.amounts import SPEED
from barstock.reading.fields import Fields, Written


class DipFields(Fields):
    """A low place in a rail, rounded like one wave of a cosine."""

    depth: Written = Field(description="At its lowest.")
    length: Written = Field(description="From where it begins to where it ends.")


class CurveFields(Fields):
    """A curve of the track, as written."""

    radius: Written = Field(description="Of the track's centre line.")
    cant: Written = Field("0", description="By how much the outer rail is the higher.")


class BumpsFields(Fields):
    """Rail joints, one after another: the rail sinks at each as in a dip."""

    depth: Written = Field(description="How far the rail sinks at a joint.")
    length: Written = Field(description="From where it begins to sink to where it is level again.")
    spacing: Written = Field(description="From joint to joint.")
    staggered: bool = Field(True, description="The two rails' joints half a spacing apart.")


class TrackFields(Fields):
    """A track as written."""

    gauge: Written = Field(description="Between the rails.")
    rail_head: Written | None = Field(
        None,
        description="Its width: the wheels bear upon its middle. Without it, a tenth of gauge.",
    )
    twist: Written | None = Field(
        None, description="Change of cross level along the track: 1 in 60, 7 ‰."
    )
    dip: DipFields | None = Field(None, description="The worst dip, in one rail.")
    curve: CurveFields | None = Field(None, description="The sharpest curve.")
    joints: BumpsFields | None = Field(None, description="To run over in time.")
    speed: Written | None = Field(None, description="The highest run at: 8 km/h, 5 mph.")


@dataclass(frozen=True)
class Dip:
    """A low place in a rail. depth, length [mm]."""

    depth: float
    length: float


@dataclass(frozen=True)
class Joints:
    """Rail joints, one after another. depth, length, spacing [mm]."""

    depth: float
    length: float
    spacing: float
    staggered: bool


@dataclass(frozen=True)
class Track:
    """The track that a vehicle is to run on. Lengths [mm]; twist: change of cross level over
    distance run; speed [m/s].

    tread: across, from where one wheel bears to where the other does. radius: inf where straight.
    """

    gauge: float
    tread: float
    twist: float = 0.0
    dip: Dip | None = None
    radius: float = inf
    cant: float = 0.0
    joints: Joints | None = None
    speed: float = 0.0


HEAD = 0.1
"""Width of a rail's head over the gauge. Common practice in the small gauges."""


def read_track(fields: TrackFields | None, within: Figures) -> Track | None:
    """The track as written."""
    if fields is None:
        return None
    track = within.inside("track")
    dip, curve, joints = track.inside("dip"), track.inside("curve"), track.inside("joints")
    gauge = track.positive("gauge")
    if joints.length("length") > joints.length("spacing"):
        joints.fault("length", "a joint's dip is longer than the spacing of joints", "shorten it")
    return Track(
        gauge=gauge,
        tread=gauge + track.positive("rail head", HEAD * gauge),
        twist=track.slope("twist"),
        dip=Dip(dip.positive("depth"), dip.positive("length")) if fields.dip else None,
        radius=curve.positive("radius") if fields.curve else inf,
        cant=curve.length("cant"),
        joints=Joints(
            joints.positive("depth"),
            joints.positive("length"),
            joints.positive("spacing"),
            fields.joints.staggered,
        )
        if fields.joints
        else None,
        speed=track.amount("speed", SPEED),
    )
