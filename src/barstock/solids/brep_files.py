"""Solids kept on disk in the kernel's own exact form."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from barstock.solids import kernel
from barstock.solids.shapes import Solid, nothing
from barstock.store.whole_files import write_whole


def save(path: Path, solid: Solid) -> None:
    """Write `solid`; the file appears whole or not at all. An empty solid makes an empty file."""
    write_whole(path, b"" if solid.empty else kernel.written(solid.shape))


def load(path: Path) -> Solid:
    """Read what `save` wrote, given to the kernel when first needed. Raises OSError if it is not
    there.

    The solid raises OSError when it turns out that the file was spoilt.
    """
    raw = path.read_bytes()
    return Solid(partial(kernel.shape_of, raw)) if raw else nothing()
