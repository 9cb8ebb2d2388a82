"""A finding is what is wrong with the joining of a fabrication."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from barstock.drawing.build import Fault, Part


class Mistake(StrEnum):
    """The sorts of mistake that joining is checked for."""

    REMELT = "re-melt"
    NO_HEAT = "no heat"
    PICKLE = "pickle"
    GAP = "gap"
    FIXTURE = "fixture too tight"
    SCREW = "screw"
    SWALLOW = "thread not swallowed"
    WALL = "thin wall"
    MELTS = "piece melts"
    TORCH = "torch"
    FLUX = "flux"


@dataclass(frozen=True)
class Finding:
    """One thing that is wrong, or worth knowing. stops: the work must not be done so.

    about: the joint, piece, screw or hole it speaks of; mend: what to do.
    """

    mistake: Mistake
    about: str
    what: str
    mend: str = ""
    stops: bool = True

    def __str__(self) -> str:
        mend = f"; {self.mend}" if self.mend else ""
        return f"{self.about}: {self.what}{mend}"


def fault_of(part: Part, finding: Finding) -> Fault:
    """The finding as a fault where it is written; one that does not stop the work as a warning."""
    joined = part.joined
    assert joined is not None
    places = {piece.name: piece.place for piece in joined.pieces}
    places |= {screw.name: screw.place for screw in joined.screws}
    places |= {joint.name: joint.place for joint in joined.joints}
    places |= {feature.name: feature.place for feature in part.features}
    return Fault(
        places.get(finding.about, part.place),
        f"{finding.about}: {finding.what}",
        finding.mend,
        part.name,
        grade="error" if finding.stops else "warning",
    )
