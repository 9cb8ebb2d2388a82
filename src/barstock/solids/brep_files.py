"""Solids kept on disk in the kernel's own exact form."""

from __future__ import annotations

import os
from functools import partial
from pathlib import Path

from barstock.solids import kernel
from barstock.solids.shapes import Solid, nothing


def save(path: Path, solid: Solid) -> None:
    """Write `solid`; the file appears whole or not at all. An empty solid makes an empty file."""
    draft = path.with_name(f".{path.name}.{os.getpid()}")
    draft.write_bytes(b"" if solid.empty else kernel.written(solid.shape))
    os.replace(draft, path)


def load(path: Path) -> Solid:
    """Read what `save` wrote, given to the kernel when first needed. Raises OSError if it is not
    there.

    The solid raises OSError when it turns out that the file was spoilt.
    """
    raw = path.read_bytes()
    return Solid(partial(kernel.shape_of, raw)) if raw else nothing()
