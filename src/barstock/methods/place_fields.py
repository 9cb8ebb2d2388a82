"""How places are written in a feature's fields."""

from __future__ import annotations

from typing import Any

Where = dict[str, Any]
"""A position along one axis or two: {left: 15, width: centre}."""

At = dict[str, Any] | list[dict[str, Any]]
"""A position, a list of them, or a pattern (row, grid, circle, mirrored)."""
