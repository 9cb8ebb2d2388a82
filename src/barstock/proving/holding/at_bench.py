"""Work in the bench vise, for sawing, filing and the like by hand."""

from __future__ import annotations

from barstock.proving.holding.unmachined import Unmachined
from barstock.workshop.shop import MachineKind

WAY = Unmachined("bench vise", frozenset({MachineKind.BENCH}))
