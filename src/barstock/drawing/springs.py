"""The springs of a mechanism: what is wanted of each, or what it is, and where it stands."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from pydantic import Field

from barstock.drawing.named_figures import Figures
from barstock.reading.amounts import FORCE, MOMENT, RATE
from barstock.reading.faults import Place, nearest
from barstock.reading.fields import Fields, Written
from barstock.reading.nodes import Listing, Node, Text

SpringKind = Literal["compression", "extension", "torsion"]
Ends = Literal["closed and ground", "closed", "open"]


class HollowFields(Fields):
    """A hollow that a spring stands in, where no part of the build has it."""

    diameter: Written = Field(description="Of the hole, or the width of a narrow pocket.")
    depth: Written = Field(description="From its mouth to its floor.")


class WoundFields(Fields):
    """A compression spring that is at hand or drawn: its sizes."""

    wire: Written = Field(description="Diameter of the wire: 0.8, or 21 SWG.")
    outside: Written = Field(description="Outside diameter of the coil.")
    turns: float = Field(gt=3, description="All turns, those of the ends among them.")
    free_length: Written = Field(description="Unloaded.")


class SpringFields(Fields):
    """A spring: what is wanted of it, and where it stands."""

    kind: SpringKind = Field("compression", description="How it is loaded.")
    wire: str = Field(
        "SH", description="What it is of: SL, SM, DM, SH, DH, stainless, music wire, …"
    )
    load: Written | None = Field(
        None, description="At rest: 25 N, 6 lbf. Without it, what the vehicle, laden, lays on it."
    )
    at_length: Written | None = Field(None, description="Its length under that load.")
    rest_deflection: Written | None = Field(
        None, description="Instead: by how much that load shortens (or draws out) it."
    )
    rate: Written | None = Field(None, description="Instead of one of those: 4.5 N/mm.")
    travel: Written | None = Field(
        None, description="From rest to full bump, to full stretch, or of a torsion spring [°]."
    )
    pockets: list[str | HollowFields] = Field(
        [], description="Hollows it stands in, at one end or both: part/feature, or its sizes."
    )
    rod: Written | None = Field(None, description="Diameter of a rod inside the coil.")
    ends: Ends = Field("closed and ground", description="Of a compression spring.")
    moment: Written | None = Field(None, description="Of a torsion spring at rest: 120 N mm.")
    at_angle: Written | None = Field(None, description="By how much that moment winds it [°].")
    wound: WoundFields | None = Field(None, description="The spring as it is, instead of a choice.")


@dataclass(frozen=True)
class Hollow:
    """The hollow a spring stands in. of: "part/feature" of the build; or diameter and depth [mm]
    where that is "".
    """

    of: str
    diameter: float
    depth: float
    place: Place


@dataclass(frozen=True)
class Wound:
    """A spring's sizes [mm]. wire: its diameter as written; turns: all of them."""

    wire: str
    outside: float
    turns: float
    free_length: float


@dataclass(frozen=True)
class Spring:
    """What is wanted of a spring. Lengths [mm], load [N], rate [N/mm], moment [N mm], angle [°].

    0 where a figure is not given. travel: beyond rest.
    """

    name: str
    kind: SpringKind
    grade: str
    place: Place
    load: float = 0.0
    at_length: float = 0.0
    deflection: float = 0.0
    rate: float = 0.0
    travel: float = 0.0
    hollows: tuple[Hollow, ...] = ()
    rod: float = 0.0
    ends: Ends = "closed and ground"
    moment: float = 0.0
    angle: float = 0.0
    wound: Wound | None = None


def read_springs(
    fields: dict[str, SpringFields], within: Figures, features: dict[str, list[str]]
) -> tuple[Spring, ...]:
    """The springs as written. features: of each part, by name."""
    found = []
    for name, figures in within.each("springs"):
        if name in fields:
            found.append(_spring(name, fields[name], figures, features))
    return tuple(found)


def _spring(
    name: str, fields: SpringFields, figures: Figures, features: dict[str, list[str]]
) -> Spring:
    wound = figures.inside("wound")
    if fields.wound is None:
        _enough(fields, figures)
    else:
        _sound(fields, figures, wound, fields.wound.turns)
    hollows = figures.node.entries["pockets"].value if fields.pockets else None  # type: ignore[union-attr]
    items = hollows.items if isinstance(hollows, Listing) else ()
    return Spring(
        name=name,
        kind=fields.kind,
        grade=_grade(fields.wire, figures),
        place=figures.node.place,
        load=figures.amount("load", FORCE),
        at_length=figures.positive("at length"),
        deflection=figures.positive("rest deflection"),
        rate=figures.amount("rate", RATE),
        travel=figures.positive("travel"),
        hollows=tuple(_hollow(item, figures, features) for item in items),
        rod=figures.positive("rod"),
        ends=fields.ends,
        moment=figures.amount("moment", MOMENT),
        angle=figures.angle("at angle"),
        wound=Wound(
            fields.wound.wire,
            wound.positive("outside"),
            fields.wound.turns,
            wound.positive("free length"),
        )
        if fields.wound
        else None,
    )


def _grade(word: str, figures: Figures) -> str:
    """The grade of wire by its name in the handbook."""
    from barstock.handbook.spring_grades import GRADES, UnknownWireError, wire_grade

    try:
        return wire_grade(word).name
    except UnknownWireError:
        figures.fault("wire", f"there is no spring wire '{word}'", nearest(word, GRADES))
        return word


def _enough(fields: SpringFields, figures: Figures) -> None:
    """Is enough wanted of it to choose by?"""
    if fields.kind == "torsion":
        if not (fields.moment and fields.at_angle and fields.rod):
            what = "a torsion spring is chosen by a moment, the angle it winds it by, and its rod"
            figures.fault("kind", what, "give 'moment', 'at angle' and 'rod'")
    elif not fields.rest_deflection and not fields.rate:
        what = "nothing says how stiff the spring is to be"
        figures.fault("kind", what, "give 'rest deflection' or 'rate', or its sizes under 'wound'")
    elif fields.rest_deflection and fields.rate:
        figures.fault("rate", "both 'rest deflection' and 'rate' are given", "take one out")


def _sound(fields: SpringFields, figures: Figures, wound: Figures, turns: float) -> None:
    """Can a spring of these sizes be?"""
    from barstock.handbook.spring_grades import UnknownWireError
    from barstock.handbook.spring_wire import wire

    if fields.kind != "compression":
        what = "only a compression spring can be given by its sizes"
        figures.fault("wound", what, "say what is wanted of it instead")
        return
    try:
        thick = wire(wound.text("wire"))
    except UnknownWireError as wrong:
        wound.fault("wire", str(wrong), "")
        return
    if wound.length("outside") <= 2 * thick:
        wound.fault("outside", "there is no room inside the coil", "check wire and outside")
    if wound.length("free length") <= (turns + 1.5) * thick:
        wound.fault("free length", "the spring would be solid as it lies", "check its sizes")


def _hollow(node: Node, figures: Figures, features: dict[str, list[str]]) -> Hollow:
    if isinstance(node, Text):
        part, _, feature = node.text.partition("/")
        if feature not in features.get(part, ()):
            what = f"the spring stands in '{node.text}', no feature of the build"
            figures.report(node.place, what, "write part/feature, or {diameter: 6, depth: 6}")
        return Hollow(node.text, 0.0, 0.0, node.place)
    sizes = Figures(node, figures.unit, figures.report)
    return Hollow("", sizes.positive("diameter"), sizes.positive("depth"), node.place)
