"""How a hole, or a pattern of holes alike, is written."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from barstock.drawing.faces import Face
from barstock.drawing.other_hands import ByHand, FeatureFields
from barstock.methods.place_fields import At
from barstock.reading.fields import Fields, Written


class Countersink(Fields):
    """A countersink as written."""

    diameter: Written | None = Field(None, description="Across the top, at the face.")
    depth: Written | None = Field(
        None, description="Instead of diameter: from the face to where the cone meets the hole."
    )
    angle: Written | None = Field(None, description="Included angle [degrees]; 90 if not given.")


class Counterbore(Fields):
    """A counterbore as written."""

    diameter: Written | None = Field(None, description="Diameter of the wide part.")
    depth: Written | None = Field(None, description="From the face to its flat floor.")


MachineFinish = Literal["drilled", "reamed", "bored", "tapped"]


class HoleFields(FeatureFields[Literal[ByHand, MachineFinish]]):
    """A hole, or a pattern of holes alike, as written."""

    kind: Literal["hole"] = Field("hole", description="A hole or a pattern of holes alike.")
    face: Face = Field(description="Face the hole goes in from.")
    at: At | None = Field(None, description="Centre, list of centres, or pattern.")
    diameter: Written | None = Field(None, description="Finished diameter: 10 H7, #36, 3/16.")
    thread: Written | None = Field(None, description="Thread, instead of diameter: M3, 6 BA.")
    clearance_for: Written | None = Field(
        None, description="Instead of diameter: the thread that passes through, M3 (medium fit)."
    )
    depth: Written | None = Field(
        None, description="'through', or from the face to the end of the full diameter or thread."
    )
    starts_below: Written | None = Field(
        None,
        description="Where the hole starts on a floor: how far that lies below the face; "
        "depths are then measured from the floor.",
    )
    bottom: Literal["point", "flat"] = Field("point", description="Form of a blind hole's end.")
    finish: Literal[ByHand, MachineFinish] | None = Field(
        None,
        description="How it is finished; drilled if not given, tapped where there is a thread. "
        "With its mate: drilled as one with what it goes with clamped on, or by hand.",
    )
    drill_depth: Written | None = Field(
        None,
        description="How deep the drill may go before a reamer or a tap, full diameter; `through` "
        "where the thread ends before the hole.",
    )
    countersink: Countersink | None = Field(None, description="A cone at its mouth.")
    far_countersink: Countersink | None = Field(
        None, description="A cone where a through hole comes out."
    )
    counterbore: Counterbore | None = Field(None, description="A wider flat-bottomed mouth.")
    breaks_into: str | list[str] = Field(
        default_factory=list, description="Features that it is meant to break into along its side."
    )
