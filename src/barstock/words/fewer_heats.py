"""Why a fabrication needs no fewer heats, in words."""

from __future__ import annotations

from collections.abc import Mapping

from barstock.fabricating.firing import Unfit
from barstock.quantities import counted
from barstock.route import HeatReason, HeatReasonKind
from barstock.words.filling_in import Sentence, filled
from barstock.words.reader import Reader


def _none_share(told: HeatReason, reader: Reader) -> str:
    many = len(told.joints)
    return f"no two of {', '.join(told.joints)} can share a heat, so {many} are the fewest"


def _all_tried(told: HeatReason, reader: Reader) -> str:
    return (
        f"every order of {counted(int(told.numbers['heats']), 'heat')} was looked through: in each "
        "a joint would melt again unheld, a piece would be loose, or joints would share a heat "
        "that cannot"
    )


def _no_attitude(told: HeatReason, reader: Reader) -> str:
    both = " and ".join(told.joints)
    return f"there is no attitude in which filler runs down into {both} and flame and rod reach"


def _unfit(told: HeatReason, reader: Reader) -> str:
    """What a heat of two joints would be too hot or not hot enough for."""
    about, metal = told.names["about"], told.names["metal"]
    hot = Unfit(told.kind, about, metal, told.numbers["limit"], told.numbers["working"])
    return f"{' and '.join(told.joints)}: {hot.finding}"


SENTENCES: Mapping[HeatReasonKind, Sentence[HeatReason]] = {
    HeatReasonKind.ONE: "one heat makes every joint",
    HeatReasonKind.AS_ASKED: "one joint at a time, as asked",
    HeatReasonKind.OWN_ORDER: "your own order",
    HeatReasonKind.MADE: "what is made stays as it was made",
    HeatReasonKind.NONE_SHARE: _none_share,
    HeatReasonKind.ALL_TRIED: _all_tried,
    HeatReasonKind.NO_ATTITUDE: _no_attitude,
    HeatReasonKind.ZINC_BOILS: _unfit,
    HeatReasonKind.FLUX_SPENT: _unfit,
    HeatReasonKind.FLUX_LATE: _unfit,
    HeatReasonKind.FIXTURE_MELTS: _unfit,
    HeatReasonKind.PIECE_MELTS: _unfit,
}


def reason(told: HeatReason, reader: Reader) -> str:
    """One reason as a sentence."""
    return filled(SENTENCES[told.kind], told, reader)
