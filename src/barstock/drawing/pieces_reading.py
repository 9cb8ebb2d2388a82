"""Reads what a fabrication is joined from: its pieces where they stand, joints, screws, fixture."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from barstock.drawing.build import AXES, Face, Part, Vec
from barstock.drawing.build_fields import FabricationFields, JointFields, PieceFields, ScrewFields
from barstock.drawing.part import (
    FIXTURE,
    FixingScrew,
    Fixture,
    Form,
    Joined,
    Joint,
    Piece,
    ScrewHole,
    all_turns,
)
from barstock.drawing.positions import Positions
from barstock.quantities import Dimension, show
from barstock.reading.faults import Fault, Place, nearest
from barstock.reading.nodes import Entry, Node, Table, Text
from barstock.reading.sizes import Sizes

Rows = tuple[Vec, Vec, Vec]


@dataclass
class Fabricating:
    """One fabrication being read. whole: its bare part; parts: those that pieces may be made as;
    features: names of those made after joining; hole_kinds: feature kinds that screws go into;
    unread: parts that cannot be read; uncounted: those, or the whole, whose copies cannot be;
    waits_for: the part it cannot be read without, "" for none; above: pieces read so far.
    """

    whole: Part
    fields: FabricationFields
    table: Table
    parts: Mapping[str, Part]
    features: tuple[str, ...]
    hole_kinds: frozenset[str]
    sizes: Sizes
    unread: Collection[str] = ()
    uncounted: Collection[str] = ()
    faults: list[Fault] = field(default_factory=list)
    waits_for: str = ""
    above: set[str] = field(default_factory=set)

    def joined(self) -> Joined | None:
        """All that the fabrication is joined from; None where the pieces cannot be placed. Faults
        are kept.
        """
        if not self.fields.pieces:
            place = self.table.entries["pieces"].place
            self._fault(place, "the fabrication has no pieces", "name them under 'pieces'")
            return None
        placed: dict[str, Piece] = {}
        for name, one in self.fields.pieces.items():
            piece = self._piece(name, one, self._entry("pieces", name), placed)
            self.above.add(name)
            if piece is not None:
                placed[name] = piece
        joints = [self._joint(name, joint) for name, joint in self.fields.joints.items()]
        screws = [
            self._screw(name, screw, placed) for name, screw in self.fields.fixing_screws.items()
        ]
        pieces = tuple(placed.values())
        whole = Joined(
            pieces,
            tuple(j for j in joints if j is not None),
            tuple(s for s in screws if s is not None),
            self._fixture(),
            self._flux(),
            self.fields.one_joint_a_heat,
            self._heats(),
        )
        if len(placed) < len(self.fields.pieces):
            return None
        self._counts(pieces)
        return whole

    # -- pieces ---------------------------------------------------------------------------------

    def _piece(
        self, name: str, fields: PieceFields, entry: Entry, placed: Mapping[str, Piece]
    ) -> Piece | None:
        part = self.parts.get(fields.part)
        if part is None and fields.part in self.unread:
            self.waits_for = fields.part
            return None
        if part is None:
            what = f"piece '{name}' is made as '{fields.part}', no part of the build"
            self._fault(_in(entry, "part").place, what, nearest(fields.part, self.parts))
            return None
        if part.unread:
            self.waits_for = part.name  # and what else is wrong is told
        why = _no_silver_solder(part.material) if part.material else ""
        if why:
            what = f"piece '{name}' is of {part.material}, which is not silver soldered; {why}"
            self._fault(_in(entry, "part").place, what, "make it of another metal, or screw it on")
            return None
        rows = self._turned(name, fields, entry)
        if rows is None:
            return None
        lying = Piece(name, part, rows, (0.0, 0.0, 0.0), entry.place)
        low, high = lying.box
        shift: list[float | None] = [None, None, None]
        at = _in(entry, "at")
        if isinstance(at, Table) and at.entries:
            before = len(self.faults)
            found = Positions(self.whole, self.sizes.size, self.sizes.angle, self._report)
            marks = found.marks(Entry(at.place, at))
            if len(self.faults) > before:
                return None
            for axis, spot in marks.items():
                if spot.given_from == "centre":
                    shift[axis] = spot.value - (low[axis] + high[axis]) / 2
                else:
                    face = Face(spot.given_from)
                    self._from_rough_end(name, face, spot.value, at.entries[face].place)
                    shift[axis] = spot.value - (high if face.sign > 0 else low)[axis]
        for face, other in fields.against.items():
            level = self._level(face, other, placed, _in(_entry_of(entry, "against"), str(face)))
            if level is None:
                return None
            shift[face.axis] = level - (high if face.sign > 0 else low)[face.axis]
        for axis in range(3):
            if shift[axis] is None:
                words = f"'{Face.of(axis, -1)}', '{Face.of(axis, 1)}' or '{AXES[axis]}'"
                what = f"piece '{name}' has no place along the {AXES[axis]}"
                mend = f"give {words} under 'at', or a side under 'against'"
                self._fault(entry.place, what, mend)
        if None in shift:
            return None
        x, y, z = (round(s or 0.0, 9) for s in shift)
        return Piece(name, part, rows, (x, y, z), entry.place)

    def _from_rough_end(self, name: str, face: Face, value: float, place: Place) -> None:
        """A piece is not placed by an end that is left over and filed away later."""
        whole = self.whole.size[face.axis]
        proud = value - whole if face.sign > 0 else -value
        if proud > 1e-6:
            by = show(proud, self.whole.unit)
            what = (
                f"'{name}' is placed by its {face} end, which stands {by} proud of the whole and "
                "is rough until it is filed"
            )
            mend = f"give its place from a centre line: '{AXES[face.axis]}: centre'"
            self._fault(place, what, mend)

    def _turned(self, name: str, fields: PieceFields, entry: Entry) -> Rows | None:
        """The rows that bring each named face of the piece to its side of the whole."""
        if not fields.turned:
            return all_turns()[0]
        if not all(self._looks(name, side, own, entry) for side, own in fields.turned.items()):
            return None
        asked = [(Face(own).normal, side.normal) for side, own in fields.turned.items()]
        ways = [rows for rows in all_turns() if all(_comes(rows, *one) for one in asked)]
        if len(ways) == 1:
            return ways[0]
        if not ways:
            what = f"piece '{name}' cannot be turned so: these faces do not stand so to each other"
        else:
            what = f"piece '{name}' may be turned {len(ways)} ways like this"
        mend = "name which of its faces look to two neighbouring sides of the whole"
        self._fault(_in(entry, "turned").place, what, mend)
        return None

    def _looks(self, name: str, side: Face, own: str, entry: Entry) -> bool:
        """Is a face of the piece named that looks to a side, and no angle?"""
        if own in list(Face):
            return True
        if own[:1].isdigit() or own[:1] in ("-", "+", "."):
            what = f"piece '{name}' would stand at an angle, and pieces stand square to the whole"
            mend = (
                f"name the face of it that looks to the {side}; a slope is cut in the piece or in "
                "the whole: a ridge, a slot that leans, an outline"
            )
        else:
            what = f"piece '{name}' has no face '{own}' to look to the {side}"
            mend = nearest(own, list(Face))
        self._fault(_in(_entry_of(entry, "turned"), str(side)).place, what, mend)
        return False

    def _level(
        self, face: Face, other: str, placed: Mapping[str, Piece], node: Node
    ) -> float | None:
        """Where the side of another piece lies that this one meets."""
        name, _, side = other.partition("/")
        if name not in placed:
            if name in self.above:  # and cannot be placed
                return None
            what = f"'{name}' is no piece written above this one"
            self._fault(node.place, what, nearest(name, placed) if placed else "give a place")
            return None
        if side not in list(Face):
            self._fault(node.place, f"'{side}' is no side of '{name}'", nearest(side, list(Face)))
            return None
        met = Face(side)
        if met is not face.opposite:
            what = f"the {face} of a piece cannot meet the {met} of another"
            self._fault(node.place, what, f"name its {face.opposite}")
            return None
        return placed[name].box[1 if met.sign > 0 else 0][met.axis]

    def _counts(self, pieces: tuple[Piece, ...]) -> None:
        """Are enough copies made of every part that pieces are made as?"""
        if self.whole.name in self.uncounted:
            return
        for part in dict.fromkeys(piece.part for piece in pieces):
            if part.name in self.uncounted:
                continue
            each = sum(piece.part is part for piece in pieces)
            need = each * self.whole.copies
            if part.copies < need:
                what = (
                    f"{self.whole.copies} of '{self.whole.name}' take {need} of '{part.name}', "
                    f"{part.copies} are made"
                )
                self._fault(part.place, what, f"give '{part.name}' {need} copies")

    # -- joints, screws, fixture ----------------------------------------------------------------

    def _joint(self, name: str, fields: JointFields) -> Joint | None:
        entry = self._entry("joints", name)
        good = self._known(fields.between, self.fields.pieces, _in(entry, "between").place, "piece")
        good &= self._known(fields.cut_by, self.features, _in(entry, "cut by").place, "feature")
        if fields.between[0] == fields.between[1]:
            what = f"joint '{name}' joins '{fields.between[0]}' to itself"
            self._fault(_in(entry, "between").place, what, "name two pieces")
            good = False
        alloys = self._alloys(fields, entry)
        gap = self._gap(name, fields.gap, _in(entry, "gap"))
        node = _in(entry, "fillet")
        fillet = self.sizes.length(node) if isinstance(node, Text) and node.text else 0.5
        if not good or alloys is None or gap is None or fillet is None:
            return None
        return Joint(
            name,
            fields.between,
            Form(fields.form),
            alloys,
            gap,
            entry.place,
            fillet,
            frozenset(fields.cut_by),
        )

    def _alloys(self, fields: JointFields, entry: Entry) -> tuple[str, ...] | None:
        from barstock.handbook.brazing import CadmiumError, UnknownAlloyError, brazing_alloy

        written = [fields.filler] if isinstance(fields.filler, str) else fields.filler
        found = []
        for word in written:
            try:
                found.append(brazing_alloy(word).name)
            except (CadmiumError, UnknownAlloyError) as wrong:
                self._fault(_in(entry, "filler").place, str(wrong), "")
                return None
        if not found:
            self._fault(_in(entry, "filler").place, "no filler is named", "write 'Ag 155'")
        return tuple(found) or None

    def _gap(self, name: str, text: str, node: Node) -> Dimension | None:
        """'0.05 to 0.10' as the middle with its limits; one figure is exact."""
        ends = [self.sizes.length(Text(node.place, end.strip())) for end in text.split(" to ")]
        if any(end is None for end in ends):
            return None
        low, high = ends[0] or 0.0, ends[-1] or 0.0
        if len(ends) > 2 or low < 0 or high < low:
            what = f"the gap of joint '{name}', '{text}', is no gap"
            self._fault(node.place, what, "write it like 0.05 to 0.10")
            return None
        middle, half = (low + high) / 2, (high - low) / 2
        return Dimension(middle, -half, half, text, self.whole.unit, True)

    def _screw(
        self, name: str, fields: ScrewFields, placed: Mapping[str, Piece]
    ) -> FixingScrew | None:
        entry = self._entry("fixing screws", name)
        through = [fields.through] if isinstance(fields.through, str) else fields.through
        from_fixture = through == [FIXTURE]
        place = _in(entry, "through").place
        if FIXTURE in through and not from_fixture:
            what = f"fixing screw '{name}' comes through the fixture and holes of pieces"
            mend = (
                "write 'through: fixture' and the tapped hole under 'into', where that piece lies "
                "on the block; else screw the pieces to each other, and one of them to the fixture"
            )
            self._fault(place, what, mend)
            return None
        holes = [] if from_fixture else [self._hole(word, placed, place) for word in through]
        into = None
        if from_fixture and fields.into == FIXTURE:
            self._fault(entry.place, f"fixing screw '{name}' holds no piece", "name a hole")
            return None
        if fields.into != FIXTURE:
            into = self._hole(fields.into, placed, _in(entry, "into").place)
            holes.append(into)
        elif not fields.thread:
            what = f"fixing screw '{name}' goes into the fixture by no thread"
            self._fault(entry.place, what, "add 'thread: M3'")
            return None
        if fields.replaced_by is not None and not self._known(
            [fields.replaced_by], self.features, _in(entry, "replaced by").place, "feature"
        ):
            return None
        if None in holes:
            return None
        found = [hole for hole in holes if hole is not None]
        passed = tuple(found[:-1]) if into else tuple(found)
        return FixingScrew(
            name,
            fields.thread or "",
            passed,
            into,
            entry.place,
            fields.material,
            fields.replaced_by or "",
            fields.left_in,
            self.sizes.length(_in(entry, "length")) or 0.0 if fields.length else 0.0,
        )

    def _hole(self, word: str, placed: Mapping[str, Piece], place: Place) -> ScrewHole | None:
        name, _, feature = word.partition("/")
        if not self._known([name], self.fields.pieces, place, "piece") or name not in placed:
            return None
        if feature in placed[name].part.unread:
            self.waits_for = placed[name].part.name
            return None
        holes = {f.name: f for f in placed[name].part.features if f.kind in self.hole_kinds}
        if not self._known([feature], holes, place, f"hole of '{placed[name].part.name}'"):
            return None
        return ScrewHole(name, holes[feature])

    def _flux(self) -> str:
        from barstock.handbook.brazing import UnknownAlloyError, flux

        try:
            return flux(self.fields.flux).name
        except UnknownAlloyError as wrong:
            self._fault(self.table.entries["flux"].value.place, str(wrong), "")
            return self.fields.flux

    def _heats(self) -> tuple[tuple[str, ...], ...]:
        """The user's own order: every joint once."""
        if not self.fields.heats:
            return ()
        place = self.table.entries["heats"].place
        named = [name for heat in self.fields.heats for name in heat]
        self._known(named, self.fields.joints, place, "joint")
        for name in self.fields.joints:
            if named.count(name) != 1:
                how = "in no heat" if name not in named else "in more than one heat"
                self._fault(place, f"joint '{name}' is {how}", "name every joint once")
        return tuple(tuple(heat) for heat in self.fields.heats)

    def _fixture(self) -> Fixture | None:
        fields = self.fields.fixture
        if fields is None:
            return None
        entry = self.table.entries["fixture"]
        own = None
        if fields.part is not None:
            place = _in(entry, "part").place
            if fields.part in self.unread:
                self.waits_for = fields.part
                return None
            if not self._known([fields.part], self.parts, place, "part"):
                return None
            own = self.parts[fields.part]
        from barstock.handbook.materials import MATERIALS, material

        try:
            made_of = material(fields.material).name
        except LookupError:
            what = f"'{fields.material}' is no material known here"
            place = _in(entry, "material").place
            self._fault(place, what, nearest(fields.material, MATERIALS))
            return None
        why = _no_silver_solder(made_of)
        if why:
            what = f"a fixture of {made_of} does not stand the heat; {why}"
            self._fault(_in(entry, "material").place, what, "make it of mild steel")
            return None
        return Fixture(fields.under, made_of, own, entry.place, fields.from_)

    # -- faults ---------------------------------------------------------------------------------

    def _known(
        self,
        words: list[str] | tuple[str, ...],
        valid: Collection[str],
        place: Place,
        what: str,
    ) -> bool:
        wrong = [word for word in words if word not in valid]
        for word in wrong:
            said = f"there is no {what} '{word}' here"
            self._fault(place, said, nearest(word, valid) if valid else "")
        return not wrong

    def _fault(self, place: Place, what: str, mend: str, grade: str = "error") -> None:
        self.faults.append(Fault(place, what, mend, self.whole.name, "", grade))

    def _report(self, place: Place, what: str, mend: str) -> None:
        self._fault(place, what, mend)

    def _entry(self, section: str, name: str) -> Entry:
        return _entry_of(self.table.entries[section], name)


def sticks_out(whole: Part, joined: Joined) -> dict[Face, float]:
    """How far the pieces stand proud of each face of the finished whole; below 0 they fall short
    [mm]."""
    low, high = joined.box
    return {
        face: round(
            high[face.axis] - whole.size[face.axis] if face.sign > 0 else -low[face.axis], 9
        )
        for face in Face
    }


def short_faults(whole: Part, joined: Joined, table: Table) -> list[Fault]:
    """Overall sizes that the pieces, as they stand, do not reach."""
    faults = []
    for face, proud in sticks_out(whole, joined).items():
        if proud < -1e-6:
            place = table.entries[AXES[face.axis]].value.place
            what = (
                f"the pieces end {show(-proud, whole.unit)} short of the {face} face that the "
                f"{AXES[face.axis]} gives"
            )
            faults.append(Fault(place, what, "check where they stand, and the size", whole.name))
    return faults


def _no_silver_solder(of: str) -> str:
    """Why a material cannot be at the hearth, "" for one that can."""
    from barstock.handbook.materials import material

    row = material(of)
    return f"it begins to melt at {row.melts:g} °C" if not row.takes_silver else ""


def _comes(rows: Rows, own: Vec, side: Vec) -> bool:
    turned = [sum(row[i] * own[i] for i in range(3)) for row in rows]
    return all(abs(a - b) < 1e-9 for a, b in zip(turned, side, strict=True))


def _entry_of(entry: Entry, name: str) -> Entry:
    if isinstance(entry.value, Table) and name in entry.value.entries:
        return entry.value.entries[name]
    return entry


def _in(entry: Entry, name: str) -> Node:
    """The node under a name; the place of the table where it is not written."""
    found = _entry_of(entry, name)
    return found.value if found is not entry else Text(entry.place, "")
