"""The fields of build.yaml: how a build and a part are written there."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field

from barstock.drawing.build import Face
from barstock.drawing.mechanism_wanted import MechanismFields
from barstock.drawing.other_hands import Source
from barstock.quantities import Unit
from barstock.reading.fields import Fields, Written

General = Written | dict[str, Written] | list[Written | dict[str, Written]]


class PartFields(Fields):
    """A part as written."""

    material: str = Field(description="What it is made of, as the rack names it: brass.")
    copies: int = Field(1, ge=1, le=1000, description="How many are wanted.")
    title: str = Field("", description="Its name on the sheet, where that is longer.")
    unit: Unit | None = Field(
        None, description="What bare figures are in; the build's if not given."
    )
    length: Written = Field(description="Over all along the bar, with limits if it has its own.")
    width: Written | None = Field(None, description="Over all from front to back.")
    height: Written | None = Field(None, description="Over all from bottom to top.")
    diameter: Written | None = Field(
        None, description="Of a round part, instead of width and height; as its bar comes."
    )
    made: Source | None = Field(
        None,
        description="Where it comes from, if the plan is not to make it; it stays among the parts, "
        "the drawings, the fits and what is to be ordered.",
    )
    bar: str | None = Field(None, description="The bar it is cut from: 28 x 22, or round 12.")
    as_bought: list[Face] = Field([], description="Faces that stay as the bar comes.")
    general_tolerance: General | None = Field(None, description="Instead of the build's.")
    features: dict[str, dict[str, Any]] = Field({}, description="Its features by name.")


class PieceFields(Fields):
    """A piece of a fabrication: a part of the build, and how it stands in the whole."""

    part: str = Field(description="The part it is made as.")
    turned: dict[Face, str] = Field(
        {},
        description="By the side of the whole, which of its own faces looks there: {bottom: left, "
        "left: bottom} stands it on its left end, its own bottom to the left. Two of them say all.",
    )
    at: dict[str, Written] = Field(
        {},
        description="Where it stands, from faces or centre lines of the whole: {left: 0, "
        "width: centre}. A face gives the distance to the piece's own face on that side.",
    )
    against: dict[Face, str] = Field(
        {},
        description="Instead of a place: its side that meets another piece, and that piece's side, "
        "both as they look in the whole: {bottom: left leg/top}.",
    )


class JointFields(Fields):
    """A soldered joint."""

    between: tuple[str, str] = Field(description="The two pieces.")
    form: Literal["lap", "butt", "tee", "spigot", "scarf"] = Field(description="How they meet.")
    filler: str | list[str] = Field(
        description="The alloy by ISO 17672, Ag 155, or several that would do, the best first."
    )
    gap: Written = Field(description="Designed gap between the faces: 0.05 to 0.10.")
    fillet: Written = Field("0.5 mm", description="Leg of the fillet left at its edge.")
    cut_by: list[str] = Field(
        [], description="Features made afterwards that may cut into the joint."
    )


class ScrewFields(Fields):
    """Screws that hold pieces until they are joined. Holes: piece/feature."""

    through: str | list[str] = Field(
        description="The holes they pass, from the head on, or: fixture."
    )
    into: str = Field(description="The tapped hole they go into, or: fixture.")
    thread: str | None = Field(None, description="Where they go into the fixture: M3.")
    length: Written | None = Field(
        None, description="Under the head, where you have chosen; else barstock does."
    )
    material: Literal["steel", "brass", "stainless steel"] = Field(
        "steel", description="What they are of."
    )
    replaced_by: str | None = Field(
        None, description="The feature made afterwards through what remains of them."
    )
    left_in: bool = Field(
        False, description="They stay in through the pickle, and are sawn off and drilled out."
    )


class FixtureFields(Fields):
    """The block a fabrication is screwed to for its heats."""

    under: Face = Field(
        description="The face of the whole that lies on it; of a block between the pieces, from "
        "where it goes in."
    )
    from_: str = Field("", description="The bar on your rack that it is made from: 1-1/2 x 1-1/4.")
    material: str = Field("mild steel", description="What it is made of.")
    part: str | None = Field(None, description="Your own, a part of the build.")


class FabricationFields(Fields):
    """Pieces soldered into one and machined further as one."""

    copies: int = Field(1, ge=1, le=1000, description="How many are wanted.")
    title: str = Field("", description="Its name on the sheet, where that is longer.")
    unit: Unit | None = Field(
        None, description="What bare figures are in; the build's if not given."
    )
    length: Written = Field(description="Over all from left to right, when finished.")
    width: Written = Field(description="Over all from front to back.")
    height: Written = Field(description="Over all from bottom to top.")
    general_tolerance: General | None = Field(None, description="Instead of the build's.")
    pieces: dict[str, PieceFields] = Field(description="The pieces by name.")
    joints: dict[str, JointFields] = Field(description="The soldered joints by name.")
    fixing_screws: dict[str, ScrewFields] = Field(
        {}, description="What holds the pieces until they are joined."
    )
    fixture: FixtureFields | None = Field(None, description="The block for the heats.")
    flux: str = Field("FH10", description="By EN 1045.")
    one_joint_a_heat: bool = Field(False, description="The careful order: a heat for every joint.")
    heats: list[list[str]] = Field(
        [], description="Your own order of the joints, those of one heat together."
    )
    features: dict[str, dict[str, Any]] = Field({}, description="What is made after joining.")
    from_the_solid: PartFields | None = Field(
        None, description="The same thing as a part cut from one bar, to compare with."
    )


class PinFields(Fields):
    """Choices of the plan that are to stay. Operations: part, part/feature or part/feature/step."""

    first: list[str] = Field([], description="Operations done before all others of their part.")
    together: list[list[str]] = Field([], description="Operations done in one setup.")
    before: list[tuple[str, str]] = Field([], description="Pairs: the one before the other.")
    never_in_the_bar: list[str] = Field([], description="Done on sawn pieces.")
    only_in_the_bar: list[str] = Field([], description="Done before the bar is sawn.")
    vise: dict[str, str] = Field({}, description="Operation: the vise that is to hold it.")
    tool: dict[str, str] = Field({}, description="Operation: the tool that is to do it.")
    up: dict[str, Face] = Field({}, description="Operation: the face that is to look up.")
    broken: list[str] = Field([], description="Tools not to be used.")


class SideFields(Fields):
    """One of the two things of a fit, where one dimension alone does not say it."""

    of: str | None = Field(None, description="Its dimension: part/feature/dimension.")
    less: list[str] = Field([], description="Dimensions taken off it, two rebates off a width.")
    size: Written | None = Field(None, description="Instead: of a thing bought, 4 h6.")


class CoatFields(Fields):
    """Paint or plating on one wall of each."""

    inside: Written | None = Field(None, description="On one wall of what goes round: 0.02 ±0.01.")
    outside: Written | None = Field(None, description="On one wall of what goes in.")


class ClearanceFields(Fields):
    """The clearance wanted; below 0 is interference."""

    least: Written = Field(description="Never less.")
    most: Written | None = Field(None, description="Never more; any if not given.")


class FitFields(Fields):
    """Two things that go together. Dimensions: part/feature/dimension, or part/width."""

    inside: str | SideFields = Field(description="What goes round: a slot's width, a bore.")
    outside: str | SideFields = Field(description="What goes in: a tongue, a pin.")
    coat: CoatFields | None = Field(None, description="Paint or plating, on one wall.")
    clearance: ClearanceFields = Field(description="What is wanted between them.")


class BuildFields(Fields):
    """A build as written."""

    build: str = Field(description="The name of the build.")
    unit: Unit = Field(Unit.MM, description="What bare figures are in: mm or inch.")
    general_tolerance: General | None = Field(
        None,
        description="For sizes without limits of their own: ISO 2768-m (or f, c, v), ±0.1, or "
        "by decimal places {.x: ±0.2, .xx: ±0.05} or size {up to 30: ±0.1, 30 to 120: ±0.2}.",
    )
    projection: Literal["third angle", "first angle"] = Field(
        "third angle", description="How the views are laid out."
    )
    least_wall: Written = Field("1 mm", description="The thinnest wall that may be left.")
    workshop: str | None = Field(
        None, description="A workshop shared by several builds: its file, from this folder."
    )
    pins: PinFields | None = Field(None, description="Choices of the plan that are to stay.")
    fits: dict[str, FitFields] = Field({}, description="What goes together, by name.")
    mechanism: MechanismFields | None = Field(
        None, description="What is to move: springs, guides, a vehicle and its track."
    )
    parts: dict[str, PartFields] = Field(description="The parts by name.")
    fabrications: dict[str, FabricationFields] = Field(
        {}, description="What is joined from parts and machined as one, by name."
    )
