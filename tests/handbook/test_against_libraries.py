"""The handbook against independent libraries: isofits for ISO 286, bd_warehouse's open tables."""

import csv
import importlib
import importlib.util
from pathlib import Path
from typing import Any

import pytest

from barstock.handbook.drills import LETTERS, NUMBERS, drill
from barstock.handbook.iso_fits import it, limits
from barstock.handbook.threads import thread, threads

INCH = 25.4
SIZES = (3.5, 6, 8, 10, 12, 14, 16, 18, 20, 24, 28, 30, 35, 40, 45, 50, 60, 65, 70, 80, 90, 100,
         110, 120, 130, 140, 150, 160, 170, 180, 190, 200, 210, 225, 240, 250, 260, 280, 300, 315,
         330, 355, 380, 400)  # fmt: skip

# Where isofits 1.0 is wrong: (symbol, over, up to) [mm]. In each its own two limits are not a
# grade apart, as ISO 286-1 table 1 asks; the printed limits are those in the comment.
SLIPS = (
    ("E7", 315, 400),  # +182 +125 (IT7 is 57); isofits has +185
    ("K6", 6, 10),  # +2 -7 (IT6 is 9; printed so for 10 mm elsewhere too); isofits has -6
    ("f6", 120, 180),  # -43 -68 (IT6 is 25); isofits has -48
)


def _isofits() -> tuple[Any, dict[str, dict[str, Any]]]:
    data = importlib.import_module("data")  # isofits installs its tables under this name
    return importlib.import_module("isofits"), {"hole": data.hole_data, "shaft": data.shaft_data}


def _slip(symbol: str, size: float) -> bool:
    return any(symbol == wrong and over < size <= to for wrong, over, to in SLIPS)


@pytest.mark.parametrize("body", ["hole", "shaft"])
def test_limits_agree_with_isofits_over_all_its_symbols(body: str) -> None:
    isofits, tables = _isofits()
    compared, differ = 0, []
    for symbol in tables[body]:
        if symbol in ("over", "inc."):
            continue
        for size in SIZES:
            high, low = isofits.isotol(body, size, symbol, "both")
            ours = tuple(round(1000 * each, 3) for each in limits(size, symbol))
            compared += 1
            if ours != (low, high) and not _slip(symbol, size):
                differ.append((symbol, size, ours, (low, high)))
    assert compared > 1500
    assert differ == []


@pytest.mark.parametrize(("symbol", "over", "to"), SLIPS)
def test_where_isofits_differs_its_own_limits_are_not_a_grade_apart(
    symbol: str, over: float, to: float
) -> None:
    isofits, _ = _isofits()
    body = "hole" if symbol[0].isupper() else "shaft"
    high, low = isofits.isotol(body, to, symbol, "both")
    ours = limits(to, symbol)
    assert high - low != it(to, symbol[1:])
    assert round(1000 * (ours[1] - ours[0]), 3) == it(to, symbol[1:])


def _open_table(name: str) -> list[dict[str, str]]:
    spec = importlib.util.find_spec("bd_warehouse")
    assert spec is not None
    assert spec.submodule_search_locations
    path = Path(spec.submodule_search_locations[0]) / "data" / f"{name}.csv"
    with path.open() as file:
        return list(csv.DictReader(file))


def test_number_and_letter_drills_agree_with_the_open_table() -> None:
    rows = _open_table("drill_sizes")
    differ = [
        (row["Size"], drill(row["Size"]) / INCH, row["Diameter"])
        for row in rows
        if abs(drill(row["Size"]) / INCH - float(row["Diameter"])) > 0.00051  # printed to 0.001
    ]
    assert len(rows) == len(NUMBERS) + len(LETTERS)
    assert differ == []


def test_unified_tapping_drills_agree_with_the_open_table() -> None:
    # Left out: 1-12, where it has 15/16, 58 % of the thread; 59/64 leaves 72 %. It ends at 1 inch.
    printed = {row["Size"].lstrip("#"): row["Soft"] for row in _open_table("tap_hole_sizes")}
    ours = [
        form
        for form in threads()
        if form.series.startswith("UN") and form.major < 26 and not form.name.startswith("1-12 ")
    ]
    differ = [
        (form.name, form.tap_drill, printed[form.name.split()[0]])
        for form in ours
        if abs(form.tap_drill - drill(printed[form.name.split()[0]])) > 1e-6
    ]
    assert len(ours) == 49
    assert differ == []


def test_metric_tapping_drills_agree_with_the_open_table_to_a_drill_step() -> None:
    # The table keeps 0.05 steps where ISO 2306 rounds to 0.1 (M6x0.75, M12), hence 0.1. Left out:
    # M22, where it has 18.5; 22 - 2.5 = 19.5, and so printed elsewhere (see outside.csv).
    printed = {row["Size"]: float(row["Soft"]) for row in _open_table("tap_hole_sizes")
               if row["Size"].startswith("M")}  # fmt: skip
    compared, differ = 0, []
    for form in threads():
        size = f"{form.name.split('x')[0]}-{form.pitch:g}"
        if form.series.startswith("metric") and size in printed and form.name != "M22":
            compared += 1
            if abs(form.tap_drill - printed[size]) > 0.1 + 1e-9:
                differ.append((form.name, form.tap_drill, printed[size]))
    assert compared >= 30
    assert differ == []


# From M12 up the open table has whole millimetres; ISO 273 has M12 13/13.5/14.5 and so on to M16
# (see outside.csv). M9 it gives 9.45 close; ISO 273 has no M9.
NOT_ISO_273 = {"M12", "M14", "M16"}


def test_clearance_holes_agree_with_the_open_table() -> None:
    compared, differ = 0, []
    names = {**{f"M{size}": f"M{size}" for size in (1, 1.2, 1.4, 1.6, 1.8, 2, 2.5, 3, 3.5, 4, 5, 6,
             7, 8, 10, 18, 20, 22, 24)}}  # fmt: skip
    names |= {f"#{n}": f"{n} UNF" for n in (0, 1, 2, 3, 4, 5, 6, 8, 10, 12)}
    names |= {f: f"{f} UNF" for f in ("1/4", "5/16", "3/8", "7/16", "1/2")}
    for row in _open_table("clearance_hole_sizes"):
        if row["Size"] not in names or row["Size"] in NOT_ISO_273:
            continue
        form = thread(names[row["Size"]])
        ours = (form.clearance_close, form.clearance_medium, form.clearance_free)
        for hole, text in zip(ours, (row["Close"], row["Normal"], row["Loose"]), strict=True):
            compared += 1
            metric = row["Size"].startswith("M")
            inches = not metric and "." in text
            size = float(text) * (INCH if inches else 1) if metric or inches else drill(text)
            if abs(hole - size) > 0.002:
                differ.append((row["Size"], hole, text))
    assert compared == 3 * len(names)
    assert differ == []
