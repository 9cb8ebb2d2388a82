"""The moves of a line marked out, sawn and filed to."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from itertools import pairwise
from math import dist, pi

from barstock.drawing.build import Face, Vec
from barstock.machines.dial import Dial
from barstock.machines.workbench import STRIP, strip, strip_sawn
from barstock.methods.cuts import EdgeCut, FlushCut, ProfileCut
from barstock.planning.tasks.outline_path import edges_left, sawn
from barstock.planning.tasks.task import Line, Task
from barstock.planning.values.cutting import Cutting
from barstock.route import Does, FileLevel, Shape

Marked = tuple[float, float, float]


def line(task: Task, job: Line, dial: Dial) -> Cutting:
    """The line of a task, as distances inward from the work's own sides."""
    out = Cutting(dial)
    c = job.cut
    part = task.part
    if isinstance(c, FlushCut):
        return flush(task, c, out)
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
        corner = (
            (-1.0, -1.0, 0.0),
            (u, -1.0, 0.0),
            (u, 0.0, 0.0),
            (0.0, v, bulge),
            (-1.0, v, 0.0),
        )
        edge = Shape(
            does=Does.FILE_EDGE,
            face=face,
            from_u=first,
            from_v=second,
            outline=corner,
            inside_out=True,
        )
        out.moves.append(edge)
        corner_area = a * b * (1 - pi / 4 if c.shape == "round" else 0.5)
        out.travel = strip(part.size[face.axis] * corner_area)
        return out
    from_u, from_v = _marked_from(c, job.gone, part.size)
    marked = _inward(_points(c), (from_u, from_v), part.size)
    shape = Shape(
        does=Does.FILE_LEFT if job.most else Does.FILE,
        face=c.face,
        from_u=from_u,
        from_v=from_v,
        outline=marked,
        most=job.most,
    )
    length = sum(dist(a[:2], b[:2]) for a, b in pairwise([*marked, marked[0]]))
    thick = part.size[c.face.axis]
    # milled near the line, about half of the most that may be left is left
    out.travel = strip(length * thick * (job.most / 2 if job.most else STRIP[1]))
    if job.leave:
        leave, corners = sawn(c)
        outer = _inward([(u, v, 0.0) for u, v in corners], (from_u, from_v), part.size)
        out.travel = strip_sawn(
            thick * sum(dist(a, b) for a, b in pairwise([*corners, corners[0]]))
        )
        sawing = {"does": Does.SAW, "outline": outer, "marked": marked, "leave": leave}
        shape = shape.model_copy(update=sawing)
    out.moves.append(shape)
    return out


def flush(task: Task, c: FlushCut, out: Cutting) -> Cutting:
    """The move that files off what stands proud, until the file just touches the
    surface beside it.
    """
    low, _ = task.part.raw
    u, v = (i for i in range(3) if i != c.face.axis)
    from_u, from_v = Face.of(u, -1), Face.of(v, -1)
    at = (c.spot[0] - low[u], c.spot[1] - low[v])
    out.moves.append(FileLevel(face=c.face, from_u=from_u, from_v=from_v, at=at, proud=c.proud))
    out.travel = strip(c.metal)
    return out


def _marked_from(c: ProfileCut, gone: Collection[Face], size: Vec) -> tuple[Face, Face]:
    """The two sides it is marked out from: the left, front or bottom if the outline and all else
    leave it.
    """
    left = edges_left(c, size)

    def stands(face: Face) -> bool:
        return (face.axis, face.sign) in left and face not in gone

    u, v = (
        high if stands(high) and not stands(high.opposite) else high.opposite
        for axis in range(3)
        if axis != c.face.axis
        for high in (Face.of(axis, 1),)
    )
    return u, v


def _inward(points: Sequence[Marked], sides: tuple[Face, Face], size: Vec) -> tuple[Marked, ...]:
    """Points as distances inward from two sides; what is turned over bends the other way."""
    hand = 1
    for face in sides:
        hand *= -face.sign

    def by(value: float, face: Face) -> float:
        return size[face.axis] - value if face.sign > 0 else value

    return tuple((by(u, sides[0]), by(v, sides[1]), bulge * hand) for u, v, bulge in points)


def _points(c: ProfileCut) -> list[Marked]:
    """The outline's points, each with the bulge of the piece that arrives there."""
    marked = [(c.start[0], c.start[1], 0.0)]
    marked += [(piece.to[0], piece.to[1], piece.bulge) for piece in c.pieces]
    if marked[-1][:2] == marked[0][:2]:
        marked[0] = (marked[0][0], marked[0][1], marked[-1][2])
        marked.pop()
    return marked
