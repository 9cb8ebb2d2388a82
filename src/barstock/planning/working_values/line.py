"""A line marked out, sawn and filed to."""

from __future__ import annotations

from barstock.drawing.model import Face
from barstock.methods.cuts import EdgeCut
from barstock.planning.dial import Dial
from barstock.planning.route import Shape
from barstock.planning.tasks import Line, Task
from barstock.planning.working_values.cutting import Cutting
from barstock.quantities import show


def line(task: Task, job: Line, dial: Dial) -> Cutting:
    out = Cutting(dial)
    c = job.cut
    part = task.part
    if isinstance(c, EdgeCut):
        a, b = c.size
        face = Face.of(3 - c.faces[0].axis - c.faces[1].axis, 1)
        first, second = sorted(c.faces, key=lambda f: f.axis)
        u, v = (a, b) if first is c.faces[1] else (b, a)
        # c.size[0] is the leg lying on faces[0], measured away from faces[1].
        bulge = 0.0
        if c.shape == "round":
            # A quarter circle bulging towards the corner; its sense turns with the corner's hand.
            bulge = -(2**0.5 - 1)
        outline = (
            (-1.0, -1.0, 0.0),
            (u, -1.0, 0.0),
            (u, 0.0, 0.0),
            (0.0, v, bulge),
            (-1.0, v, 0.0),
        )
        out.moves.append(
            Shape(face=face, from_u=first, from_v=second, outline=outline, inside_out=True)
        )
        out.travel = part.size[face.axis]
        size = f"R {c.size[0]:g}" if c.shape == "round" else f"{c.size[0]:g} x {c.size[1]:g}"
        out.step(
            f"Mark out {size} on both ends of the edge {c.faces[0]} / {c.faces[1]}; file to it"
        )
        return out
    axes = [i for i in range(3) if i != c.face.axis]
    from_u, from_v = Face.of(axes[0], -1), Face.of(axes[1], -1)
    marked = [(c.start[0], c.start[1], 0.0)]
    length = 0.0
    last = c.start
    for piece in c.pieces:
        length += ((piece.to[0] - last[0]) ** 2 + (piece.to[1] - last[1]) ** 2) ** 0.5
        last = piece.to
        marked.append((piece.to[0], piece.to[1], piece.bulge))
    if marked[-1][:2] == marked[0][:2]:
        marked[0] = (marked[0][0], marked[0][1], marked[-1][2])
        marked.pop()
    out.moves.append(Shape(face=c.face, from_u=from_u, from_v=from_v, outline=tuple(marked)))
    out.travel = length
    out.step(
        f"Mark out on the {c.face} face from the {from_u} and the {from_v}; saw 1 mm outside the "
        "line; file to the line"
    )
    for n, (u, v, bulge) in enumerate(marked):
        out.step(
            f"Point {n + 1}" + (", by an arc" if bulge else ""),
            **{f"from {from_u}": show(u, dial.unit), f"from {from_v}": show(v, dial.unit)},
        )
    return out
