"""What to do to strap work down on the table, and what to beware of."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.quantities import Unit, show_rough
from barstock.route import Step, Strap, Table
from barstock.route.statements import CautionKind


def steps(there: Table, packing: float, unit: Unit) -> list[Step]:
    """Setting fence, stop and parallels, and strapping the work down; or the angle plate."""
    if there.across:
        return _upright(there, packing, unit)
    n = len(there.straps)
    sides = " and ".join(dict.fromkeys(strap.over for strap in there.straps))
    on = "board" if there.board else "parallel"
    return [
        Step(words="Clamp the stop on the table for the left-hand end"),
        Step(
            words="Clamp a straight bar on the table as the fence, its face true along X by a dial "
            "indicator: from where to where along X from the stop, and its top no higher than said",
            dial={
                "begins": show_rough(there.fence.low[0], unit),
                "ends": show_rough(there.fence.high[0], unit),
                f"above the {on}{'s' * (not there.board)}": show_rough(
                    there.fence_top - packing, unit
                ),
            },
            caution=FENCED,
        ),
        *([_board(there, packing, unit)] if there.board else ()),
        *(
            Step(
                words=f"Lay a parallel {way}, its middle under the noses of the straps",
                dial={name: show_rough(at, unit)},
            )
            for way, name, at in _laid(there)
            if not there.board
        ),
        Step(
            words=f"Work against fence and stop; {n} straps over the {sides}, each nose over the "
            f"{on}, its middle as said. Try that the work has not moved once they are tight",
            dial={
                f"strap {k} over the {strap.over}": f"{name} {show_rough(at, unit)}"
                for k, (strap, name, at) in enumerate(_spots(there), 1)
            },
        ),
    ]


def _upright(there: Table, packing: float, unit: Unit) -> list[Step]:
    n = len(there.across)
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
                f"middle of strap {k}": f"{show_rough((one.bottom + one.top) / 2, unit)} above the "
                "table"
                for k, one in enumerate(there.across, 1)
            },
        ),
    ]


def _board(there: Table, packing: float, unit: Unit) -> Step:
    (x0, y0), (x1, y1) = there.under[0].low, there.under[0].high
    return Step(
        words="Lay a flat board, its edge at the fence, under the whole work: it is thin and would "
        "spring over a hollow. Drills and cutters go a little into it",
        dial={
            "thick": show_rough(packing, unit),
            "along X": f"{show_rough(x1 - x0, unit)}, {show_rough(x0, unit)} from the stop",
            "across": show_rough(y1 - y0, unit),
        },
    )


def _laid(there: Table) -> Iterator[tuple[str, str, float]]:
    """Each parallel: which way it lies, and its middle from the stop or the fence [mm]."""
    for one in there.under:
        if one.high[1] - one.low[1] > one.high[0] - one.low[0]:
            yield "from front to back", "from the stop", (one.low[0] + one.high[0]) / 2
        else:
            yield "along X", "from the fence", -(one.low[1] + one.high[1]) / 2


def _spots(there: Table) -> Iterator[tuple[Strap, str, float]]:
    """Each strap with the middle of its width from the stop or the fence [mm]."""
    for strap in there.straps:
        if strap.over in ("left", "right"):
            yield strap, "from the fence", -(strap.low[1] + strap.high[1]) / 2
        else:
            yield strap, "from the stop", (strap.low[0] + strap.high[0]) / 2


FENCED = (
    "a fence longer or higher than said is struck: cutters pass beyond the work's ends, lower than "
    "its top. Saw the bar to that length; let nothing that holds it, screws, clamps or a foot "
    "behind it, stand past its ends or above its top"
)
"""Common practice."""
UPRIGHT = (CautionKind.PLATE, CautionKind.HIGH_ON_PLATE)
STRAPPED = (CautionKind.STRAPS_LEVEL, CautionKind.STRAPS_CLEAR, CautionKind.STRAPS_STAY)
