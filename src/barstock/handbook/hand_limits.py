"""How near hand work comes to the drawing: marked out, sawn, filed or drilled at the bench.

All figures are common practice: a line scribed with a sharp point on a blued face is 0.1 mm wide
and is split by a fine file; a hole follows a punched mark less truly than a file a line.
"""

from __future__ import annotations

FILED = 0.1
"""A marked-out face filed to its line, or a size filed and tried with callipers, comes within so
much of the drawing either way [mm]; common practice."""

MARKED_HOLE = 0.25
"""The place of a hole drilled to a punched mark comes within so much either way [mm]; common
practice."""

DEEP_BY_HAND = 5.0
"""So many diameters deep a hole is drilled or tapped by hand and still straight, at most; common
practice."""

FILED_ANGLE = 0.5
"""A face filed to a protractor or to a scribed line comes within so much [degrees]; common
practice."""
