"""Reads the fits of a build: what goes together, with what clearance, under what paint."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from barstock.drawing.build import AXES, Mating, Side
from barstock.drawing.build_fields import BuildFields
from barstock.reading.faults import Fault, Place, nearest
from barstock.reading.nodes import Listing, Node, Table, Text, inside
from barstock.reading.sizes import Sizes


def read_fits(fields: BuildFields | None, table: Table) -> tuple[tuple[Mating, ...], list[Fault]]:
    """The fits written in a build's table, and what is wrong in them but for dimensions' names.

    fields: the build as it passed; None where it did not.
    """
    if fields is None:
        return (), []
    parts = inside(table, "parts")
    reader = _Fits(fields, {name: list(inside(p, "features")) for name, p in parts.items()})
    found = [
        reader.fit(name, node)
        for name, node in inside(table, "fits").items()
        if name in fields.fits
    ]
    return tuple(fit for fit in found if fit is not None), reader.faults


@dataclass
class _Fits:
    fields: BuildFields
    features: dict[str, list[str]]
    faults: list[Fault] = field(default_factory=list)

    def fit(self, name: str, node: Node) -> Mating | None:
        sizes = Sizes(self.fields.unit, lambda *told: self.faults.append(Fault(*told)))
        coats, clearance = inside(node, "coat"), inside(node, "clearance")
        sides = []
        for which in ("inside", "outside"):
            side = self._side(inside(node, which), _entry(node, which), sizes)
            coat = sizes.size(coats[which]) if which in coats else None
            if coat is not None and coat.low < 0:
                what = f"the coat on the {which} may be less than nothing"
                self.faults.append(Fault(coats[which].place, what, "give its thickness, 0 or more"))
            sides.append(side and replace(side, coat=coat))
        least = sizes.length(clearance["least"]) if "least" in clearance else None
        most = sizes.length(clearance["most"]) if "most" in clearance else None
        if least is not None and most is not None and most < least:
            what = "the most clearance is less than the least"
            self.faults.append(Fault(clearance["most"].place, what, "change them over"))
        within, around = sides[1], sides[0]
        if within is None or around is None or least is None:
            return None
        return Mating(name, around, within, least, most, node.place, sizes.unit)

    def _side(self, written: dict[str, Node], node: Node, sizes: Sizes) -> Side | None:
        if isinstance(node, Text):
            return Side(node.text, places=(node.place,)) if self._exists(node) else None
        if ("of" in written) == ("size" in written):
            what = "one of the two is not given" if "of" not in written else "both are given"
            mend = "give 'of', a dimension of a part, or 'size', of a thing bought"
            self.faults.append(Fault(node.place, what, mend))
            return None
        if "size" in written:
            size = sizes.size(written["size"])
            return Side(size=size) if size else None
        less = written.get("less")
        names = [written["of"], *(less.items if isinstance(less, Listing) else ())]
        known = [self._exists(name) for name in names]
        if not all(known):
            return None
        words = [name.text for name in names if isinstance(name, Text)]
        return Side(words[0], tuple(words[1:]), places=tuple(name.place for name in names))

    def _exists(self, node: Node) -> bool:
        """Are its part and its feature there?"""
        words = node.text if isinstance(node, Text) else ""
        part, *rest = words.split("/")
        if part not in self.features:
            return self._wrong(node.place, f"a fit names '{part}', no part of the build",
                               nearest(part, self.features))  # fmt: skip
        if len(rest) == 1 and rest[0] in (*AXES, "diameter"):
            return True
        if not rest or rest[0] not in self.features[part]:
            named = rest[0] if rest else ""
            return self._wrong(
                node.place,
                f"a fit names '{named}', no feature of '{part}'",
                nearest(named, [*self.features[part], *AXES]),
            )
        if len(rest) == 1:
            what = f"a fit names '{words}', but none of its dimensions"
            return self._wrong(node.place, what, f"write {words}/width or the like")
        return True

    def _wrong(self, place: Place, what: str, mend: str) -> bool:
        self.faults.append(Fault(place, what, mend))
        return False


def _entry(node: Node, name: str) -> Node:
    return node.entries[name].value if isinstance(node, Table) else node
