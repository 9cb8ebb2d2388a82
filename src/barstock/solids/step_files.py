"""Solids are written to STEP files (ISO 10303)."""

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
