"""Files that appear whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path


def write_whole(path: Path, content: bytes) -> None:
    """Write a file in one stroke. Raises OSError if it cannot be written."""
    draft = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        draft.write_bytes(content)
        os.replace(draft, path)
    finally:
        draft.unlink(missing_ok=True)
