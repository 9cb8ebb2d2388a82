"""A frame of two legs and a cross-piece, as it is built up from bar."""

from __future__ import annotations

import pytest

from barstock.drawing.build import Face
from barstock.drawing.part import Form
from barstock.fabricating.joints import FACE_UP, Holding, Joint, Piece
from barstock.route import HeatHolding

TOP = (0.0, 0.0, 1.0)


def joint(name: str, a: str, b: str, *alloys: str, **rest: object) -> Joint:
    """A joint with what does not matter filled in."""
    given = {"feeds": (TOP,), "gap_least": 0.05, "gap_most": 0.1, "line": 12.0, "depth": 6.0}
    return Joint(name, (a, b), Form.TEE, alloys or ("Ag 155",), **{**given, **rest})  # type: ignore[arg-type]


@pytest.fixture
def pieces() -> tuple[Piece, ...]:
    """Two steel legs and the cross-piece between."""
    return (
        Piece("left leg", "mild steel", 70.0),
        Piece("right leg", "mild steel", 70.0),
        Piece("cross-piece", "mild steel", 40.0),
    )


@pytest.fixture
def fixture_flat() -> Holding:
    """A fixture that holds all three, lying with the top up."""
    held = frozenset({"left leg", "right leg", "cross-piece"})
    return Holding(HeatHolding.ON_FIXTURE, held, (FACE_UP[Face.TOP],), material="mild steel")
