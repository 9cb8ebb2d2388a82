"""Solids kept on disk in the kernel's own exact form."""

from __future__ import annotations

import os
from pathlib import Path

from barstock.solids.shapes import Solid, nothing


def save(path: Path, solid: Solid) -> None:
    """Write `solid`; the file appears whole or not at all. An empty solid makes an empty file."""
    from OCP.BinTools import BinTools

    draft = path.with_name(f".{path.name}.{os.getpid()}")
    if solid.empty:
        draft.write_bytes(b"")
    elif not BinTools.Write_s(solid.shape, str(draft)):
        raise OSError(f"cannot write {path}")
    os.replace(draft, path)


def load(path: Path) -> Solid:
    """Read what `save` wrote. Raises OSError if it cannot be read."""
    from OCP.BinTools import BinTools
    from OCP.TopoDS import TopoDS_Shape

    if path.stat().st_size == 0:
        return nothing()
    shape = TopoDS_Shape()
    if not BinTools.Read_s(shape, str(path)):
        raise OSError(f"cannot read {path}")
    return Solid(shape)
