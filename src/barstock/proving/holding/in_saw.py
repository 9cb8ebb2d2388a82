"""A bar in the vise of a saw."""

from __future__ import annotations

from barstock.proving.holding.unmachined import Unmachined
from barstock.workshop.shop import MachineKind

WAY = Unmachined("saw vise", frozenset({MachineKind.SAW}))
