"""Files that appear whole or not at all."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path
from threading import get_ident


def write_whole(path: Path, content: bytes, *, lasting: bool = False) -> None:
    """Write a file in one stroke; who may read it stays as it was. Raises OSError if it cannot be.

    lasting: it is on the disk when this returns, for what cannot be made again.
    """
    draft = path.with_name(f".{path.name}.{os.getpid()}.{get_ident()}")
    try:
        with draft.open("wb") as file:
            file.write(content)
            if lasting:
                file.flush()
                os.fsync(file.fileno())
        with suppress(FileNotFoundError):
            os.chmod(draft, path.stat().st_mode)
        os.replace(draft, path)
    finally:
        draft.unlink(missing_ok=True)
