"""A sheet as PDF: its SVG on a page of the paper's size."""

from __future__ import annotations

import tempfile
from pathlib import Path

from barstock.sheets.sheet import Sheet
from barstock.sheets.svg import svg
from barstock.store.whole_files import write_whole

PAGE = """#set page(width: {width}mm, height: {height}mm, margin: 0mm)
#image("sheet.svg", width: 100%)
"""


def write_pdf(sheet: Sheet, path: Path) -> None:
    """Write the sheet. Raises OSError if the file cannot be written."""
    import typst

    with tempfile.TemporaryDirectory() as folder:
        Path(folder, "sheet.svg").write_text(svg(sheet), encoding="utf-8")
        page = Path(folder, "sheet.typ")
        page.write_text(PAGE.format(width=sheet.width, height=sheet.height), encoding="utf-8")
        write_whole(path, typst.compile(str(page)))
