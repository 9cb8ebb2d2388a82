"""How a feature is marked out and made by hand, or drilled with its mate, in numbered steps."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barstock.drawing.build import AXES, Face, Part, Vec
from barstock.methods.cuts import Cut, EdgeCut, FlushCut, HoleCut, LevelCut, ProfileCut
from barstock.methods.places import below, in_face
from barstock.words.filling_in import joined
from barstock.words.reader import Reader

FILED_OFF = 0.5
"""How much is left for the file where metal is sawn or drilled away [mm]; common practice."""
ON_IT = 0.01
"""A line within this of a face lies on it [mm]."""

BY_HAND = (
    "Eye protection on. The work is held in the bench vise or clamped down, never in the hand; a "
    "file wants its handle, and a saw or drill is eased as it breaks through.",
)
WITH_MATE = (
    "Clamp both, and keep the clamp from turning: where the drill leaves one for the other, or "
    "finds the joint, it snatches.",
)
UNPROVEN = (
    "Nothing on this page has been tried on the model. See that the work is held and the cutter is "
    "clear, winding by hand, before the spindle turns: work that comes loose is thrown.",
)
"""All common practice."""


def by_hand(cuts: Sequence[Cut], part: Part, reader: Reader) -> tuple[str, ...]:
    """The steps of marking out a feature and making it by hand."""
    steps = [step for cut in cuts for step in _steps(cut, part, reader)]
    return (
        *dict.fromkeys(steps),
        "Measure it by its limits before the work is let go.",
    )


def with_mate(cuts: Sequence[Cut], part: Part, reader: Reader) -> tuple[str, ...]:
    """The steps of making a feature as one with its mate."""
    holes = [cut for cut in cuts if isinstance(cut, HoleCut) and cut.finish != "countersunk"]
    steps = [
        "Finish the faces on which the two meet, and whatever places them: dowels, screws, keys.",
        "Clamp the two together as they will stand at work, so that nothing can shift, and mark "
        "across the joint which belongs to which.",
    ]
    for cut in holes:
        steps += _marked(cut, part, reader)
        steps.append(f"Drill both as one: {_drilled(cut, reader)}.")
        size = reader.length(cut.diameter)
        steps.append(
            f"{'The thread' if cut.thread else f'The diameter, {size},'} rules, for both together: "
            "measure it across the joint as well as along it. Across the joint the line where the "
            "two meet rules the place; along it the places on this sheet do, and its mate follows."
        )
    if not holes:
        steps += [step for cut in cuts for step in _steps(cut, part, reader)]
        steps.append("Work both as one: the sizes on this sheet rule, and its mate follows.")
    return (
        *dict.fromkeys(steps),
        "Mark them as a pair before they come apart.",
    )


def _steps(cut: Cut, part: Part, reader: Reader) -> Iterator[str]:
    if isinstance(cut, HoleCut) and cut.finish == "countersunk" and cut.countersink:
        yield f"Turn it over; countersink each hole to ⌀{reader.length(cut.countersink[0])}."
    elif isinstance(cut, HoleCut):
        yield from _marked(cut, part, reader)
        yield f"Clamp the work down. For each hole, {_drilled(cut, reader)}."
    elif isinstance(cut, LevelCut):
        yield from _floor(cut, part, reader)
    elif isinstance(cut, ProfileCut):
        yield from _outline(cut, part, reader)
    elif isinstance(cut, EdgeCut):
        yield from _edge(cut, reader)
    else:
        yield from _flush(cut, reader)


def _marked(cut: HoleCut, part: Part, reader: Reader) -> Iterator[str]:
    places = joined(tuple(dict.fromkeys(_place(at, cut.face, part, reader) for at in cut.at)))
    yield f"Blue the {cut.face} face and scribe the centre: {places}."
    yield (
        "Dot-punch it, look at it with a lens, then centre-punch it; a scribed circle of "
        f"⌀{reader.length(cut.diameter)} tells if the drill wanders."
    )


def _drilled(cut: HoleCut, reader: Reader) -> str:
    deep = "through" if cut.through else f"{reader.length(cut.drill_depth or cut.depth)} deep"
    size = reader.length(cut.diameter)
    if cut.thread:
        words = f"drill {reader.length(cut.tap_drill)} {deep} and tap {cut.thread}"
    elif cut.finish in ("reamed", "bored"):
        words = f"drill under size {deep} and finish to ⌀{size}, {cut.finish}"
    else:
        words = f"spot it, drill {deep} in two or three sizes and last ⌀{size}"
    if cut.countersink:
        words += f"; countersink it to ⌀{reader.length(cut.countersink[0])}"
    if cut.counterbore:
        wide, depth = (reader.length(mm) for mm in cut.counterbore)
        words += f"; counterbore it ⌀{wide}, {depth} deep"
    return words


def _place(at: Vec, face: Face, part: Part, reader: Reader) -> str:
    """A place on a face by its distances from the near faces, or from a round part's centre."""
    words = []
    for axis in in_face(face.axis):
        if part.round and axis and abs(at[axis] - part.size[axis] / 2) < ON_IT:
            words.append("on the centre line")
        else:
            words.append(_from_side(axis, at[axis], part, reader))
    return joined(tuple(words))


def _from_side(axis: int, at: float, part: Part, reader: Reader) -> str:
    """A coordinate by its distance from the side it is counted from, or the edge it lies on."""
    for sign, off in ((-1, at), (1, part.size[axis] - at)):
        if abs(off) < ON_IT:
            return f"on the {Face.of(axis, sign)} edge"
    return f"{reader.length(at)} from the {Face.of(axis, -1)}"


def _floor(cut: LevelCut, part: Part, reader: Reader) -> Iterator[str]:
    ends = [
        tuple(
            cut.origin[i] + a * cut.run_length * cut.run[i] + b * cut.across_length * cut.across[i]
            for i in range(3)
        )
        for a in (0, 1)
        for b in (0, 1)
    ]
    lines = []
    for axis in in_face(cut.face.axis):
        low, high = min(end[axis] for end in ends), max(end[axis] for end in ends)
        face = Face.of(axis, -1)
        inside = [mm for mm in (low, high) if ON_IT < mm < part.size[axis] - ON_IT]
        if inside:
            lines.append(f"{joined([reader.length(mm) for mm in inside])} from the {face}")
    deep = [below(part, cut.face, end[cut.face.axis]) for end in ends]
    through = max(deep) > part.size[cut.face.axis] - ON_IT
    if lines:
        faces = f"{cut.face} and {cut.face.opposite} faces" if through else f"{cut.face} face"
        yield f"Blue the {faces} and scribe the lines: {'; '.join(lines)}."
    if min(deep) < max(deep) - ON_IT:
        yield (
            f"Scribe the floor on the sides: {reader.length(min(deep))} below the {cut.face} face "
            f"at its shallow end, {reader.length(max(deep))} at its deep end."
        )
    elif not through:
        yield f"The floor lies {reader.length(max(deep))} below the {cut.face} face."
    closed = len(cut.walls) == 4
    how = "Drill holes along the lines inside them and chisel out" if closed else "Saw away"
    order = "" if through else ", the floor first, then the walls"
    yield (
        f"{how} what goes, {reader.by_eye(FILED_OFF)} clear of the lines; file to them{order}, "
        "with a safe edge to the finished side."
    )
    if cut.corner:
        yield f"Leave the inside corners with a radius of {reader.length(cut.corner)}."
    elif len(cut.walls) > 1:
        yield "File the inside corners out sharp, with a three-square file."


def _outline(cut: ProfileCut, part: Part, reader: Reader) -> Iterator[str]:
    u, v = in_face(cut.face.axis)
    ends = [cut.start, *(piece.to for piece in cut.pieces[:-1])]
    places = "; ".join(
        f"{n}: {_from_side(u, a, part, reader)}, {_from_side(v, b, part, reader)}"
        for n, (a, b) in enumerate(ends, 1)
    )
    yield f"Blue the {cut.face} face and scribe the corners of the outline: {places}."
    yield "Join them as the drawing shows, straight or by arcs of its radii; dot-punch the line."
    yield f"Saw {reader.by_eye(FILED_OFF)} outside the line, and file to it, square to the face."


def _edge(cut: EdgeCut, reader: Reader) -> Iterator[str]:
    (one, other), (a, b) = cut.faces, cut.size
    lines = f"{reader.length(a)} from the edge on the {one}, {reader.length(b)} on the {other}"
    if cut.shape == "round":
        yield f"Scribe where the rounding ends: {lines}."
        yield "File a bevel short of the round, then its corners, and so on, trying a radius gauge."
    else:
        yield f"Scribe the two lines of the bevel: {lines}. File down to both."


def _flush(cut: FlushCut, reader: Reader) -> Iterator[str]:
    yield (
        f"Saw and file off what stands {reader.length(cut.proud)} proud of the {cut.face}, level "
        f"with the face beside it; try it with a straight edge. It is the {AXES[cut.face.axis]}."
    )
