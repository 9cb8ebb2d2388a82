"""Which way a wall is cut."""

from __future__ import annotations

from barstock.drawing.build import Build
from barstock.quantities import Unit
from barstock.route import Route, Traverse
from barstock.words.operation_lines import lines
from barstock.words.reader import Reader
from barstock.workshop.shop import Workshop

from .conftest import dialled, find, mill_of

Planned = tuple[Build, Workshop, Route]


def test_a_lone_wall_is_cut_against_the_cutters_turning(wagon: Planned) -> None:
    # A cutter turning clockwise from above must have the wall on its left hand as it goes (common
    # practice): the front rebate's wall is on the back (+Y) side, the back rebate's on the front.
    for feature, rising in (("front rebate", True), ("back rebate", False)):
        _, mill = find(wagon[2], f"horn guide/{feature}/mill")
        for move in mill.moves:
            assert isinstance(move, Traverse)
            start, stop = move.points[0][0], move.points[-1][0]
            assert (stop > start) is rising
        printed = dialled(lines(mill, Reader(Unit.MM, mill_of(wagon[1])))[-1])["X from – to"]
        first, last = (float(x.replace("−", "-")) for x in printed.split(",  to "))
        assert (last > first) is rising


def test_after_facing_cuts_are_counted_from_the_new_face(wagon: Planned) -> None:
    # The seat's bar is 12 high and faced to 10: the pocket, 4 deep, has no cut above that.
    _, pocket = find(wagon[2], "spring seat/pocket/mill")
    assert max(m.z for m in pocket.moves) < 10
