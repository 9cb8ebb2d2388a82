"""This module reads a spring asked for in a line of words, as build.yaml would be read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from barstock.drawing.named_figures import Figures
from barstock.drawing.springs import Spring, SpringFields, read_springs
from barstock.quantities import SizeError, Unit
from barstock.reading.faults import Place
from barstock.reading.fields import validate
from barstock.reading.nodes import Entry, Listing, Node, Table, Text

HERE = Place("", 1, 1)


def asked(given: Mapping[str, str], hollows: Sequence[str] = (), unit: Unit = Unit.MM) -> Spring:
    """Return a spring from its figures by their names in build.yaml.

    hollows: diameter x depth of each, "6 x 6". Raises SizeError.
    """
    figures: dict[str, Node] = {name: Text(HERE, text) for name, text in given.items() if text}
    if hollows:
        figures["pockets"] = Listing(HERE, tuple(map(_hollow, hollows)))
    table = _table(figures)
    fields, faults = validate(SpringFields, table, HERE, "spring")
    if faults:
        raise SizeError(faults[0].what, faults[0].mend)
    assert fields is not None
    whole = Figures(_table({"springs": _table({"spring": table})}), unit, _report)
    (spring,) = read_springs({"spring": fields}, whole, {})
    if spring.kind != "torsion" and not spring.load:
        raise SizeError("nothing says what load the spring is to carry", "give --load")
    return spring


def _table(of: Mapping[str, Node]) -> Table:
    return Table(HERE, {name: Entry(HERE, node) for name, node in of.items()})


def _hollow(text: str) -> Table:
    wide, cross, deep = text.replace("×", "x").partition("x")
    if not cross:
        raise SizeError(f"'{text}' is no hollow", "write its diameter and depth: 6x10")
    return _table({"diameter": Text(HERE, wide.strip()), "depth": Text(HERE, deep.strip())})


def _report(place: Place, what: str, mend: str) -> None:
    raise SizeError(what, mend)
