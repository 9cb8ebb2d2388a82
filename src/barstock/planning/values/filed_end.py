"""The move that files a sawn end square, where the shop has no machine that squares it."""

from __future__ import annotations

from barstock.machines.dial import Dial
from barstock.machines.workbench import strip
from barstock.planning.tasks.task import FiledEnd, Task
from barstock.planning.values.cutting import Cutting
from barstock.route import FileSquare
from barstock.stocking.bar_choice import CLEAN_UP


def filed_end(task: Task, job: FiledEnd, dial: Dial) -> Cutting:
    """The move that files the end, as long as it takes to file off what the saw left on it."""
    _, wide, high = task.part.size
    out = Cutting(dial)
    out.moves.append(FileSquare(face=job.face, leaves=job.leaves, to_length=job.second))
    out.travel = strip(wide * high * CLEAN_UP)
    return out
