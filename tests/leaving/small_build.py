"""A small build of which something is left to the person, in the shop of the new sample."""

from pathlib import Path

import barstock

SAMPLES = Path(barstock.__file__).parent / "samples"
SHOP = (SAMPLES / "new" / "workshop.yaml").read_text(encoding="utf-8")
STRAP = """
  strap:
    material: brass
    length: 40
    width: 3/4
    height: 1/8
    bar: 3/4 x 1/8
    as bought: [front, back, top, bottom]
    features:
      hole: {kind: hole, face: top, at: {left: 8, width: centre}, diameter: 5, depth: through}
"""
WINDOW = """\
      window: {kind: pocket, face: top, at: {left: 24, width: centre}, length: 9, width: 6,
        depth: through, finish: by hand}
"""
CUP = "  oil cup: {made: bought, copies: 2, material: brass, length: 14, diameter: 8}\n"
BROKEN = "  plate: {material: brass, length: 30 ±, width: 20, height: 3}\n"


def written(folder: Path, parts: str, shop: str = SHOP) -> Path:
    """A build of these parts, and the shop."""
    (folder / "build.yaml").write_text(f"build: Trial\nparts:{parts}", encoding="utf-8")
    (folder / "workshop.yaml").write_text(shop, encoding="utf-8")
    return folder
