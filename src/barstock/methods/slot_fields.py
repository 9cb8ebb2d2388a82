"""How a slot is written."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from barstock.drawing.faces import Face
from barstock.drawing.other_hands import ByHand, FeatureFields
from barstock.methods.place_fields import Where
from barstock.reading.fields import Written

Along = Literal["length", "width", "height"]


class SlotFields(FeatureFields[ByHand]):
    """A slot as written."""

    kind: Literal["slot"] = Field("slot", description="A slot.")
    face: Face = Field(description="Face the slot is cut into.")
    along: Along = Field(description="Which way the slot runs: length, width or height.")
    position: Where | None = Field(
        None, description="Where its centre line is: {height: centre}, {bottom: 8}."
    )
    wall_from: Where | None = Field(
        None, description="Instead of position: the near wall, from the face it is nearer to."
    )
    width: Written | None = Field(None, description="From wall to wall.")
    depth: Written | None = Field(
        None,
        description="From the face to the floor; of a leaning slot at its deep end. `through` for "
        "one with a closed end that goes right through the part.",
    )
    floor_from: Where | None = Field(
        None,
        description="Instead of depth: where the floor is, e.g. {back: 5} for the "
        "thickness left, or half the distance between mirrored floors, {width: centre -4}.",
    )
    across_floors: Written | None = Field(
        None, description="Instead of depth: from floor to floor of a mirrored slot."
    )
    mirrored: bool = Field(False, description="The same slot in the opposite face too.")
    lean: Written | None = Field(
        None, description="Angle the floor makes with the face along the run [degrees]."
    )
    wide_end: Face | None = Field(
        None, description="End where a leaning slot is shallowest, the part widest across floors."
    )
    across_wide_end: Written | None = Field(
        None,
        description="Instead of depth: from floor to floor of a mirrored leaning slot, at "
        "its wide end.",
    )
    depth_at: Face | None = Field(
        None, description="End at which the depth of a leaning slot is given."
    )
    open_at: Face | None = Field(None, description="The one end where the slot runs out.")
    length: Written | None = Field(None, description="Over all, of a slot with a closed end.")
    between_centres: Written | None = Field(
        None, description="Instead of length: between the centres of two round ends."
    )
    end_from: Where | None = Field(None, description="Of a closed slot: its near end, from a face.")
    middle: Where | None = Field(None, description="Of a closed slot: the middle of its length.")
    ends: Literal["round", "square"] = Field("round", description="Form of its closed ends.")
    corner_radius: Written | None = Field(
        None,
        description="Radius in the corners of square ends; without it, or with 0, what a cutter "
        "leaves.",
    )
