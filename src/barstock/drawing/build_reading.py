"""Reads build.yaml: every part and feature resolved, every fault placed, all in one run."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Protocol

from barstock.drawing.answers import Asked
from barstock.drawing.bar_wanted import ALONG, as_the_bar, bar_faults, side_faults
from barstock.drawing.build import Build, Face, Feature, Part, Unread
from barstock.drawing.build_fields import BuildFields, FabricationFields, PartFields
from barstock.drawing.fits_reading import read_fits
from barstock.drawing.general_tolerance import STANDARD, General, iso_class, read_general
from barstock.drawing.mechanism_wanted import read_mechanism
from barstock.drawing.other_hands import FeatureFields, HandFinish
from barstock.drawing.pieces_reading import Fabricating, short_faults
from barstock.drawing.pinned_choices import read_pins
from barstock.drawing.readable import only_read
from barstock.drawing.sizes_by_name import written_features
from barstock.quantities import LONGEST, Dimension, Unit, told_in
from barstock.reading.faults import Fault, Place, in_order, nearest
from barstock.reading.fields import as_far, validate
from barstock.reading.nodes import Entry, Node, Table, Text, read_nodes, read_text, sort
from barstock.reading.sizes import Sizes

FILE = "build.yaml"


class FieldsAndResolve(Protocol):
    """What reading needs of a feature kind (see methods/kind.py)."""

    @property
    def name(self) -> str:
        """The kind's name, as 'kind:' says it."""

    @property
    def filed(self) -> bool:
        """Does the plan itself mark out and file it, where it is to be filed?"""

    @property
    def fields(self) -> type[FeatureFields[Any]]:
        """The record of what may be written."""

    @property
    def round_holes(self) -> bool:
        """Does it make round holes alike and nothing else, which screws go into?"""

    def resolve(self, fields: Any, part: Part, ask: Any) -> Any:
        """The feature's spec, or None after reporting faults through `ask`."""

    def needs_mate(self, spec: Any) -> bool:
        """Is it made with its mate clamped on, whatever is written of its finish?"""


@dataclass(frozen=True)
class Reading:
    """A build as read; None where anything graded "error" is wrong. faults: in the file's order.

    readable: what can be read whatever is wrong with the rest, None where nothing can. sized: can
    its sizes be trusted, or is the unit or the tolerance that they all rest on unknown? unbarred:
    the parts that do not come out of the bar they name.
    """

    build: Build | None
    faults: tuple[Fault, ...]
    workshop: str | None = None
    readable: Build | None = None
    sized: bool = True
    unbarred: frozenset[str] = frozenset()


def read_build(folder: Path, kinds: Mapping[str, FieldsAndResolve]) -> Reading:
    """The build of a folder. Never raises for what the user wrote."""
    table, faults = read_nodes(folder / FILE)
    if table is None:
        return Reading(None, in_order(faults))
    return read_table(table, folder, kinds, faults)


def read_written(text: str, folder: Path, kinds: Mapping[str, FieldsAndResolve]) -> Reading:
    """The build of a folder as if `text` were its file."""
    table, faults = read_text(text, str(folder / FILE))
    if table is None:
        return Reading(None, in_order(faults))
    return read_table(table, folder, kinds, faults)


def read_table(
    table: Table,
    folder: Path,
    kinds: Mapping[str, FieldsAndResolve],
    slips: Sequence[Fault] = (),
) -> Reading:
    """The build of a folder from its file as nodes. slips: faults found in the file before."""
    faults = list(slips)
    reader = _Reader(kinds, faults)
    fields, parts = reader.build(table)
    if fields is None:
        return Reading(None, in_order(reader.faults))
    pins, slips = read_pins(table)
    fits, misfits = read_fits(fields, table)
    mechanism, hitches = read_mechanism(fields.mechanism, table, fields.unit)
    reader.faults += slips + misfits + hitches
    found = in_order(reader.faults)
    misnamed = {fault.place for fault in slips}
    written = written_features(table)
    build = Build(
        name=fields.build,
        folder=folder,
        parts=tuple(parts),
        general=reader.general.text,
        least_wall=reader.least_wall,
        pins=tuple(pin for pin in pins if pin.place not in misnamed),
        projection=fields.projection,
        fits=fits,
        mechanism=None if hitches else mechanism,
        unread=tuple(
            replace(one, features=tuple(written[one.name])) for one in reader.unread.values()
        ),
    )
    wrong = _wrong(found)
    readable = only_read(build, {fault.part for fault in found if fault.grade == "error"})
    unbarred = frozenset(reader.unbarred)
    kept = None if wrong else build
    return Reading(kept, found, fields.workshop, readable, reader.sized, unbarred)


def read_part(
    name: str, text: str, place: Place, kinds: Mapping[str, FieldsAndResolve]
) -> tuple[Part | None, list[Fault]]:
    """One part that the program itself has written; whatever is wrong is told of at `place`."""
    table, faults = read_text(text, place.file)
    assert table is not None, faults
    reader = _Reader(kinds, faults)
    part = reader.part(name, Entry(place, table), Unit.MM)
    wrong = [replace(fault, place=place) for fault in reader.faults]
    bad = any(fault.grade == "error" for fault in wrong)
    return None if bad or part is None else replace(part, place=place), wrong


UNKNOWN = Dimension(LONGEST)
"""Stands for a side of a part that cannot be read."""


@dataclass
class _Reader:
    """One reading of one file. rules: the general tolerances in it. unsized: the parts with a side
    that cannot be read; unread: those that come to nothing, so that what names them is not told
    that they are not there; uncounted: those whose copies cannot be read; sized, unbarred: see
    Reading."""

    kinds: Mapping[str, FieldsAndResolve]
    faults: list[Fault]
    general: General = field(default_factory=lambda: General(STANDARD, lambda _: 0, lambda _: 0))
    least_wall: float = 1.0
    rules: list[General] = field(default_factory=list)
    unsized: set[str] = field(default_factory=set)
    unread: dict[str, Unread] = field(default_factory=dict)
    uncounted: set[str] = field(default_factory=set)
    unbarred: set[str] = field(default_factory=set)
    sized: bool = True

    def build(self, table: Table) -> tuple[BuildFields | None, list[Part]]:
        # parts are checked one by one below, so that one fault does not hide another
        outer = _without(_without(table, "parts", {}), "fabrications", {})
        fields, faults = as_far(BuildFields, outer, table.place, "build")
        self.faults += faults
        unit = fields.unit if fields else Unit.MM
        with told_in(unit):
            return fields, self._parts(table, unit, faults)

    def _parts(self, table: Table, unit: Unit, faults: Sequence[Fault]) -> list[Part]:
        """The parts and fabrications. faults: of the build's own words."""
        before = len(self.faults)
        self.general = self._general(table, unit) or self._rule(iso_class("m", table.place))
        measured = table.entries.get("unit")
        unmeasured = measured and any(f.place == measured.value.place for f in faults)
        self.sized = not unmeasured and not _wrong(self.faults[before:])
        if "least wall" in table.entries:
            wall = self._sizes(unit, "").length(table.entries["least wall"].value)
            self.least_wall = self.least_wall if wall is None else wall
        if "parts" not in table.entries:
            return []
        entry = table.entries["parts"]
        parts = self._table(entry, "the parts by name")
        if parts is not None and not parts.entries:
            self.faults.append(Fault(entry.place, "the build has no parts", "add one"))
        listed = parts.entries if parts else {}
        found = {name: self.part(name, each, unit) for name, each in listed.items()}
        self.unread |= {name: Unread(name) for name, part in found.items() if part is None}
        made = [part for part in found.values() if part is not None]
        whole = self._fabrications(table, made, unit)
        self.faults += [fault for rule in self.rules for fault in rule.lacking()]
        return [*made, *whole]

    def _fabrications(self, table: Table, parts: list[Part], unit: Unit) -> list[Part]:
        """The fabrications as parts whose stock is the pieces joined."""
        entry = table.entries.get("fabrications")
        listed = self._table(entry, "the fabrications by name") if entry else None
        found = []
        for name, each in listed.entries.items() if listed else ():
            if any(part.name == name for part in parts):
                what = f"there is a part '{name}' already"
                self.faults.append(Fault(each.place, what, "give the fabrication another name"))
            part = self.fabrication(name, each, parts, unit)
            found += [part] if part else []
            if part is None:
                self.unread.setdefault(name, Unread(name))
        return found

    def part(self, name: str, entry: Entry, unit: Unit) -> Part | None:
        table = self._table(entry, "a part: its material, sizes and features", part=name)
        if table is None:
            return None
        bare_table = _without(table, "features", {})
        fields, faults = as_far(PartFields, bare_table, entry.place, "part")
        self.faults += [replace(fault, part=name) for fault in faults]
        features = table.entries.get("features")
        listed = self._table(features, "the features by name", name) if features else None
        bare = self._bare_part(name, fields, table, entry.place, unit) if fields else None
        found, unread = self._features(listed, name, bare)
        if bare is None or name in self.unsized:
            return None
        return replace(bare[0], features=found, unread=unread)

    def fabrication(self, name: str, entry: Entry, parts: list[Part], unit: Unit) -> Part | None:
        table = self._table(entry, "a fabrication: its sizes, pieces and joints", part=name)
        if table is None:
            return None
        bare_table = _without(table, "features", {})
        fields, faults = as_far(FabricationFields, bare_table, entry.place, "fabrication")
        self.faults += [replace(fault, part=name) for fault in faults]
        bare = self._bare_part(name, fields, table, entry.place, unit) if fields else None
        features = table.entries.get("features")
        listed = self._table(features, "the features by name", name) if features else None
        if fields is None or bare is None:
            return None
        whole, general = bare
        by_name = {part.name: part for part in parts}
        titles = tuple(listed.entries if listed else ())
        sizes = self._sizes(whole.unit, name, general)
        holes = frozenset(word for word, kind in self.kinds.items() if kind.round_holes)
        reading = Fabricating(
            whole, fields, table, by_name, titles, holes, sizes, self.unread, self.uncounted
        )
        joined = None if _wrong(faults) or name in self.unsized else reading.joined()
        self.faults += reading.faults
        if reading.waits_for:
            self.unread[name] = Unread(name, reading.waits_for)
        if joined is None:
            self.unsized.add(name)  # what its features are to cut is not known
            self._features(listed, name, bare)
            return None
        self.faults += short_faults(whole, joined, table)
        if "from the solid" in table.entries:
            solid = self.part(f"{name} from the solid", table.entries["from the solid"], unit)
            joined = replace(joined, solid=solid and replace(solid, copies=whole.copies))
        whole = replace(whole, joined=joined, material=joined.pieces[0].part.material)
        found, unread = self._features(listed, name, (whole, general))
        if _wrong(reading.faults) or reading.waits_for:
            return None
        return replace(whole, features=found, unread=unread)

    def _features(
        self, listed: Table | None, name: str, within: tuple[Part, General] | None
    ) -> tuple[tuple[Feature, ...], frozenset[str]]:
        """The features of a part that can be read, and the names of those that cannot."""
        written = listed.entries if listed else {}
        with told_in(within[0].unit if within else Unit.MM):
            read = {title: self.feature(title, one, name, within) for title, one in written.items()}
        unread = frozenset(title for title, feature in read.items() if feature is None)
        return tuple(feature for feature in read.values() if feature is not None), unread

    def _bare_part(
        self,
        name: str,
        fields: PartFields | FabricationFields,
        table: Table,
        place: Place,
        unit: Unit,
    ) -> tuple[Part, General]:
        """The part without its features, and its general tolerance.

        A size that cannot be read is taken as unknown, so that the features' own can be read.
        """
        own = fields.unit or unit
        copies = table.entries.get("copies")
        if copies and any(copies.value.place == fault.place for fault in self.faults):
            self.uncounted.add(name)
        general = self._general(table, own, name) or self.general
        if general.unit not in (None, own):
            what = f"the general tolerance goes by the decimal places of {general.unit} figures"
            mend = f"give this part, in {own}, its own 'general tolerance'"
            self.faults.append(Fault(place, what, mend, name))
            general = iso_class("m", place)
        sizes = self._sizes(own, name, general)
        material = ""
        made_of = table.entries.get("material")
        if isinstance(fields, PartFields) and made_of and isinstance(made_of.value, Text):
            material = self._material(made_of.value, made_of.value.text, name)
        round_ = isinstance(fields, PartFields) and "diameter" in table.entries
        across = ("diameter", "diameter") if round_ else ("width", "height")
        self.faults += side_faults(table, across, place, name)
        dims = [self._positive(sizes, table, side, name) for side in ("length", *across)]
        if None in dims:
            self.unsized.add(name)
        length, width, height = (size or UNKNOWN for size in dims)
        if isinstance(fields, PartFields):
            bought = frozenset(fields.as_bought) | (ALONG if round_ else frozenset())
            length, width, height = (
                size if {Face.of(axis, -1), Face.of(axis, 1)} <= bought
                else size.aimed()
                for axis, size in enumerate((length, width, height))
            )  # fmt: skip
        part = Part(
            name=name,
            material="",
            copies=fields.copies,
            length=length,
            width=width,
            height=height,
            features=(),
            place=place,
            unit=own,
            title=fields.title or name,
            general=general.text,
        )
        if isinstance(fields, PartFields):
            part = replace(
                part,
                material=material,
                section=fields.bar or "",
                as_bought=bought,
                round=round_,
                made=fields.made,
            )
            if name not in self.unsized and part.made is None:
                part, notes = as_the_bar(part, table)
                wrong = bar_faults(part, table)
                self.unbarred |= {fault.part for fault in wrong}
                self.faults += [*notes, *wrong]
        return part, general

    def feature(
        self, title: str, entry: Entry, name: str, within: tuple[Part, General] | None
    ) -> Feature | None:
        table = self._table(entry, "a feature: its kind and sizes", name, title)
        if table is None:
            return None
        written = table.entries.get("kind")
        node = written.value if written else Text(entry.place, "")
        word = node.text if isinstance(node, Text) else ""
        if word not in self.kinds:
            what = f"{sort(node)} is no kind of feature" if written else "'kind' is missing"
            mend = nearest(word, self.kinds)
            self.faults.append(Fault(node.place, what, mend, name, title))
            return None
        kind = self.kinds[word]
        fields, faults = validate(kind.fields, table, entry.place, word)
        self.faults += [replace(fault, part=name, feature=title) for fault in faults]
        if fields is None or within is None:
            return None
        part, general = within
        asked = Asked(table, entry.place, title, part, general)
        spec = kind.resolve(fields, part, asked)
        # what is already said of a value's form is not said again
        told = {fault.place for fault in faults}
        said = asked.unread if name in self.unsized else asked.faults
        self.faults += [fault for fault in said if fault.place not in told]
        if spec is None:
            return None
        by_hand = HandFinish(fields.finish) if fields.finish in list(HandFinish) else None
        if by_hand is HandFinish.FILED and kind.filed:
            by_hand = None
        if by_hand is None and kind.needs_mate(spec):
            by_hand = HandFinish.WITH_MATE
        return Feature(title, word, spec, entry.place, by_hand)

    # -- pieces ---------------------------------------------------------------------------------

    def _general(self, table: Table, unit: Unit, part: str = "") -> General | None:
        entry = table.entries.get("general tolerance")
        if entry is None:
            return None
        general, faults = read_general(entry, unit)
        self.faults += [replace(fault, part=part) for fault in faults]
        return general and self._rule(general)

    def _rule(self, general: General) -> General:
        """The rule, to be asked at the end what it lacked."""
        self.rules.append(general)
        return general

    def _sizes(self, unit: Unit, part: str, general: General | None = None) -> Sizes:
        def report(place: Place, what: str, mend: str) -> None:
            self.faults.append(Fault(place, what, mend, part))

        rule = general or self.general
        return Sizes(unit, report, rule.length)

    def _positive(self, sizes: Sizes, table: Table, side: str, name: str) -> Dimension | None:
        entry = table.entries.get(side)
        if entry is None or not isinstance(entry.value, Text):
            return None  # already reported
        node = entry.value
        size = sizes.size(node)
        if size is not None and size.low <= 0:
            what = f"'{side}' must be more than 0"
            self.faults.append(Fault(node.place, what, "check the figure", name))
            return None
        return size

    def _material(self, node: Node, word: str, part: str) -> str:
        """The material by its name in the handbook, "" where it is not known there."""
        from barstock.handbook.materials import MATERIALS, material

        try:
            return material(word).name
        except LookupError:
            what = f"'{word}' is no material known here" if word else "no material is written"
            self.faults.append(Fault(node.place, what, nearest(word, MATERIALS), part))
            return ""

    def _table(self, entry: Entry, what: str, part: str = "", feature: str = "") -> Table | None:
        if isinstance(entry.value, Table):
            return entry.value
        found = f"{sort(entry.value)} stands where a table is wanted"
        self.faults.append(Fault(entry.value.place, found, f"write {what}", part, feature))
        return None


def _wrong(faults: Sequence[Fault]) -> bool:
    return any(fault.grade == "error" for fault in faults)


def _without(table: Table, name: str, instead: dict[str, Entry]) -> Table:
    """The table with what stands under a name replaced by an empty table."""
    if name not in table.entries:
        return table
    entry = table.entries[name]
    empty = Entry(entry.place, Table(entry.value.place, instead))
    return Table(table.place, {**table.entries, name: empty})
