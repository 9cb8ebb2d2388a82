"""The guides of a mechanism: a block, what stands fixed about it, and what it must be free to do.

Places: ahead, left and up are positive, from the middle of the block as it rests.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from pydantic import Field

from barstock.drawing.faces import Face
from barstock.drawing.named_figures import Figures
from barstock.quantities import Dimension
from barstock.reading.faults import Place
from barstock.reading.fields import Fields, Written

FRICTION = 0.15
"""Of greased bronze or brass on steel. Common practice."""


class BlockFields(Fields):
    """The part that moves, and how it stands."""

    part: str = Field(description="Its name, or that of a fabrication.")
    up: Face = Field(description="The face that looks up.")
    ahead: Face = Field(description="The face that looks ahead.")
    coat: Written | None = Field(None, description="Paint or plating on its faces: 0.02 ±0.01.")
    wear: Written | None = Field(None, description="Worn off each of its faces: 0.02 ±0.02.")


class FixedFields(BlockFields):
    """A part that stands fixed beside, above or below the block."""

    at: dict[Face, Written] = Field(
        {},
        description="Where a face of it is, from the block's middle; ahead, left and up positive. "
        "Where none is named its middle is level with the block's.",
    )


class PairFields(Fields):
    """Two parts alike, face to face, the one ahead of the block, the other behind it: horns,
    columns.
    """

    part: str = Field(description="Its name, or that of a fabrication.")
    up: Face = Field(description="The face that looks up.")
    inward: Face = Field(description="The face that looks at the block.")
    apart: Written = Field(description="Between the two faces that look at the block.")
    at: dict[Face, Written] = Field({}, description="As of a fixed part, where another face is.")
    coat: Written | None = Field(None, description="Paint or plating on their faces.")
    wear: Written | None = Field(None, description="Worn off each of their faces.")


class AskedFields(Fields):
    """What the block must be free to do, to either side, without touching."""

    tilt: Written | None = Field(None, description="Seen from ahead, one side up [degrees].")
    pitch: Written | None = Field(None, description="Seen from the side [degrees].")
    twist: Written | None = Field(None, description="Seen from above [degrees].")
    ahead: Written | None = Field(None, description="Shift ahead and back.")
    sideways: Written | None = Field(None, description="Shift to left and right.")
    rise: Written | None = Field(None, description="Up and down.")


class GuideFields(Fields):
    """A block that moves between fixed faces."""

    block: BlockFields = Field(description="What moves.")
    pair: PairFields | None = Field(None, description="Two alike that it moves between.")
    fixed: dict[str, FixedFields] = Field({}, description="Other fixed parts by name.")
    asked: AskedFields = Field(AskedFields(), description="What it must be free to do.")  # type: ignore[call-arg]
    friction: float = Field(FRICTION, gt=0, le=1, description="Between the faces.")
    load_off_centre: Written | None = Field(
        None, description="How far from the middle of the guide the block is pushed up or down."
    )


@dataclass(frozen=True)
class Standing:
    """A part as it stands. at: where faces of it are [mm]; coat, wear: on each face [mm].

    side: +1 where it is the one ahead of a pair, -1 the one behind, 0 if it is neither; its first
    `at` is then the distance between the pair.
    """

    name: str
    part: str
    up: Face
    ahead: Face
    place: Place
    at: tuple[tuple[Face, Dimension], ...] = ()
    coat: Dimension | None = None
    wear: Dimension | None = None
    side: int = 0


@dataclass(frozen=True)
class Guide:
    """A block between fixed parts. asked: motion to its amount, to either side [degrees or mm]."""

    name: str
    block: Standing
    fixed: tuple[Standing, ...]
    asked: dict[str, float]
    friction: float
    load_off_centre: float | None
    place: Place


def read_guides(
    fields: dict[str, GuideFields], within: Figures, parts: Collection[str]
) -> tuple[Guide, ...]:
    """The guides as written. parts: the names of all parts and fabrications."""
    found = []
    for name, figures in within.each("guides"):
        if name in fields:
            found.append(_guide(name, fields[name], figures, parts))
    return tuple(found)


def _guide(name: str, fields: GuideFields, figures: Figures, parts: Collection[str]) -> Guide:
    block = _standing(fields.block.part, fields.block, figures.inside("block"), parts)
    fixed = [
        _standing(title, fields.fixed[title], one, parts)
        for title, one in figures.each("fixed")
        if title in fields.fixed
    ]
    if fields.pair is not None:
        fixed += _pair(fields.pair, figures.inside("pair"), parts)
    if not fixed:
        figures.fault("block", "nothing guides the block", "give a 'pair' or parts under 'fixed'")
    asked = figures.inside("asked")
    turns = {word: asked.angle(word) for word in ("tilt", "pitch", "twist") if asked.has(word)}
    shifts = {word: asked.positive(word) for word in ("ahead", "sideways", "rise")}
    off = figures.length("load off centre") if fields.load_off_centre is not None else None
    wanted = {word: abs(size) for word, size in (turns | shifts).items() if size}
    return Guide(name, block, tuple(fixed), wanted, fields.friction, off, figures.node.place)


def _standing(
    name: str, fields: BlockFields | FixedFields, figures: Figures, parts: Collection[str]
) -> Standing:
    figures.known("part", parts, "part")
    if fields.up.axis == fields.ahead.axis:
        figures.fault("ahead", f"no part has {fields.up} up and {fields.ahead} ahead",
                      "name two faces that meet")  # fmt: skip
    at = _at(fields.at, figures) if isinstance(fields, FixedFields) else ()
    return Standing(name, fields.part, fields.up, fields.ahead, figures.node.place, at,
                    figures.size("coat"), figures.size("wear"))  # fmt: skip


def _at(fields: dict[Face, str], figures: Figures) -> tuple[tuple[Face, Dimension], ...]:
    places = figures.inside("at")
    sizes = [(face, places.size(face)) for face in fields]
    return tuple((face, size) for face, size in sizes if size is not None)


def _pair(fields: PairFields, figures: Figures, parts: Collection[str]) -> list[Standing]:
    figures.known("part", parts, "part")
    if fields.up.axis == fields.inward.axis:
        figures.fault("inward", f"no part has {fields.up} up and {fields.inward} inward",
                      "name two faces that meet")  # fmt: skip
    apart = figures.size("apart")
    if apart is None:
        return []
    at = ((fields.inward, apart), *_at(fields.at, figures))
    coat, wear = figures.size("coat"), figures.size("wear")
    return [
        Standing(f"{fields.part} {where}", fields.part, fields.up, fields.inward,
                 figures.node.place, at, coat, wear, side)
        for where, side in (("ahead", 1), ("behind", -1))
    ]  # fmt: skip
