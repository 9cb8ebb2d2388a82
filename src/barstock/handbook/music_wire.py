"""The tensile strength of music wire by its diameter.

Source: ASTM A228/A228M table 2, inch-pound columns (authoritative here), as printed by a wire
stockist. Between its sizes the standard allows interpolation.
"""

from __future__ import annotations

from barstock.quantities import INCH

SOURCE = "ASTM A228/A228M table 2"

KPSI = 6.894757
"""1000 lbf per square inch [MPa]."""

# diameter [thousandths of an inch]: least tensile strength [1000 lbf/in2]
TABLE = {
    4: 439, 5: 426, 6: 415, 7: 407, 8: 399, 9: 393, 10: 387, 11: 382, 12: 377, 13: 373, 14: 369,
    15: 365, 16: 362, 18: 356, 20: 350, 22: 345, 24: 341, 26: 337, 28: 333, 30: 330, 32: 327,
    34: 324, 36: 321, 38: 318, 40: 315, 42: 313, 45: 309, 48: 306, 51: 303, 55: 300, 59: 296,
    63: 293, 67: 290, 72: 287, 76: 284, 80: 282, 85: 279, 90: 276, 95: 274, 100: 271, 102: 270,
    107: 268, 110: 267, 112: 266, 121: 263, 125: 261, 130: 259, 135: 258, 140: 256, 145: 254,
    150: 253, 156: 251, 162: 249, 177: 245, 192: 241, 207: 238, 225: 235, 250: 230,
}  # fmt: skip

THINNEST, THICKEST = (round(thou * INCH / 1000, 4) for thou in (min(TABLE), max(TABLE)))
"""The sizes between which the table holds [mm]."""


def strength(diameter: float) -> float:
    """The least tensile strength [MPa] of a wire of a diameter [mm], to the nearest 10 MPa.

    >>> strength(0.508), strength(2.54)
    (2410.0, 1870.0)
    """
    thou = diameter / INCH * 1000
    above = next((size for size in TABLE if size >= thou - 1e-6), max(TABLE))
    below = max((size for size in TABLE if size <= thou), default=min(TABLE))
    share = (thou - below) / (above - below) if above > below else 0.0
    kpsi = TABLE[below] + share * (TABLE[above] - TABLE[below])
    return float(round(kpsi * KPSI, -1))
