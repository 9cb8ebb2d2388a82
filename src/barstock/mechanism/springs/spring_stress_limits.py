"""This module says how much a coil spring of patented wire may be stressed.

Figures are shares of its tensile strength: EN 13906-1:2013, 10.1.1 (compression, cold coiled, at
solid length, not corrected for curvature); EN 13906-2:2013 (extension); EN 13906-3:2014 (torsion,
bending). From memory.
"""

from __future__ import annotations

from barstock.handbook.spring_grades import WireGrade

SOLID = 0.56
"""Shear at solid length over tensile strength, not corrected."""

WORKING, WORKING_SOFT = 0.45, 0.35
"""Shear over tensile strength at full bump, corrected, so that a spring hardly sets even without
scragging; of steel, and of stainless steel and bronze. Shigley, Mechanical Engineering Design,
table of the greatest torsional stress in static use, before set is removed; from memory."""

EXTENSION = 0.45
"""Shear in an extension spring at its longest, not corrected."""

BENDING = 0.70
"""Bending over tensile strength: torsion springs, loops."""

INDEX = (4.0, 16.0)
"""Mean diameter over wire: what can be wound cleanly. EN 13906-1, scope (4 to 20) and common
practice."""

ACTIVE = (3.0, 20.0)
"""Working turns. EN 13906-1 asks for 2 at least; 3, and 20 at most, are common practice."""


def working(grade: WireGrade) -> float:
    """Return the shear over tensile strength allowed at full bump, corrected."""
    return WORKING_SOFT if grade.soft else WORKING
