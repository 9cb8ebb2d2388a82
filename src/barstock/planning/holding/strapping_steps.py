"""What to do to strap work down on the table, and what to beware of."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barstock.quantities import Unit, show_rough
from barstock.route import Body, BodyKind, Holding, Step
from barstock.route.statements import CautionKind


def steps(h: Holding, unit: Unit) -> list[Step]:
    """Setting fence, stop and parallels, and strapping the work down; or the angle plate."""
    straps = h.of(BodyKind.STRAP)
    if h.of(BodyKind.ANGLE_PLATE):
        return _upright(straps, h.packing, unit)
    (fence,), boards, laid = (
        h.of(kind) for kind in (BodyKind.FENCE, BodyKind.BOARD, BodyKind.PARALLEL)
    )
    n = len(straps)
    sides = " and ".join(dict.fromkeys(strap.over or "" for strap in straps))
    on = "board" if boards else "parallel"
    return [
        Step(words="Clamp the stop on the table for the left-hand end"),
        Step(
            words="Clamp a straight bar on the table as the fence, its face true along X by a dial "
            "indicator: from where to where along X from the stop, and its top no higher than said",
            dial={
                "begins": show_rough(fence.low[0], unit),
                "ends": show_rough(fence.high[0], unit),
                f"above the {on}{'s' * (not boards)}": show_rough(fence.high[2] - h.packing, unit),
            },
            caution=FENCED,
        ),
        *(_board(board, unit) for board in boards),
        *(
            Step(
                words=f"Lay a parallel {way}, its middle under the noses of the straps",
                dial={name: show_rough(at, unit)},
            )
            for way, name, at in _laid(laid)
        ),
        Step(
            words=f"Work against fence and stop; {n} straps over the {sides}, each nose over the "
            f"{on}, its middle as said. Try that the work has not moved once they are tight",
            dial={
                f"strap {k} over the {strap.over}": f"{name} {show_rough(at, unit)}"
                for k, (strap, name, at) in enumerate(_spots(straps), 1)
            },
        ),
    ]


def _upright(straps: Sequence[Body], packing: float, unit: Unit) -> list[Step]:
    n = len(straps)
    on = f"parallels {show_rough(packing, unit)} high" if packing else "the clean table"
    noun = "strap" + "s" * (n > 1)
    return [
        Step(
            words="Bolt the angle plate to the table, its face true along X by a dial indicator; "
            "try with the indicator that it stands upright"
        ),
        Step(words="Clamp the stop on the table for the work's left-hand side"),
        Step(
            words=f"Stand the work on {on}, its back flat against the plate; {n} {noun} "
            "across its front, a stud through the plate on each side. Tighten turn about, then try "
            "with paper that it still touches what it stands on and the plate",
            dial={
                f"middle of strap {k}": f"{show_rough(one.middle[2], unit)} above the table"
                for k, one in enumerate(straps, 1)
            },
        ),
    ]


def _board(board: Body, unit: Unit) -> Step:
    long, wide, thick = board.size
    return Step(
        words="Lay a flat board, its edge at the fence, under the whole work: it is thin and would "
        "spring over a hollow. Drills and cutters go a little into it",
        dial={
            "thick": show_rough(thick, unit),
            "along X": f"{show_rough(long, unit)}, {show_rough(board.low[0], unit)} from the stop",
            "across": show_rough(wide, unit),
        },
    )


def _laid(parallels: Sequence[Body]) -> Iterator[tuple[str, str, float]]:
    """Each parallel: which way it lies, and its middle from the stop or the fence [mm]."""
    for one in parallels:
        if one.size[1] > one.size[0]:
            yield "from front to back", "from the stop", one.middle[0]
        else:
            yield "along X", "from the fence", -one.middle[1]


def _spots(straps: Sequence[Body]) -> Iterator[tuple[Body, str, float]]:
    """Each strap with the middle of its width from the stop or the fence [mm]."""
    for strap in straps:
        if strap.over in ("left", "right"):
            yield strap, "from the fence", -strap.middle[1]
        else:
            yield strap, "from the stop", strap.middle[0]


FENCED = (
    "a fence longer or higher than said is struck: cutters pass beyond the work's ends, lower than "
    "its top. Saw the bar to that length; let nothing that holds it, screws, clamps or a foot "
    "behind it, stand past its ends or above its top"
)
"""Common practice."""
UPRIGHT = (CautionKind.PLATE, CautionKind.HIGH_ON_PLATE)
STRAPPED = (CautionKind.STRAPS_LEVEL, CautionKind.STRAPS_CLEAR, CautionKind.STRAPS_STAY)
