"""Cautions in words: what to beware of."""

from __future__ import annotations

from collections.abc import Mapping

from barstock.route import Operation, Setup
from barstock.route.statements import Caution, CautionKind
from barstock.words.filling_in import Sentence, filled, joined
from barstock.words.reader import Reader
from barstock.workshop.shop import ToolKind

SLOW = 0.95
"""Below this share of the speed wanted the page says so."""
SMALL_DRILL = 3.0
"""A drill no larger breaks before one feels it where the spindle is slow [mm]; common practice."""
SWITCH = "Switch the readout to inches for this setup, and back again after it."

SENTENCES: Mapping[CautionKind, Sentence[Caution]] = {
    CautionKind.SPINDLE: "Eye protection on; hair, sleeves and rag clear of the spindle; brush "
    "chips, never by hand.",
    CautionKind.EYES: "Eye protection on.",
    CautionKind.DEBURR: "Eye protection on. Deburr the sawn ends before measuring or holding by "
    "them.",
    CautionKind.INTO_BLOCK: "The cutter goes {deep:by eye} into the block, where nothing else may "
    "lie. Try the screws for tightness before the last cut.",
    CautionKind.PARALLELS_OUT: "Draw the parallels out once the work is tight: holes come through "
    "above them.",
    CautionKind.PAST_JAWS: "Let the right-hand end stand {past:by eye} past jaws and parallels: "
    "the cutter goes down beside them.",
    CautionKind.PAST_PARALLELS: "Let the right-hand end stand {past:by eye} past the parallels: "
    "the cutter goes down beside them.",
    CautionKind.TO_ONE_SIDE: "The work sits to one side of the vise's middle: grip a piece "
    "{opening} thick at the other end of the jaws too, or the moving jaw leans and the work is not "
    "held.",
    CautionKind.LITTLE_GRIP: "Only {grip} is held: light cuts, and try the work by hand first.",
    CautionKind.TALL: "The work stands {stick_up} above the jaws: light cuts, and feed along the "
    "jaws rather than against them.",
    CautionKind.DRILL_SNATCHES: "Never hold the work by hand under a drill.",
    CautionKind.PLATE: "The plate is held by two bolts at least, the work by straps tight on both "
    "sides: try to rock it by hand before the spindle turns. An end as sawn is shimmed until the "
    "back lies flat.",
    CautionKind.HIGH_ON_PLATE: "It stands high: light cuts, fed towards the plate or along it, "
    "never away from it. Raise the head well clear to change tools; keep hands away from the "
    "straps' ends.",
    CautionKind.STRAPS_LEVEL: "Straps level, their heels on packing as high as the work; each stud "
    "close to the work, so that it presses on that and not on the heel.",
    CautionKind.STRAPS_CLEAR: "Wind the table by hand to every end of travel before the spindle "
    "turns: straps, studs and nuts stand higher than the work. Try the nuts again after the first "
    "cut.",
    CautionKind.STRAPS_STAY: "No strap is moved here while the work is being cut. Where one has to "
    "be, all is found again: the work against fence and stop, and every zero.",
    CautionKind.V_BLOCK_CLAMP: "The V-block's clamp stands above the work: wind by hand to every "
    "end of travel before the spindle turns.",
    CautionKind.V_BLOCK_SEAT: "Block and work free of chips and burrs; turn the work in the V with "
    "the fingers, it must lie on both sides all along.",
    CautionKind.VISE_KEPT: "Never hold work by hand under a drill, nor a vise that nothing keeps "
    "from turning: a drill snatches as it breaks through.",
    CautionKind.FINDS_SPOT: "Let each drill find its spot with the spindle turning and the vise "
    "free, before feeding.",
    CautionKind.SLOW_SPINDLE: "the spindle reaches {share:.0%} of the wanted surface speed: feed "
    "gently, clear chips often",
    CautionKind.DEEP_HOLE: "deep for its size: withdraw often to clear the chips",
    CautionKind.BREAKS_THROUGH: "ease the feed as the point breaks through: it snatches",
    CautionKind.TAP_BY_HAND: "turn the spindle by hand; back off half a turn for every turn",
    CautionKind.FILE_BY_HAND: "A file needs its handle; soft jaws keep the finished faces.",
    CautionKind.SAW_BY_HAND: "Hold the work close to the cut, soft jaws on finished faces; ease "
    "off as the blade breaks through.",
    CautionKind.SLITTING: "a slitting saw that jams bursts: feed by hand, slowly, against its "
    "turning, the table's other slides locked; face and hands out of its plane, oil or brush from "
    "behind; stop it before it is drawn back. Set its underside, not its middle, to every Z",
    CautionKind.SAWN_OFF: "Support the piece that falls off; fingers never in line with the blade.",
}
"""All common practice."""


def caution(told: Caution, reader: Reader) -> str:
    """One caution as a sentence."""
    return filled(SENTENCES[told.kind], told, reader)


def of_setup(setup: Setup, reader: Reader, switched: bool = False) -> tuple[str, ...]:
    """The cautions of a setup. switched: its readout is to be switched to inches."""
    told = [caution(one, reader) for one in setup.cautions]
    return (*([SWITCH] if switched else []), *told, *_slow_drills(setup))


def of_operation(operation: Operation, reader: Reader) -> tuple[str, ...]:
    """The cautions of an operation, but for a slow spindle: its share is told beside its speed, and
    small drills are warned of once for the setup.
    """
    return tuple(
        caution(one, reader)
        for one in operation.cautions
        if one.kind is not CautionKind.SLOW_SPINDLE
    )


def _slow_drills(setup: Setup) -> tuple[str, ...]:
    """Slower than wanted is safe but for small drills: those are named."""
    slow = [
        str(n)
        for n, o in enumerate(setup.operations, 1)
        if o.cutter.kind is ToolKind.DRILL
        and 0 < o.cutter.diameter <= SMALL_DRILL
        and o.speed_share < SLOW
    ]
    if not slow:
        return ()
    which = f"operation{'s' * (len(slow) > 1)} {joined(slow)}"
    return (
        f"the spindle is slow for a drill so small ({which}): feed lightly and clear the chips "
        "often, it breaks before you feel it",
    )
