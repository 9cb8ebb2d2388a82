"""Finds which of the shop's tools can do a job, and what to buy where none can. Lengths in mm."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from itertools import product
from math import ceil, inf, radians, tan

from barstock.drawing.dimension_runs import CheckSort
from barstock.errors import UnplannableError
from barstock.handbook.cutter_lengths import (
    DRILL,
    END_MILL,
    MILLS,
    REAMER,
    deepest,
    drill_flute,
    drills_sold,
    mill_flute,
    usual_flute,
)
from barstock.handbook.drills import named
from barstock.handbook.holding_limits import HOLDER_RADIUS
from barstock.handbook.hole_tools import (
    COUNTERSINKS,
    FINER_REAMERS,
    IN_BORE,
    REAMERS,
    SPOT_DRILLS,
    boring_bar,
)
from barstock.handbook.slitting_saws import COLLAR_SHARE, DIAMETERS, THICK, TRUE, deepest_slot
from barstock.handbook.threads import thread
from barstock.methods.cuts import EdgeCut, HoleCut, LevelCut
from barstock.quantities import Length, Unit, show, show_fraction
from barstock.workshop.shop import Holder, Tool, ToolKind, Workshop
from barstock.workshop.tool_lists import IN_HOLDER

SAME = 0.005
ROUNDED = 0.013  # a fraction of an inch and the same to three places lie so far apart at most [mm]
WALL_CUT = 0.2  # left on each wall and on the floor for the last light cut; common practice
CONE_CLEAR = 1.0  # of the work, by a bevelling cone's point [mm]; common practice
MOST_PASSES = 3  # of a slitting saw beside each other in one slot; common practice
USUAL_SPOT = 6.0  # spot drill that is bought where there is room [mm]; common practice
LEAST_SINK = 6.0  # smallest countersink that is bought [mm]; common practice
PAST = {"drill": 0.5, "ream": 2.0, "tap": 1.5, "bore": 0.3}
"""How far each goes out of the far side of a through hole [mm], a drill's point besides; common
practice."""
REAM = (0.08, 0.45)  # least and most left on the diameter for a reamer; common practice


@dataclass
class ToolChest:
    """The shop's tools, and the list of those the plan asks for besides."""

    workshop: Workshop
    to_buy: dict[str, Tool] = field(default_factory=dict)

    def of(self, kind: ToolKind, good: Callable[[Tool], bool] = lambda _: True) -> list[Tool]:
        """The shop's tools of a kind that are `good`."""
        return [t for t in self.workshop.tools if t.kind is kind and good(t)]

    def size_name(self, size: float) -> str:
        """A size as it is asked for in a shop: a fraction or drill of an inch, else millimetres."""
        if self.workshop.unit is not Unit.INCH:
            return f"{size:g}"
        drills = named(size, 0.002)
        if drills:
            return drills[0][0]
        whole = show_fraction(size)
        return whole if "." not in whole else show(size, Unit.MM)

    def buy(self, tool: Tool) -> Tool:
        """Put a tool the shop lacks on the list and use it."""
        return self.to_buy.setdefault(tool.name, tool)

    # -- end mills ---------------------------------------------------------------------------

    def end_mills(self, cut: LevelCut, depth: float) -> tuple[Tool, ...]:
        """The end mills that can cut a level floor `depth` deep, best first (at most three)."""
        found, width = self._end_mills(cut, depth)
        if found:
            return tuple(found[:3])
        size = width or 10.0
        least = max(0.5 * size, 2 * cut.sharpest)
        return (self.buy(self._end_mill(least, size, size, depth)),)

    def _end_mills(self, cut: LevelCut, depth: float) -> tuple[list[Tool], float]:
        """The end mills owned that can cut a level floor `depth` deep, best first, and the width
        that they must go between [mm]; 0 where that is no matter."""
        across = {"across-", "across+"} <= cut.walls
        along = {"run-", "run+"} <= cut.walls
        closed = len(cut.walls) == 4
        over = _over(cut)

        def good(t: Tool) -> bool:
            return (
                t.flute >= min(depth, t.reach) - SAME
                and t.reach >= depth
                and t.flute >= depth - SAME
                and not (cut.corner and t.diameter > 2 * (cut.corner + over))
                and t.diameter / 2 >= cut.sharpest - SAME
                and not (across and t.diameter > cut.across_length + over)
                and not (along and t.diameter > cut.run_length + over)
                and (t.centre_cutting or not closed)
            )

        found = self.of(ToolKind.END_MILL, good)
        width = min(
            [cut.across_length] * across
            + [cut.run_length] * along
            + [2 * cut.corner] * bool(cut.corner)
            or [0.0]
        )
        if width:
            # A cutter the width of the slot cuts it wide on a tired machine: a smaller one, with a
            # light cut on each wall, holds a stated limit.
            fine = any(c.dimension.stated and c.sort is CheckSort.INSIDE for c in cut.checks)
            best = width - 2 * WALL_CUT if fine else width
            found.sort(key=lambda t: (t.diameter > best + over, abs(best - t.diameter)))
        else:
            # One run of a cutter that covers the whole width is quicker than two of a smaller one.
            found.sort(key=_covering(min(cut.across_length, cut.run_length)))
        return found, width

    def mills(self, cut: LevelCut, depth: float) -> bool:
        """Is an end mill owned that cuts a level floor `depth` deep?"""
        return bool(self._end_mills(cut, depth)[0])

    def slitting_saws(self, cut: LevelCut, depth: float) -> tuple[Tool, ...]:
        """The slitting saws owned for a slot that runs through at both ends, the thickest first (at
        most three): one as thick as the slot is wide need not be run along both walls."""
        found = self.of(ToolKind.SLITTING_SAW, lambda t: _saws(t, cut, depth))
        found.sort(key=lambda t: (-t.flute, t.diameter))
        return tuple(found[:3])

    def saw_to_buy(self, cut: LevelCut, depth: float) -> tuple[Tool, ...]:
        """A slitting saw to buy for a slot for which no end mill is sold; none where one is, or no
        saw goes so deep."""
        width = self._end_mills(cut, depth)[1] or 10.0
        try:
            self._end_mill(max(0.5 * width, 2 * cut.sharpest), width, width, depth)
        except UnplannableError:
            for size, thick in product(DIAMETERS, sorted(THICK[self.workshop.unit], reverse=True)):
                name = f"slitting saw {show(size, Unit.MM)}, {self.size_name(thick)} thick"
                saw = Tool(name, ToolKind.SLITTING_SAW, size, thick, 40.0, COLLAR_SHARE * size,
                           holder=Holder.ARBOR, teeth=64, centre_cutting=False)  # fmt: skip
                if _saws(saw, cut, depth):
                    return (self.buy(saw),)
        return ()

    def facing_mills(self, width: float, depth: float) -> tuple[Tool, ...]:
        """The end mills to face an end `width` across, best first (at most three)."""
        found = self.of(ToolKind.END_MILL, lambda t: t.flute >= depth)
        found.sort(key=_covering(width))
        return tuple(found[:3]) or (self.buy(self._end_mill(5.0, 10.0, 10.0, depth)),)

    def side_mill(self, height: float) -> tuple[Tool, ...]:
        """End mills whose flutes are long enough to square an end `height` tall."""
        found = self.of(ToolKind.END_MILL, lambda t: t.flute >= height + 1.0 and t.diameter >= 6)
        found.sort(key=lambda t: -t.diameter)
        return tuple(found[:2])

    def contour_mill(self, height: float, over: float, hollow: float) -> Tool:
        """The end mill for an outline `height` tall: one of the very radius of its tightest hollow
        if there is one. over: what its holder must clear above its tip; hollow: that radius, 0
        where there is none [mm].
        """
        most = 2 * hollow if hollow else 16.0
        found = self.of(
            ToolKind.END_MILL,
            lambda t: t.diameter <= most + SAME and t.flute >= height and t.reach >= over,
        )
        if found:
            wanted = most if hollow else 10.0
            return min(found, key=lambda t: (abs(t.diameter - wanted), t.name))
        best = min(10.0, most)
        mill = self._end_mill(0.5 * best, best, best, height)
        return self.buy(replace(mill, reach=max(mill.reach, ceil(over))))

    def file(self) -> Tool:
        """The file to be used."""
        owned = self.of(ToolKind.FILE)
        hand = Tool("hand file", ToolKind.FILE, 0, 0, 0, 0, holder=Holder.HAND)
        return owned[0] if owned else hand

    def hand_saw(self) -> Tool:
        """A hacksaw or a piercing saw."""
        owned = self.of(ToolKind.SAW_BLADE)
        hand = Tool("hacksaw", ToolKind.SAW_BLADE, 0, 0, 0, 0, holder=Holder.HAND)
        return owned[0] if owned else hand

    # -- round tools -------------------------------------------------------------------------

    def spot(self, room: float = 100.0, out: float = 0.0) -> Tool:
        """The spotting drill, no thicker than `room` where a wall stands beside the hole; out: how
        far it must stick out [mm].
        """
        found = self.of(ToolKind.SPOT_DRILL, lambda t: t.diameter <= room and t.reach >= out)
        if found:
            return max(found, key=lambda t: t.diameter)
        best = min(USUAL_SPOT, room)
        size = _nearest(SPOT_DRILLS[self.workshop.unit], 0.0, best, room)
        if size is None:
            raise UnplannableError(
                f"a wall beside the hole leaves room for a spot drill of {Length(room):.1f}, and "
                "none is sold so thin; drill the hole first, or widen what stands beside it"
            )
        return self.buy(
            Tool(
                f"spot drill {self.size_name(size)}",
                ToolKind.SPOT_DRILL,
                size,
                15.0,
                max(25.0, ceil(out)),
                size,
                90.0,
                Holder.CHUCK,
            )
        )

    @property
    def thinnest_spot(self) -> float:
        """The diameter of the thinnest spotting drill that is owned or sold [mm]."""
        owned = [tool.diameter for tool in self.of(ToolKind.SPOT_DRILL)]
        return min([*owned, *SPOT_DRILLS[self.workshop.unit]])

    def drill(self, low: float, high: float, best: float, depth: float, out: float = 0.0) -> Tool:
        """A drill between two sizes, nearest to the best, long enough; else one to buy. out: how
        far it must stick out [mm].
        """
        found = self.of(
            ToolKind.DRILL,
            lambda t: (
                low - SAME <= t.diameter <= high + SAME and t.flute >= depth and t.reach >= out
            ),
        )
        if found:
            return min(found, key=lambda t: (abs(t.diameter - best), t.name))
        size = _nearest(drills_sold(self.workshop.unit), low, best, high)
        size = size or _nearest([s for u in Unit for s in drills_sold(u)], low, best, high)
        if size is None:
            raise UnplannableError(
                f"it wants a drill of {Length(low, high):.2f}, and none is sold of such a size; "
                "give limits that one lies within, or have it bored: 'finish: bored'"
            )
        flute = drill_flute(size, depth)
        if flute is None:
            raise UnplannableError(
                f"it wants a drill {self.size_name(size)} with flutes {Length(depth):.0f} long, "
                "and none is sold so long; drill it from both sides, as two holes on one axis"
            )
        long = "long " * (flute > usual_flute(DRILL, size))
        return self.buy(
            Tool(
                f"{long}drill {self.size_name(size)}",
                ToolKind.DRILL,
                size,
                flute,
                max(flute + IN_HOLDER, out),
                size,
                118.0,
                Holder.CHUCK,
            )
        )

    def ground_flat(self, drill: Tool) -> Tool:
        """A second drill of that size, its end ground flat for a bottom that no cutter of the size
        is sold for; common practice.
        """
        name = f"{drill.name}, its end ground flat"
        owned = [t for t in self.workshop.tools if t.name == name]
        return owned[0] if owned else self.buy(replace(drill, name=name, point=180.0))

    def reamer(self, low: float, best: float, high: float, depth: float) -> Tool:
        """A reamer between two sizes, nearest to the best, owned or sold."""
        found = self.of(
            ToolKind.REAMER,
            lambda t: low - SAME <= t.diameter <= high + SAME and t.reach >= depth,
        )
        if found:
            return min(found, key=lambda t: (abs(t.diameter - best), t.name))
        unit = self.workshop.unit
        size = _nearest(REAMERS[unit], low, best, high)
        size = size or _nearest(FINER_REAMERS[unit], low, best, high)
        if size is None:
            raise UnplannableError(
                f"it wants a reamer of {Length(low, high):.3f}, and none is sold; give limits "
                "that one lies within, or have it bored: 'finish: bored'"
            )
        return self.buy(
            Tool(
                f"reamer {self.size_name(size)}",
                ToolKind.REAMER,
                size,
                usual_flute(REAMER, size),
                max(usual_flute(REAMER, size) + 25.0, ceil(depth)),
                size,
                180.0,
                Holder.CHUCK,
            )
        )

    def tap(self, cut: HoleCut, depth: float) -> Tool:
        """The tap for a thread. Raises UnplannableError where it is too short for the depth."""
        found = self.of(ToolKind.TAP, lambda t: _same_thread(t.thread, cut.thread))
        sold = Tool(
            f"tap {cut.thread}",
            ToolKind.TAP,
            cut.diameter,
            max(12.0, 4 * cut.diameter),
            max(25.0, 6 * cut.diameter),
            cut.diameter * 0.75,
            180.0,
            Holder.HAND,
            thread=cut.thread,
        )
        best = max(found or [sold], key=lambda t: t.reach)
        if not goes(best, depth):
            raise UnplannableError(
                f"the tap {cut.thread} does not reach {Length(depth):g} deep; give the "
                "thread a depth, or counterbore the hole from the far side"
            )
        return best if found else self.buy(best)

    def countersink(self, angle: float, top: float, room: float = inf) -> Tool:
        """A countersink of that angle, wide enough, no wider than `room` where a wall stands
        beside the hole [mm].
        """
        found = self.of(
            ToolKind.COUNTERSINK,
            lambda t: abs(t.point - angle) < 0.5 and top - SAME <= t.diameter <= room + SAME,
        )
        if found:
            return min(found, key=lambda t: t.diameter)
        sold = COUNTERSINKS[self.workshop.unit]
        wide = next((sizes for whole, sizes in sold.items() if abs(whole - angle) < 0.5), ())
        size = next((mm for mm in wide if max(top, LEAST_SINK) - SAME <= mm <= room + SAME), None)
        if size is None:
            of = f"of {angle:g}°" if not wide else f"of {angle:g}° for {Length(top):.1f} across"
            of += f", no wider than {Length(room):.1f}" if room < inf else ""
            raise UnplannableError(
                f"it wants a countersink {of}, and none is sold; draw one of "
                f"{', '.join(f'{whole:g}°' for whole in sold)} and up to "
                f"{Length(max(sold[90])):.1f}, or list the one you have in workshop.yaml"
            )
        return self.buy(
            Tool(
                f"countersink {angle:g}° {self.size_name(size)}",
                ToolKind.COUNTERSINK,
                size,
                size / 2,
                25.0,
                6.0,
                angle,
                Holder.CHUCK,
            )
        )

    def cone(self, cut: EdgeCut) -> Tool | None:
        """A 90 degree cone cutter wide enough for a bevel, or None."""
        found = self.of(
            ToolKind.COUNTERSINK,
            lambda t: abs(t.point - 90) < 0.5 and t.diameter / 2 >= cut.size[0] + CONE_CLEAR,
        )
        return min(found, key=lambda t: t.diameter) if found else None

    def flat_drill(self, size: float, depth: float, out: float) -> Tool:
        """An end mill of that very size that may plunge, for flat bottoms and counterbores. out:
        how far it must stick out [mm].
        """

        def good(t: Tool) -> bool:
            return abs(t.diameter - size) <= SAME and goes(t, depth) and t.reach >= out

        found = self.of(ToolKind.END_MILL, lambda t: t.centre_cutting and good(t))
        found = found or self.of(ToolKind.COUNTERBORE, good)
        if found:
            return found[0]
        mill = self._end_mill(size - SAME, size, size + SAME, depth)
        return self.buy(replace(mill, reach=max(mill.reach, ceil(out))))

    def counterbore(self, size: float, depth: float, out: float) -> Tool:
        """A flat-ended cutter for a hole's wide mouth; where none is sold, a counterbore of that
        size, which can be ground to it.
        """
        if self.owns_flat(size, depth, out) or self.sells_flat(size, depth):
            return self.flat_drill(size, depth, out)
        return self.buy(
            Tool(
                f"counterbore {self.size_name(size)}",
                ToolKind.COUNTERBORE,
                size,
                max(1.5 * size, ceil(depth)),
                max(35.0, ceil(out)),
                size,
                holder=Holder.CHUCK,
            )
        )

    def sells_flat(self, size: float, depth: float) -> bool:
        """Is an end mill of that very size sold that goes so deep?"""
        sizes = MILLS[self.workshop.unit]
        return any(abs(s - size) <= SAME and mill_flute(s, depth) for s in sizes)

    def flat_to_buy(self, most: float, depth: float, out: float) -> Tool:
        """The largest end mill sold up to a size that may plunge so deep."""
        mill = self._end_mill(0.0, most, most, depth)
        return self.buy(replace(mill, reach=max(mill.reach, ceil(out))))

    def owns_flat(self, size: float, depth: float, out: float) -> bool:
        """Does the shop own a flat-ended cutter of that very size that may plunge so deep?"""
        return bool(self._flats(size - SAME, size + SAME, depth, out))

    def flat_size(self, low: float, best: float, high: float, depth: float, out: float) -> float:
        """The size between two, nearest to the best, that a flat-ended cutter owned makes so deep;
        the best itself where there is none [mm].
        """
        sizes = (t.diameter for t in self._flats(low, high, depth, out))
        return min(sizes, key=lambda s: (abs(s - best), s), default=best)

    def _flats(self, low: float, high: float, depth: float, out: float) -> list[Tool]:
        return [
            t
            for kind in (ToolKind.END_MILL, ToolKind.COUNTERBORE)
            for t in self.of(kind)
            if low <= t.diameter <= high and goes(t, depth) and t.reach >= out and t.centre_cutting
        ]

    def largest_flat(self, most: float, depth: float, out: float) -> Tool | None:
        """The largest end mill up to a size that may plunge so deep."""
        found = self.of(
            ToolKind.END_MILL,
            lambda t: t.diameter <= most and t.centre_cutting and goes(t, depth) and t.reach >= out,
        )
        return max(found, key=lambda t: t.diameter) if found else None

    def bores(self, size: float, depth: float, out: float) -> bool:
        """Is a boring head owned that bores that size so deep?"""
        return bool(self._heads(size, depth, out))

    def _heads(self, size: float, depth: float, out: float) -> list[Tool]:
        return self.of(
            ToolKind.BORING_HEAD,
            lambda t: (
                t.bores[0] - SAME <= size <= t.bores[1] + SAME and goes(t, depth) and t.reach >= out
            ),
        )

    def boring_head(self, size: float, depth: float, out: float) -> Tool:
        """The boring head, where its range covers the size; out: how far its bar must stick out
        [mm].
        """
        found = self._heads(size, depth, out)
        if found:
            return found[0]
        bar = boring_bar(size, max(depth, out), self.workshop.unit)
        if bar is None:
            raise UnplannableError(
                f"it wants a boring bar {Length(max(depth, out)):.1f} long for a bore of "
                f"{Length(size):.1f}, "
                "and none is sold so slender; bore it from both sides, as two holes on one axis, "
                "or list the one you have in workshop.yaml"
            )
        thick, long = bar
        return self.buy(
            Tool(
                f"boring head with a bar {self.size_name(thick)} x {self.size_name(long)}",
                ToolKind.BORING_HEAD,
                thick,
                long,
                long,
                thick,
                180.0,
                Holder.COLLET,
                bores=(thick / IN_BORE, max(50.0, size)),
            )
        )

    def _end_mill(self, low: float, best: float, high: float, depth: float) -> Tool:
        """An end mill to buy, of a size sold between two, nearest to the best, that goes so deep.

        Raises UnplannableError where none is sold.
        """
        sizes = [s for s in MILLS[self.workshop.unit] if mill_flute(s, depth)]
        size = _nearest(sizes, low, best, high)
        if size is None:
            wanted = f"{Length(low, high):.2f}" if high - low > 0.1 else f"{Length(best):.2f}"
            raise UnplannableError(
                f"it wants an end mill of {wanted} that cuts {Length(depth):.1f} deep, and none is "
                "sold; make it wider or shallower, or list the one you have in workshop.yaml"
            )
        flute = mill_flute(size, depth) or depth
        long = "long " * (flute > usual_flute(END_MILL, size))
        name = f"{long}end mill {self.size_name(size)} that may plunge"
        return Tool(name, ToolKind.END_MILL, size, flute, flute + IN_HOLDER, max(6.0, size))

    def largest_drill(self) -> float:
        """The largest drill owned [mm]."""
        return max((t.diameter for t in self.of(ToolKind.DRILL)), default=10.0)


def _over(cut: LevelCut) -> float:
    """How much larger than drawn a cutter may be, as a 3/16 one for a slot .187 wide [mm]."""
    sizes = [c.dimension for c in cut.checks if c.sort is CheckSort.INSIDE and c.dimension.stated]
    return max(SAME, min([ROUNDED, *(size.aimed().plus for size in sizes)]))


def _saws(saw: Tool, cut: LevelCut, depth: float) -> bool:
    """Does a slitting saw cut a slot that runs through at both ends?"""
    wide = cut.across_length
    return (
        cut.walls == {"across-", "across+"}
        and not cut.lean
        and wide / MOST_PASSES <= saw.flute <= wide + SAME
        and depth + TRUE <= deepest_slot(saw.diameter, saw.shank)
        and depth <= saw.diameter / 2 - HOLDER_RADIUS[saw.holder]
    )


def _covering(width: float) -> Callable[[Tool], tuple[float, float]]:
    """Sorts cutters by how well one run of them covers a width."""
    wanted = min(max(1.25 * width, 6.0), 16.0)
    return lambda t: (abs(t.diameter - wanted), -t.diameter)


def _nearest(sizes: Iterable[float], low: float, best: float, high: float) -> float | None:
    """The size between two that is nearest to the best, the lesser of two as near."""
    good = [s for s in sizes if low - SAME <= s <= high + SAME]
    return min(good, key=lambda s: (round(abs(s - best), 6), s), default=None)


def point_height(tool: Tool) -> float:
    """The height of a tool's point; 0 of a flat end [mm]."""
    return tool.diameter / 2 / tan(radians(tool.point / 2)) if tool.point < 179.9 else 0.0


def goes(tool: Tool, depth: float) -> bool:
    """Can the tool go so deep: with its flutes, or with a shank thinner than the hole?"""
    return depth <= min(deepest(tool), tool.reach) + SAME


def taps(workshop: Workshop, name: str) -> bool:
    """Has the shop a tap for a thread?"""
    return any(t.kind is ToolKind.TAP and _same_thread(t.thread, name) for t in workshop.tools)


def _same_thread(a: str, b: str) -> bool:
    return thread(a).name == thread(b).name
