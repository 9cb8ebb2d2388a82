"""A guide as a scene to turn about and set moving: meshes, and the block's poses at its stops."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from math import isinf
from typing import Any

from barstock.mechanism.guides.guide_assembly import Stood
from barstock.mechanism.guides.guide_check import Judged
from barstock.mechanism.guides.guide_play import MOTIONS, Motion, reach
from barstock.mechanism.guides.guide_words import VERBS
from barstock.solids.shapes import Solid
from barstock.solids.skin import edges, patches

FINE = 0.08
"""Round faces are shown within this [mm]."""
FREE = 3.0
"""How far a motion is shown that nothing stops [mm]."""


def scene(judged: Judged, stood: Sequence[Stood]) -> dict[str, Any]:
    """The guide as plain data for the page. Lengths in mm, x ahead, y to the left, z up."""
    return {
        "bodies": [
            {"name": one.standing.name, "moves": n == 0, **_mesh(one.solid)}
            for n, one in enumerate(stood)
        ],
        "motions": [
            found for name in MOTIONS if (found := _motion(judged, MOTIONS[name])) is not None
        ],
    }


def _mesh(solid: Solid) -> dict[str, Any]:
    """Triangles and sharp edges, as flat lists of coordinates."""
    corners = [patch.triangles.reshape(-1, 3) for patch in patches(solid, FINE)]
    lines = [pair for line in edges(solid, FINE) for pair in pairwise(line)]
    return {
        "triangles": [_short(v) for face in corners for p in face.tolist() for v in p],
        "lines": [_short(v) for pair in lines for p in pair for v in p.tolist()],
    }


def _short(value: float) -> float:
    return round(value, 3)


def _motion(judged: Judged, motion: Motion) -> dict[str, Any] | None:
    """A motion's two stops: how far, the line it turns about or moves along, the shift there."""
    freedom = judged.freedoms[motion.name]
    stops = []
    for sign, way, moved in zip((1, -1), freedom.ways, (motion, motion.back()), strict=True):
        if isinf(way.amount) and motion.turns:
            return None
        reached = reach(judged.faces, moved)
        shift = [0.0, 0.0, 0.0] if isinf(way.amount) else reached.shift[0].tolist()
        stops.append(
            {
                "amount": sign * (FREE if isinf(way.amount) else way.amount),
                "stopped": not isinf(way.amount),
                "shift": [_short(v) for v in shift],
                "touches": [list(touch.at) for touch in way.touches],
            }
        )
    return {
        "name": motion.name,
        "words": f"the {judged.guide.block.name} {VERBS[motion.name]}",
        "unit": motion.unit,
        "turns": motion.turns,
        "axis": list(motion.along[3:] if motion.turns else motion.along[:3]),
        "asked": freedom.asked,
        "stops": stops,
    }


def scripts(vendor: Mapping[str, str]) -> dict[str, str]:
    """Where a page finds the vendored modules, inlined: names in an import map to data addresses.

    vendor: text by file name.
    """
    from base64 import b64encode

    core = "three-core"
    sources = {
        core: vendor["three.core.min.js"],
        "three": vendor["three.module.min.js"].replace("./three.core.min.js", core),
        "orbit": vendor["OrbitControls.js"],
    }
    return {
        name: f"data:text/javascript;base64,{b64encode(text.encode()).decode()}"
        for name, text in sources.items()
    }
