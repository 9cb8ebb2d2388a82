"""Why a fabrication needs no fewer heats, in words."""

from __future__ import annotations

from collections.abc import Mapping

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


def _of_both(words: str) -> Sentence[HeatReason]:
    """What a heat of two joints would be too hot or not hot enough for."""

    def told_of(told: HeatReason, reader: Reader) -> str:
        return f"{' and '.join(told.joints)}: {filled(words, told, reader)}"

    return told_of


_MELTS = "{metal} begins to melt at {limit:g} °C, this heat goes to {working:g} °C"

SENTENCES: Mapping[HeatReasonKind, Sentence[HeatReason]] = {
    HeatReasonKind.ONE: "one heat makes every joint",
    HeatReasonKind.AS_ASKED: "one joint at a time, as asked",
    HeatReasonKind.OWN_ORDER: "your own order",
    HeatReasonKind.MADE: "what is made stays as it was made",
    HeatReasonKind.NONE_SHARE: _none_share,
    HeatReasonKind.ALL_TRIED: _all_tried,
    HeatReasonKind.NO_ATTITUDE: _no_attitude,
    HeatReasonKind.ZINC_BOILS: _of_both(
        "{about}: {metal} flows at {limit:g} °C, this heat goes to {working:g} °C: its zinc boils "
        "off; heat them apart"
    ),
    HeatReasonKind.FLUX_SPENT: _of_both(
        "{about}: it is spent above {limit:g} °C, this heat goes to {working:g} °C; take a flux "
        "for higher heats"
    ),
    HeatReasonKind.FLUX_LATE: _of_both(
        "{about}: it works only from {limit:g} °C, above where the filler melts; take a flux for "
        "lower heats"
    ),
    HeatReasonKind.FIXTURE_MELTS: _of_both(f"on the fixture: {_MELTS}; make the fixture of steel"),
    HeatReasonKind.PIECE_MELTS: _of_both(f"{{about}}: {_MELTS}; take an alloy that melts lower"),
}


def reason(told: HeatReason, reader: Reader) -> str:
    """One reason as a sentence."""
    return filled(SENTENCES[told.kind], told, reader)
