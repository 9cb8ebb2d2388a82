"""Reads a STEP file back, to see what was written."""

from __future__ import annotations

from pathlib import Path

from barstock.solids import kernel
from barstock.solids.shapes import Solid


def read_step(path: Path) -> Solid:
    """The solids in a STEP file, as one."""
    from OCP.IFSelect import IFSelect_ReturnStatus
    from OCP.STEPControl import STEPControl_Reader

    reader = STEPControl_Reader()
    assert reader.ReadFile(str(path)) == IFSelect_ReturnStatus.IFSelect_RetDone
    reader.TransferRoots()
    return Solid(kernel.compound(list(kernel.explore(reader.OneShape(), "SOLID"))))
