"""The fields of workshop.yaml: how a workshop is written there."""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import Field, create_model

from barstock.quantities import Unit
from barstock.reading.fields import Fields, Written
from barstock.workshop.holding_kits import KITS, Kit
from barstock.workshop.shop import Holder, MachineKind, ShopTimes

Sizes = Written | list[Written]

TIMES = {item.name.replace("_", " "): item.name for item in fields(ShopTimes)}
"""The shop's time figures as written."""


class Handwheel(Fields):
    """How an axis is dialled where it has no readout."""

    per_turn: Written = Field(description="Travel for one turn.")
    divisions: int = Field(ge=1, le=1000, description="Marks on the dial.")
    backlash: Written = Field("0 mm", description="Lost motion when the turn is reversed.")


class ByAxis(Fields):
    """One figure for each axis."""

    x: Written | None = None
    y: Written | None = None
    z: Written | None = None


class HandwheelByAxis(Fields):
    """One handwheel for each axis."""

    x: Handwheel | None = None
    y: Handwheel | None = None
    z: Handwheel | None = None


class MachineFields(Fields):
    """A machine as written."""

    kind: MachineKind = Field(description="What it is.")
    unit: Unit | None = Field(
        None, description="Of its dials and readout; the shop's if not given."
    )
    speeds: Written | list[Written] | None = Field(
        None, description="Steps [100, 250, 600] or, stepless, '100 to 2500' [rpm]."
    )
    travel: ByAxis | None = Field(None, description="{x: 300, y: 130, z: 200}")
    readout: Written | ByAxis | None = Field(
        None, description="Least step shown, of all axes or of each; leave out where there is none."
    )
    handwheel: Handwheel | HandwheelByAxis | None = Field(
        None, description="{per turn: 2, divisions: 100, backlash: 0.1}, or one for each axis."
    )
    daylight: Written | None = Field(None, description="Most room from vise bed to spindle nose.")
    kerf: Written | None = Field(None, description="Width a saw's blade cuts.")


class ViseFields(Fields):
    """A vise as written."""

    jaw_width: Written = Field(description="Along the work.")
    jaw_depth: Written = Field(description="From the bed to the top of the jaws.")
    opening: Written = Field(description="Widest opening.")


class _Holding(Fields):
    """What holds the work."""

    vises: dict[str, ViseFields] = Field({}, description="Machine vises by name.")
    parallels: Sizes = Field([], description="Heights of the pairs owned: [6, 8] or 6 to 36 by 2.")
    parallel_thickness: Written = Field("3 mm", description="How thick they are.")
    adjustable_parallels: Sizes = Field(
        [], description="Ranges: [10 to 14, 14 to 20]. Every whole millimetre counts as a height."
    )
    stop_repeats: Written = Field("0.03 mm", description="How close work comes back to the stop.")
    vise_repeats: Written = Field("0.02 mm", description="How close work comes back in the vise.")
    sine_bar: Written | None = Field(None, description="Between its rollers' centres.")
    tilting_table: Written | None = Field(None, description="Greatest tilt [degrees].")
    fixture_block: Written | None = Field(
        None, description="A block to screw work down on: 120 x 60 x 25, its thickness last."
    )


def _kit_fields(kit: type[Kit]) -> Any:
    """A kit as written: whether there is one, or its sizes."""
    sizes: dict[str, Any] = {
        item.name: (
            Written,
            Field(
                f"{item.usual:g} mm",
                alias=item.called,
                description=item.told,
            ),
        )
        for item in kit.sizes()
    }
    record = create_model(f"{kit.__name__}Fields", __base__=Fields, __doc__=kit.__doc__, **sizes)
    sort: Any = bool | record
    if kit.several:
        sort |= list[record]  # type: ignore[valid-type]
    return sort, Field(False, alias=kit.written, description=kit.asked)


if TYPE_CHECKING:
    HoldingFields = _Holding
else:
    HoldingFields = create_model(
        "HoldingFields",
        __base__=_Holding,
        __doc__=_Holding.__doc__,
        **{kit.__name__.lower(): _kit_fields(kit) for kit in KITS},
    )


class ToolFields(Fields):
    """A tool as written, where a bare size does not say enough."""

    size: Written = Field(description="Diameter, drill name, thread, or a series.")
    name: str | None = Field(None, description="What the shop calls it.")
    flute: Written | None = Field(None, description="Length that cuts.")
    reach: Written | None = Field(None, description="How far it stands out of its holder.")
    shank: Written | None = Field(None, description="Diameter of its shank.")
    angle: Written | None = Field(None, description="Included angle of its point [degrees].")
    teeth: int | None = Field(None, ge=1, le=200, description="Number of teeth.")
    centre_cutting: bool | None = Field(None, description="May it plunge?")
    holder: Holder | None = Field(None, description="What holds it.")
    material: Literal["HSS", "carbide", "carbon steel"] | None = Field(None)
    thickness: Written | None = Field(None, description="Of a slitting saw.")
    collar: Written | None = Field(
        None, description="Diameter of a slitting saw's arbor beside it."
    )
    largest_bore: Written | None = Field(None, description="That a boring head reaches.")


Tools = list[Written | ToolFields] | Written | ToolFields


class ToolChestFields(Fields):
    """The tools by sort."""

    end_mills: Tools = Field([], description="[3, 6, 1/4]; they may not plunge.")
    slot_drills: Tools = Field([], description="Two teeth, may plunge.")
    spot_drills: Tools = Field([], description="For starting holes.")
    drills: Tools = Field([], description="[1 to 10 by 0.1, No 1 to No 60, letter F]")
    reamers: Tools = Field([], description="[4, 3/16]")
    taps: Tools = Field([], description="[M3, 6 BA]")
    countersinks: Tools = Field([], description="[{size: 10, angle: 90}]")
    counterbores: Tools = Field([], description="[6, 8]")
    boring_heads: Tools = Field([], description="[{size: 8, largest bore: 50}]; size is the least.")
    slitting_saws: Tools = Field([], description="[{size: 63, thickness: 1}]")
    edge_finders: Tools = Field([], description="[10]: the tip's diameter.")
    files: list[str] | str = Field([], description="By name.")
    saw_blades: list[str] | str = Field([], description="By name.")


Instruments = Literal[
    "caliper", "micrometer", "inside micrometer", "depth micrometer", "gauge blocks", "pins",
    "plug gauge", "thread gauge", "radius gauge", "dial indicator", "height gauge", "square",
    "protractor",
]  # fmt: skip


class InstrumentFields(Fields):
    """A measuring tool as written."""

    kind: Instruments | None = Field(None, description="What it is, where its name does not say.")
    reads: Written | None = Field(None, description="Least reading.")
    range: Written | None = Field(None, description="From and to: 0 to 25.")
    rod: Written | None = Field(
        None,
        description="How wide its rod is that goes down into a hole to find the depth; of a depth "
        "micrometer 4 mm, of a caliper 2 mm, where not given.",
    )
    sizes: Sizes | None = Field(None, description="Of a set: [1 to 10 by 0.5].")
    set: (
        Literal[
            "112 piece",
            "103 piece",
            "87 piece",
            "47 piece",
            "32 piece",
            "81 piece inch",
            "36 piece inch",
        ]
        | None
    ) = Field(None, description="A set of gauge blocks as sold.")


class BarFields(Fields):
    """A bar as written, where one line does not say enough."""

    section: Written = Field(description="28 x 22, or round 12.")
    length: Written = Field(description="Of the bar.")
    count: int = Field(1, ge=1, le=1000, description="How many.")
    tolerance: Written | None = Field(None, description="It comes with: +0/-0.1.")
    to_buy: bool = Field(False, description="Not on the rack, but can be had.")


class PickleFields(Fields):
    """A pickle as written."""

    bath: str = Field(description="citric acid, safety pickle or dilute sulphuric acid.")
    heated: bool = Field(True, description="Is it kept warm?")
    takes: int = Field(1, ge=1, le=1000, description="How many large things it takes at once.")


class HearthFields(Fields):
    """What there is to silver solder with."""

    power: Written | None = Field(None, description="Of the torch: 7.7 kW.")
    gas: Written | None = Field(None, description="Or the propane it burns: 500 g/h.")
    bricks: bool = Field(True, description="Are there fire bricks to pack round the work?")
    filler_rods: dict[str, Sizes] = Field(
        {}, description="Diameters by alloy: {Ag 155: [1, 1.5], Ag 134: 2}."
    )
    fluxes: list[str] | str = Field([], description="[FH10, FH12]")
    pickle: PickleFields | None = Field(None, description="{bath: citric acid, takes: 2}")


class WorkshopFields(Fields):
    """A workshop as written."""

    workshop: str = Field(description="Its name.")
    unit: Unit = Field(Unit.MM, description="What bare figures are in: mm or inch.")
    machines: dict[str, MachineFields] = Field({}, description="Machines by name.")
    holding: HoldingFields | None = Field(None, description="What holds the work.")
    tools: ToolChestFields | None = Field(None, description="Cutting tools by sort.")
    measuring: dict[str, InstrumentFields] = Field({}, description="Measuring tools by name.")
    rack: dict[str, list[Written | BarFields]] = Field(
        {}, description="Bars by material: ['28 x 22 x 300', '2 of 20 x 12 x 500']."
    )
    hearth: HearthFields | None = Field(None, description="What there is to silver solder with.")
    screws: dict[str, Sizes] = Field(
        {}, description="In stock, lengths by thread: {M3: [10, 16], 6 BA brass: 1/2}."
    )
    times: dict[str, Annotated[float, Field(ge=0, le=10_000)]] = Field(
        {},
        description="The shop's own figures [minutes].",
        json_schema_extra={"propertyNames": {"enum": list(TIMES)}},
    )
    borrow: bool = Field(True, description="May the plan ask to borrow a tool?")
