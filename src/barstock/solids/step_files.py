"""Solids are written to and read from STEP files (ISO 10303)."""

from __future__ import annotations

import os
from pathlib import Path

from barstock.solids import kernel
from barstock.solids.shapes import Solid


def write_step(path: Path, solid: Solid) -> None:
    """Write `solid` as STEP, in mm; the file appears whole or not at all.

    Raises ValueError if the solid is empty, OSError if the file cannot be written.
    """
    from OCP.Interface import Interface_Static
    from OCP.STEPControl import STEPControl_StepModelType, STEPControl_Writer

    kernel.hush()
    if solid.empty:
        raise ValueError(f"nothing to write to {path.name}: the solid is empty")
    writer = STEPControl_Writer()
    Interface_Static.SetCVal_s("write.step.unit", "MM")
    writer.Transfer(solid.shape, STEPControl_StepModelType.STEPControl_AsIs)
    draft = path.with_name(f".{path.name}.{os.getpid()}")
    writer.Write(str(draft))
    if not draft.exists():
        raise OSError(f"cannot write {path}")
    os.replace(draft, path)


def read_step(path: Path) -> Solid:
    """The solid in a STEP file. ValueError if it holds none, OSError if it cannot be read."""
    from OCP.IFSelect import IFSelect_ReturnStatus
    from OCP.STEPControl import STEPControl_Reader

    kernel.hush()
    reader = STEPControl_Reader()
    if reader.ReadFile(str(path)) != IFSelect_ReturnStatus.IFSelect_RetDone:
        raise OSError(f"cannot read {path} as STEP")
    reader.TransferRoots()
    lumps = list(kernel.explore(reader.OneShape(), "SOLID"))
    if not lumps:
        raise ValueError(f"{path} holds no solid")
    return Solid(lumps[0] if len(lumps) == 1 else kernel.compound(lumps))
