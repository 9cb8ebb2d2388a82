"""The reasons why something stands where it does, in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from barstock.drawing.build import Pin
from barstock.route.explanation import Rule
from barstock.route.statements import Choice, Reason, ReasonKind
from barstock.words.filling_in import Sentence, filled, title_of
from barstock.words.reader import Reader

SENTENCES: Mapping[ReasonKind, Sentence[Reason]] = {
    ReasonKind.STEP_BEFORE: "{after} comes first",
    ReasonKind.FACE_FIRST: "measured from a face that must be cut first",
    ReasonKind.SEAT: "the first face is the seat for the second",
    ReasonKind.SQUARED_END: "positions are read from the squared datum end at the stop",
    ReasonKind.FINISHED_END: "depths are read from the finished end",
    ReasonKind.LENGTH_FROM_END: "length is measured from the squared end",
    ReasonKind.EDGE_THERE: "the edge is there once the ends are squared",
    ReasonKind.ENDS_LOCATE: "the finished ends locate the work while it is tilted or upright",
    ReasonKind.CORNER_GOES: "the tilted cut is measured from the corner that this takes away",
    ReasonKind.EDGE_GOES: "the tilted cut is measured from the edge that this takes away",
    ReasonKind.FACE_GOES: "it comes before the whole face goes from which it is measured or held",
    ReasonKind.ROOT_FIRST: "the cutter's corner runs out in the slot at the vee's root",
    ReasonKind.OUTLINE_LAST: "the outline comes last: it takes away edges that hold or locate the "
    "work",
    ReasonKind.FILING_LAST: "filing comes last: it takes away edges that hold or locate the work",
    ReasonKind.FLOOR: "the hole starts on its floor",
    ReasonKind.NOTHING_TO_CUT: "it leaves nothing of it to cut",
    ReasonKind.NOTHING_TO_GUIDE: "it leaves nothing to guide the drill",
    ReasonKind.JAWS_HOLD_IT: "it takes away metal that {after} needs the jaws to hold",
    ReasonKind.SAW_FIRST: "the saw takes the bulk",
    ReasonKind.MILL_FIRST: "the cutter leaves little to file",
    ReasonKind.FLUSH_FIRST: "positions are read from the face that is filed flush",
    ReasonKind.PINNED: "pinned: {choice}",
    ReasonKind.PARTS_SETUP: "pinned: it would part operations kept in one setup",
    ReasonKind.ROUGH_ENDS: "sawn ends are rough: nothing may be measured from them before this",
    ReasonKind.LARGER_BAR: "the bar is larger than the part here",
    ReasonKind.NARROW: "the slot is too narrow and deep for the end mills owned: a slitting saw "
    "cuts it from the side",
    ReasonKind.LEANS: "the floor leans {lean:g}°: the work is tilted so that the floor lies level",
    ReasonKind.NOT_MILLED: "no way was found of milling it as drawn; its limits allow filing",
    ReasonKind.EDGES_LAST: "filed last, when nothing is held or measured by these edges any more",
    ReasonKind.FILED_FIRST: "filed first: later work is held and measured by the face it makes",
    ReasonKind.SCREW_LEADS: "the hole of the fixing screw leads the drill: nothing to spot",
    ReasonKind.HOLE_LEADS: "the smaller hole on its axis leads it: nothing to spot",
    ReasonKind.POINT_LEADS: "the point of the larger hole leads it: nothing to spot",
    ReasonKind.SAWN_OUTLINE: "what the saw takes need not be milled, and no loose piece comes off "
    "under the cutter",
    ReasonKind.SCREWED_DOWN: "screwed down through its own holes: nothing stands in the cutter's "
    "way",
    ReasonKind.FILED_ARCS: "fed by one slide at a time no cutter follows an arc or a leaning side, "
    "and none leaves a sharp hollow corner: what it leaves standing is filed",
    ReasonKind.IN_THE_BAR: "cut while the pieces are one bar: one long cut and one loading for all "
    "of them",
    ReasonKind.DRILL_PRESS: "the drill press turns these drills nearer to their speed than the "
    "mill does",
    ReasonKind.TILTED: "tilted {tilt:g}° so that a leaning floor lies level under the cutter",
    ReasonKind.HELD_ALIKE: "follows a setup held alike: vise and packing stay as they are",
    ReasonKind.BAR_DONE: "sawn when nothing more can be cut along the whole bar",
    ReasonKind.PATTERN: "{feature}: the pattern of setup {setup} ({work}, {other}); zero is set so "
    "that the same readings make both",
}


def reason(told: Reason, reader: Reader, titles: Mapping[str, str]) -> str:
    """One reason, without what it comes after. titles: of the operations, by id."""
    names = told.names
    if told.after:
        names = names | {"after": title_of(told.after, titles)}
    if told.choice:
        names = names | {"choice": choice(told.choice)}
    return filled(SENTENCES[told.kind], told.model_copy(update={"names": names}), reader)


def choice(told: Choice) -> str:
    """A choice pinned in build.yaml, as it is told there."""
    return str(Pin(told.rule, told.names, told.value))


def rule(told: Rule) -> str:
    """The words for one operation after another, by their ids, and why."""
    because = told.reason.model_copy(update={"after": told.first})
    return f"{told}: {reason(because, Reader(), {})}"


def whys(told: Sequence[Reason], reader: Reader, titles: Mapping[str, str]) -> tuple[str, ...]:
    """The reasons, each with the operation it comes after."""
    words = ((one, reason(one, reader, titles)) for one in told)
    return tuple(
        f"after {one.after.partition('/')[2]}: {said}" if one.after else said for one, said in words
    )
