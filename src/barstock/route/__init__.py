"""The route: what is printed, and all that the proof is given. Plain data, JSON in and out.

Three frames. *Work* frame: the part's (drawing/build.py) or, for a bar, the same axes with x from
the bar's left sawn end and y, z from the raw section's front and bottom. *Table* frame: x along the
jaws to the right, y away from the operator, z up; y = 0 at the fixed jaw (which is at the back) or
at the fence of work strapped to the table, z = 0 at the vise bed or the table, x = 0 at the stop.
*Readings*: table positions relative to the zero found.

Placing a work: turn it so that the face `up` looks up and the face `fixed_jaw` looks to the back
(+y); then tilt it about the table's y axis by `tilt` degrees (positive lifts the right-hand end);
then slide it until its lowest point is at z = packing, its rearmost point below the jaws' top at
y = 0, and its leftmost (stop "left") or rightmost (stop "right", else leftmost) at x = 0. Devices
other than a vise on a mill or drill press ("bench vise", the saw) need no placing: their moves
(SawOff, Shape) are measured from the work's own extremes.

Zeros are found on the work as it then is (its extreme on that side). x, y: a finder of tip diameter
d is brought against the edge from outside and the axis set to `set_to` there, so that reading R is
at edge -/+ d/2 + (R - set_to) ("-" on the left/front, "+" on the right/back). "centre" is half way
between both extremes, set to `set_to`. y may be found on "fixed jaw" (y = 0 itself) likewise from
the front with the finder. Where a zero is `on` a body that holds the work, the sides of that body
are touched and not the work's. z: "top" is the work's highest point touched with each cutter;
"rest" is the packing's top, touched over a gauge of `gauge` mm (`gauge_of`: what it is, of the
shop's own); reading there is `set_to`.
"""

from __future__ import annotations

from barstock.route.bar_pieces import BarPiece
from barstock.route.expected import Expect, HowRead, Made, ReadingWay
from barstock.route.holdings import (
    Body,
    BodyKind,
    Holding,
    Side,
    TiltBy,
    TiltSetting,
    Towards,
    Turned,
    Zero,
)
from barstock.route.joined import (
    Fabrication,
    FixingScrews,
    FixtureBlock,
    FixtureScrewHole,
    FixtureStop,
    GapKind,
    GapSetBy,
    GapSize,
    JointToMake,
    LocatedPiece,
    PitchHeld,
    Ring,
    StandingPiece,
    ToShorten,
)
from barstock.route.joining_work import (
    BathDip,
    Cleaning,
    HandCleaning,
    HearthStep,
    HearthStepKind,
    Heat,
    HeatHolding,
    HeatReason,
    HeatReasonKind,
    Melt,
    MeltKind,
    NoFiller,
    NoFillerKind,
    TorchCan,
)
from barstock.route.left import Left, LeftHow, Tried
from barstock.route.moves import (
    Cutter,
    Does,
    FileLevel,
    FileSquare,
    Move,
    Plunge,
    SawOff,
    Shape,
    Traverse,
)
from barstock.route.operations import Operation, Process
from barstock.route.record import Record
from barstock.route.setups import Setup
from barstock.route.whole import VERSION, Route, Summary

__all__ = [
    "VERSION",
    "BarPiece",
    "BathDip",
    "Body",
    "BodyKind",
    "Cleaning",
    "Cutter",
    "Does",
    "Expect",
    "Fabrication",
    "FileLevel",
    "FileSquare",
    "FixingScrews",
    "FixtureBlock",
    "FixtureScrewHole",
    "FixtureStop",
    "GapKind",
    "GapSetBy",
    "GapSize",
    "HandCleaning",
    "HearthStep",
    "HearthStepKind",
    "Heat",
    "HeatHolding",
    "HeatReason",
    "HeatReasonKind",
    "Holding",
    "HowRead",
    "JointToMake",
    "Left",
    "LeftHow",
    "LocatedPiece",
    "Made",
    "Melt",
    "MeltKind",
    "Move",
    "NoFiller",
    "NoFillerKind",
    "Operation",
    "PitchHeld",
    "Plunge",
    "Process",
    "ReadingWay",
    "Record",
    "Ring",
    "Route",
    "SawOff",
    "Setup",
    "Shape",
    "Side",
    "StandingPiece",
    "Summary",
    "TiltBy",
    "TiltSetting",
    "ToShorten",
    "TorchCan",
    "Towards",
    "Traverse",
    "Tried",
    "Turned",
    "Zero",
]
