"""Work strapped to the machine's table: lying on it under straps, or standing against an angle
plate."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barstock.quantities import show_rough
from barstock.route import Body, BodyKind, Setup
from barstock.words.holding.way_in_words import WayInWords, middle_anew, rest, stop
from barstock.words.lines import Line, Reading, Run, line, value, with_words
from barstock.words.reader import Reader

FENCED = (
    "a fence longer or higher than said is struck: cutters pass beyond the work's ends, lower than "
    "its top. Saw the bar to that length; let nothing that holds it, screws, clamps or a foot "
    "behind it, stand past its ends or above its top"
)
"""Common practice."""


class UnderStraps(WayInWords):
    """Work strapped down on parallels or a board, against a fence."""

    def held(self, setup: Setup, reader: Reader) -> Iterator[tuple[str, str]]:
        h = setup.holding
        straps = h.of(BodyKind.STRAP)
        yield "Held on", f"the table, under {len(straps)} straps, over the {over(straps)}"
        yield "Up", h.up.value
        yield "Fence", h.fixed_jaw.value
        yield "Stop", stop(setup, reader)
        yield "Rests on", rest(h, reader)

    def steps(self, setup: Setup, reader: Reader) -> Iterator[Line]:
        h = setup.holding
        straps, (fence,), boards, laid = (
            h.of(kind)
            for kind in (BodyKind.STRAP, BodyKind.FENCE, BodyKind.BOARD, BodyKind.PARALLEL)
        )
        on = "board" if boards else "parallel"
        yield line("Clamp the stop on the table for the left-hand end")
        yield line(
            "Clamp a straight bar on the table as the fence, its face true along X by a dial "
            "indicator: from where to where along X from the stop, and its top no higher than said",
            reader.set_roughly("begins", fence.low[0]),
            reader.set_roughly("ends", fence.high[0]),
            reader.set_roughly(f"above the {on}{'s' * (not boards)}", fence.high[2] - h.packing),
            caution=FENCED,
        )
        for board in boards:
            yield _board(board, reader)
        for one in laid:
            yield parallel(one, reader)
        yield line(
            f"Work against fence and stop; {len(straps)} straps over the {over(straps)}, each "
            f"nose over the {on}, its middle as said. Try that the work has not moved once they "
            "are tight",
            *(spot(n, strap, reader) for n, strap in enumerate(straps, 1)),
        )
        yield from middle_anew(setup)


class AgainstPlate(WayInWords):
    """Work standing upright, strapped to an angle plate."""

    def held(self, setup: Setup, reader: Reader) -> Iterator[tuple[str, str]]:
        h = setup.holding
        yield (
            "Held on",
            f"the table, against the angle plate by {_straps(setup)} across its front",
        )
        yield "Up", h.up.value
        yield "Angle plate", h.fixed_jaw.value
        yield "Stop", stop(setup, reader)
        yield "Rests on", rest(h, reader)

    def steps(self, setup: Setup, reader: Reader) -> Iterator[Line]:
        h = setup.holding
        high = show_rough(h.packing, reader.unit)
        on = f"parallels {high} high" if h.packing else "the clean table"
        yield line(
            "Bolt the angle plate to the table, its face true along X by a dial indicator; try "
            "with the indicator that it stands upright"
        )
        yield line("Clamp the stop on the table for the work's left-hand side")
        yield line(
            f"Stand the work on {on}, its back flat against the plate; {_straps(setup)} across "
            "its front, a stud through the plate on each side. Tighten turn about, then try with "
            "paper that it still touches what it stands on and the plate",
            *(
                Reading(
                    f"middle of strap {n}",
                    "",
                    (with_words(reader.roughly(strap.middle[2]), "above the table"),),
                )
                for n, strap in enumerate(h.of(BodyKind.STRAP), 1)
            ),
        )
        yield from middle_anew(setup)


def over(straps: Sequence[Body]) -> str:
    """The sides of the work that straps come in over."""
    return " and ".join(dict.fromkeys(strap.over or "" for strap in straps))


def _straps(setup: Setup) -> str:
    n = len(setup.holding.of(BodyKind.STRAP))
    return f"{n} strap{'s' * (n > 1)}"


def _board(board: Body, reader: Reader) -> Line:
    long, wide, thick = board.size
    sign = reader.unit.sign
    (along, _), (start, _) = reader.roughly(long), reader.roughly(board.low[0])
    return line(
        "Lay a flat board, its edge at the fence, under the whole work: it is thin and would "
        "spring over a hollow. Drills and cutters go a little into it",
        reader.set_roughly("thick", thick),
        Reading(
            "along X",
            "",
            (value(along.text, f"{sign},", start.text, f"{sign} from the stop"),),
        ),
        reader.set_roughly("across", wide),
    )


def parallel(one: Body, reader: Reader, stop_at: float = 0.0) -> Line:
    """Which way a parallel lies, and its middle from the stop, at `stop_at`, or the fence [mm]."""
    across = one.size[1] > one.size[0]
    way = "from front to back" if across else "along X"
    label, at = (
        ("from the stop", one.middle[0] - stop_at) if across else ("from the fence", -one.middle[1])
    )
    return line(
        f"Lay a parallel {way}, its middle under the noses of the straps",
        reader.set_roughly(label, at),
    )


def spot(nth: int, strap: Body, reader: Reader, stop_at: float = 0.0) -> Reading:
    """The middle of a strap's width from the stop, at `stop_at`, or the fence [mm]."""
    along = strap.over in ("left", "right")
    label, at = (
        ("from the fence", -strap.middle[1])
        if along
        else ("from the stop", strap.middle[0] - stop_at)
    )
    where = (Run(label, False), *reader.roughly(at))
    return Reading(f"strap {nth} over the {strap.over}", "", (where,))


WAYS = {"straps on the table": UnderStraps(), "angle plate": AgainstPlate()}
