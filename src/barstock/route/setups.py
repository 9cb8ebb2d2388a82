"""One way of holding one kind of work, and what is done to it there."""

from __future__ import annotations

from typing import Literal

from barstock.route.holdings import Holding, Zero
from barstock.route.moves import SawOff
from barstock.route.operations import Operation
from barstock.route.record import Record
from barstock.route.statements import Caution, Mark, Reason
from barstock.workshop.shop import MachineKind


class Setup(Record):
    """One way of holding one kind of work, and what is done to it there.

    work: the bar's id or the part's name. copies: how many works are loaded in turn. pieces: that
    a saw makes here, of all bars. left: of a setup kept from an earlier route, the copies that it
    is still to be done on. passes: the operations' ids grouped by loading (each pass loads every
    copy once). picture: file name.
    """

    id: str
    work: str
    stage: Literal["bar", "piece"]
    copies: int
    pieces: int = 0
    left: int | None = None
    machine: str
    machine_kind: MachineKind
    holding: Holding
    zero_x: Zero
    zero_y: Zero
    zero_z: Zero
    operations: tuple[Operation, ...]
    passes: tuple[tuple[str, ...], ...] = ()
    cautions: tuple[Caution, ...] = ()
    why: tuple[Reason, ...] = ()
    marks: tuple[Mark, ...] = ()
    minutes: float = 0.0
    picture: str = ""

    @property
    def saws(self) -> SawOff | None:
        """The move that saws a bar into pieces, where the setup does."""
        moves = (move for operation in self.operations for move in operation.moves)
        return next((move for move in moves if isinstance(move, SawOff)), None)
