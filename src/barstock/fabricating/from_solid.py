"""A fabrication of plain boxes as it would be cut from one bar: what lies between its pieces, as
steps along edges and slots from side to side.

Written the way a person would write it in build.yaml and read by the same reader, so that it is
drawn, planned and proved like any other part.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import product

from barstock.drawing.build import AXES, Face, Feature, Part, Vec
from barstock.drawing.build_reading import read_part
from barstock.drawing.part import Joined, Piece
from barstock.methods import KINDS
from barstock.methods.feature_cuts import filed_flush, hole_of
from barstock.methods.feature_text import as_written
from barstock.methods.hole import KIND as HOLE
from barstock.methods.slot import KIND as SLOT
from barstock.methods.step import KIND as STEP
from barstock.quantities import Length
from barstock.workshop.rack import in_mm
from barstock.workshop.shop import Workshop

SAME = 0.01  # levels nearer than this are one [mm]
LOW = (Face.LEFT, Face.FRONT, Face.BOTTOM)

Box = tuple[Vec, Vec]


class NotFromSolidError(ValueError):
    """Raised where the pieces do not tell how the whole would be cut from one bar."""


def from_solid(part: Part, workshop: Workshop) -> Part:
    """The fabrication as a part of one piece, features made after joining with it.

    Raises NotFromSolidError.
    """
    joined = part.joined
    assert joined is not None
    metals = list(dict.fromkeys(piece.part.material for piece in joined.pieces))
    if len(metals) > 1:
        raise NotFromSolidError(f"its pieces are of different metals, {' and '.join(metals)}")
    lines = [*_gaps(part, joined), *_holes(part, joined)]
    text = "\n".join(
        [
            f"material: {metals[0]}",
            f"copies: {part.copies}",
            "unit: mm",
            *(f"{AXES[i]}: {part.size[i]:.6g}" for i in range(3)),
            *_bar(part, metals[0], workshop),
            "features:" if lines else "features: {}",
            *(f"  {line}" for line in lines),
        ]
    )
    made, faults = read_part(f"{part.name} from the solid", text, part.place, KINDS)
    if made is None:
        raise NotFromSolidError(faults[0].what if faults else "it cannot be drawn")
    filed = filed_flush(part)
    own = tuple(f for f in part.features if f.name not in filed)
    return replace(
        made,
        length=part.length,
        width=part.width,
        height=part.height,
        features=(*made.features, *own),
    )


def _bar(part: Part, metal: str, workshop: Workshop) -> Iterator[str]:
    """The bar of the rack whose section is the part's, if there is one: its faces stay."""
    wanted = sorted(part.size[1:])
    for bar in workshop.rack:
        sides = sorted((bar.width, bar.height))
        near = all(abs(a - b) < SAME for a, b in zip(sides, wanted, strict=True))
        if bar.shape == "rectangle" and bar.material == metal and near:
            yield f"bar: {in_mm(bar.name, workshop.unit)}"
            yield "as bought: [front, back, bottom, top]"
            return


# -- between the pieces ----------------------------------------------------------------------------


def _gaps(part: Part, joined: Joined) -> Iterator[str]:
    for piece in joined.pieces:
        if piece.part.round:
            raise NotFromSolidError(f"'{piece.name}' is round, and would have to be turned")
        for feature in piece.part.features:
            if hole_of(feature, piece.part) is None:
                raise NotFromSolidError(
                    f"'{piece.name}' is no plain box: it has a {feature.kind}, '{feature.name}'"
                )
    for n, gap in enumerate(_hollows(part, joined), 1):
        yield f"between the pieces {n}: {_cut(part, gap)}"


def _cut(part: Part, gap: Box) -> str:
    """A hollow as a step or a slot from side to side."""
    low, high = gap
    open_at = [
        [face for face, out in ((Face.of(i, -1), low[i] < SAME),
                                (Face.of(i, 1), high[i] > part.size[i] - SAME)) if out]
        for i in range(3)
    ]  # fmt: skip
    runs = [i for i in range(3) if len(open_at[i]) == 2]
    sides = [i for i in range(3) if len(open_at[i]) == 1]
    size = [high[i] - low[i] for i in range(3)]
    if len(runs) == 1 and len(sides) == 2:
        face, edge = (open_at[i][0] for i in sides)
        return as_written(
            STEP.name, face=face, edge=edge, width=size[edge.axis], depth=size[face.axis]
        )
    if len(runs) == 1 and len(sides) == 1:
        face = open_at[sides[0]][0]
        across = 3 - runs[0] - face.axis
        middle = (low[across] + high[across]) / 2
        return as_written(
            SLOT.name,
            face=face,
            along=AXES[runs[0]],
            position={LOW[across]: middle},
            width=size[across],
            depth=size[face.axis],
        )
    where = Length(*size, between=" x ")
    raise NotFromSolidError(
        f"a hollow of {where:g} between its pieces is neither a step along an edge nor a "
        "slot from side to side: a cutter would leave its corners round, as you must say"
    )


def _hollows(part: Part, joined: Joined) -> list[Box]:
    """The boxes of the whole's overall size that are in no piece."""
    boxes = [piece.box for piece in joined.pieces]
    levels = [_levels(part.size[i], [end[i] for box in boxes for end in box]) for i in range(3)]
    cells = {
        cell
        for cell in product(*(range(len(row) - 1) for row in levels))
        if not any(_holds(box, levels, cell) for box in boxes)
    }
    found = []
    while cells:
        group = _together(cells)
        cells -= group
        low, high = ([of(c[i] for c in group) for i in range(3)] for of in (min, max))
        if len(group) != (high[0] - low[0] + 1) * (high[1] - low[1] + 1) * (high[2] - low[2] + 1):
            raise NotFromSolidError("what lies between its pieces is no plain box")
        a, b, c = (levels[i][low[i]] for i in range(3))
        x, y, z = (levels[i][high[i] + 1] for i in range(3))
        found.append(((a, b, c), (x, y, z)))
    return sorted(found)


def _levels(size: float, ends: Sequence[float]) -> list[float]:
    found = [0.0]
    for value in sorted([*ends, size]):
        if found[-1] + SAME < value <= size + SAME:
            found.append(min(value, size))
    return found


def _holds(box: Box, levels: Sequence[Sequence[float]], cell: tuple[int, ...]) -> bool:
    middle = [(levels[i][n] + levels[i][n + 1]) / 2 for i, n in enumerate(cell)]
    return all(box[0][i] < middle[i] < box[1][i] for i in range(3))


def _together(cells: set[tuple[int, ...]]) -> set[tuple[int, ...]]:
    """The cells that can be reached from the first by going from side to side."""
    waiting = [min(cells)]
    found = set(waiting)
    while waiting:
        here = waiting.pop()
        for i, step in product(range(3), (-1, 1)):
            there = (*here[:i], here[i] + step, *here[i + 1 :])
            if there in cells and there not in found:
                found.add(there)
                waiting.append(there)
    return found


# -- holes of the pieces ---------------------------------------------------------------------------


def _holes(part: Part, joined: Joined) -> Iterator[str]:
    """The holes of pieces that stay: a later feature takes the place of the others' screws."""
    gone = {
        (hole.piece, hole.feature.name)
        for screw in joined.screws
        if screw.replaced_by
        for hole in screw.holes
    }
    for piece in joined.pieces:
        for feature in piece.part.features:
            if (piece.name, feature.name) not in gone:
                yield f"{piece.name} {feature.name}: {_hole(part, piece, feature)}"


def _hole(part: Part, piece: Piece, feature: Feature) -> str:
    bore, name = hole_of(feature, piece.part), f"'{feature.name}' of '{piece.name}'"
    assert bore is not None
    if bore.countersink or bore.counterbore:
        raise NotFromSolidError(f"{name} has a widened mouth")
    face, at = piece.looking(bore.face), [piece.at(point) for point in bore.at]
    deep = piece.part.size[bore.face.axis] if bore.through else bore.depth
    if not _outside(part, face, at[0]):
        far = [_along(point, face, -deep) for point in at]
        if not (bore.through and _outside(part, face.opposite, far[0])):
            raise NotFromSolidError(f"{name} goes in from a side that lies inside the whole")
        face, at = face.opposite, far
    level = part.size[face.axis] if face.sign > 0 else 0.0
    deep -= abs(at[0][face.axis] - level)
    through = bore.through and _outside(part, face.opposite, _along(at[0], face, -deep))
    flat = [i for i in range(3) if i != face.axis]
    more: dict[str, str | float] = {"thread": bore.thread} if bore.thread else {}
    if not bore.thread:
        more["diameter"] = bore.diameter
    more["depth"] = "through" if through else deep
    if bore.thread and not through and not bore.through:
        more["drill_depth"] = bore.drill_depth - bore.depth + deep
    if bore.finish in ("reamed", "bored"):
        more["finish"] = bore.finish
    places = [{str(LOW[i]): point[i] for i in flat} for point in at]
    return as_written(HOLE.name, face=face, at=places, **more)


def _along(point: Vec, face: Face, by: float) -> Vec:
    a, b, c = (p + by * n for p, n in zip(point, face.normal, strict=True))
    return (a, b, c)


def _outside(part: Part, face: Face, point: Vec) -> bool:
    """Does a point lie on a face of the whole, or proud of it?"""
    level = part.size[face.axis] if face.sign > 0 else 0.0
    return (point[face.axis] - level) * face.sign > -SAME
