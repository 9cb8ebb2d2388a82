"""Designations of alloys as drawings and bar lists write them, by the material they stand with.

EN 10027-1 and -2, EN 1412, EN 1982, EN 1561 and EN 573 names and numbers, older national ones and
the trade's own, from memory. An alloy without a row of its own stands with the one that it is
bought in place of (common practice): their figures differ by some per cent.
"""

from __future__ import annotations

import re

_DESIGNATIONS = {
    "brass": "CuZn39Pb3, CuZn39Pb2, CuZn40Pb2, CuZn36Pb3, CW612N, CW617N, CW603N, CZ120, CZ122, "
    "CZ124, Ms58, C360, C36000, C385, leaded brass, turning brass",
    "soft brass": "CuZn37, CuZn30, CW508L, CW505L, CZ106, Ms63, Ms70, C260, C26000, sheet brass",
    "phosphor bronze": "CuSn5, CuSn6, CuSn8, CuSn12, CW451K, CW452K, CW453K, CC483K, PB103, PB104, "
    "C510, C51000, C544",
    "gunmetal": "CuSn5Zn5Pb5, CuSn7Zn4Pb7, CC491K, CC493K, LG4, Rg5, Rg7, C836, C932, C93200",
    "aluminium bronze": "CuAl10Ni5Fe4, CW307G, AB2, C630, C95400",
    "copper": "Cu-ETP, Cu-DHP, CW004A, CW024A, C103, C106, C110",
    "nickel silver": "CuNi18Zn20, CuNi12Zn24, CW409J, CW403J, NS104",
    "mild steel": "S235, S235JR, S275, S275JR, S355, S355J2, St37, St37-2, St44, St52, St52-3, "
    "C10, C15, C15E, C20, C22, C22E, 1.0037, 1.0038, 1.0044, 1.0122, 1.0301, 1.0401, 1.0402, "
    "1.0577, 1.1141, 1.1151, EN3A, EN32, 070M20, 080A15, 080M15, 1020, bright steel, BDMS, CRS, "
    "HRS, cold rolled steel, hot rolled steel, cold drawn steel, bright drawn mild steel",
    "free-cutting steel": "11SMn30, 11SMnPb30, 11SMn37, 11SMnPb37, 9SMn28, 9SMnPb28, 1.0715, "
    "1.0718, 1.0736, 1.0737, EN1APb, 230M07, 220M07, 1213",
    "medium carbon steel": "C35, C35E, C40, C40E, C45, C45E, Ck45, C50, C55, C60, 1.0501, 1.0503, "
    "1.0511, 1.0535, 1.0540, 1.0601, 1.1191, EN8D, EN9, 080M40, 080A42, 070M55, 1050",
    "silver steel": "115CrV3, 1.2210, 100MnCrW4, 1.2510, W1, ground flat stock",
    "stainless steel": "1.4305, X8CrNiS18-9, 303S21",
    "tough stainless steel": "1.4301, X5CrNi18-10, 1.4307, 1.4401, 1.4404, 1.4571, 304L, 316L",
    "cast iron": "EN-GJL-200, EN-GJL-250, GJL-200, GJL-250, GG20, GG25, gray iron, "
    "grey cast iron, gray cast iron, continuous cast iron",
    "aluminium": "aluminium alloy, aluminum alloy, EN AW-6082, EN AW-6061, EN AW-6026, "
    "EN AW-6060, AlMgSi1, 6060, 6063, 6026",
    "hard aluminium": "EN AW-2007, EN AW-2011, EN AW-2014, EN AW-2017, EN AW-2024, "
    "AlCuMg1, AlCuMgPb, 2007, 2011, 2014A, 2017, FC1, duralumin",
    "high-strength aluminium": "EN AW-7075, AlZn5.5MgCu, AlZnMgCu1.5, DTD 5074, L160",
    "acetal": "POM-C, polyacetal",
}

_STATE = re.compile(r"(?:\+[a-z]+|t\d+|annealed|normalised|normalized)$")
_FORMS = ("hex", "hexagon", "round", "flat", "square", "bar", "rod", "sheet", "plate", "strip")
_MAKER = re.compile(r"^(?:aisi|sae|astm|uns|din|bs|w\.?nr\.?)")


def plain(word: str) -> str:
    """A designation without capitals, blanks, strokes, its standard's name and its temper.

    >>> plain("EN AW-6082 T6"), plain("AISI 304"), plain("C45+C"), plain("EN 8")
    ('enaw6082', '304', 'c45', 'en8')
    """
    text = re.sub(r"[\s\-_]+", "", word.lower())
    while (bare := _STATE.sub("", text)) and bare != text:
        text = bare
    return _MAKER.sub("", text) or text


def designations(name: str) -> tuple[str, ...]:
    """The designations that stand with a material of the handbook."""
    return tuple(_DESIGNATIONS.get(name, "").split(", ")) if name in _DESIGNATIONS else ()


def words_in(text: str) -> list[str]:
    """What a longer name may be known by: its designations first, then all but them.

    >>> words_in("phosphor bronze (PB102)"), words_in("C45 / 1.0503")
    (['PB102', 'phosphor bronze'], ['C45', '1.0503'])
    """
    words = re.findall(r"[^\s(),;/]+", text)
    words = [word for word in words if word.lower() not in _FORMS]
    numbered = [word for word in words if any(sign.isdigit() for sign in word)]
    rest = " ".join(word for word in words if word not in numbered)
    return [*numbered, *([rest] if rest else [])]
