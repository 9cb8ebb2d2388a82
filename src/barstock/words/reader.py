"""Who reads: in which unit lengths are told, and on which machine's dials they are set.

A readout can be switched to the reader's unit; what a wheel is graduated in stays as it is.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import groupby
from math import ceil, inf

from barstock.measuring.handwheel import shown, wheel
from barstock.quantities import (
    INCH,
    Unit,
    figure,
    rough_figure,
    show,
    show_fraction,
    show_limits,
    show_rough,
    show_sawn,
    to_saw,
)
from barstock.words.lines import Reading, Run, Value, value
from barstock.workshop.shop import Axis, Machine

SIXTY_FOURTH = INCH / 64
NO_AXIS = Axis(0.0)


@dataclass(frozen=True)
class Reader:
    """The reader of a page. unit: of lengths; machine: the one stood at, None for none."""

    unit: Unit = Unit.MM
    machine: Machine | None = None

    def length(self, mm: float) -> str:
        """A length to the digits that are worked to.

        >>> Reader().length(12.05), Reader(Unit.INCH).length(7.9248)
        ('12.05 mm', '0.3120 in')
        """
        return show(mm, self.unit)

    def limits(self, low: float, high: float) -> str:
        """Both limits of a length within a sentence, never wider than they are.

        >>> Reader().limits(7.9955, 8.0045)
        '7.9955 mm to 8.0045 mm'
        """
        return " to ".join(show_limits(low, high, self.unit))

    def rough(self, mm: float) -> str:
        """A length as a saw is set to it.

        >>> Reader().rough(36.425), Reader(Unit.INCH).rough(36.425)
        ('36.4 mm', '1.43 in')
        """
        return show_rough(mm, self.unit)

    def sawn(self, mm: float) -> str:
        """A length to saw off, never less than it is.

        >>> Reader().sawn(36.42), Reader(Unit.INCH).sawn(36.42)
        ('36.5 mm', '1.44 in')
        """
        return show_sawn(mm, self.unit)

    def fine(self, mm: float) -> str:
        """A small difference that is worked out, to a thousandth of a mm or a tenth of a thou.

        >>> Reader().fine(0.01), Reader(Unit.INCH).fine(0.01)
        ('0.010 mm', '0.0004 in')
        """
        return f"{mm:.3f} mm" if self.unit is Unit.MM else show(mm, Unit.INCH)

    def hundredth(self, mm: float) -> str:
        """A gap, or what heat does to a length, to a hundredth of a mm or a tenth of a thou.

        >>> Reader().hundredth(0.1), Reader(Unit.INCH).hundredth(0.1)
        ('0.10 mm', '0.0039 in')
        """
        return f"{mm:.2f} mm" if self.unit is Unit.MM else show(mm, Unit.INCH)

    def by_eye(self, mm: float) -> str:
        """A length that is judged by eye: in inches to a 64th.

        >>> Reader().by_eye(0.5), Reader().by_eye(4.0), Reader(Unit.INCH).by_eye(4.0)
        ('half a millimetre', '4 mm', '5/32 in')
        """
        if self.unit is Unit.INCH:
            return show_fraction(max(1, round(mm / SIXTY_FOURTH)) * SIXTY_FOURTH)
        return "half a millimetre" if mm == 0.5 else show(mm, Unit.MM)

    def at_least(self, mm: float, mm_step: float = 1.0, inch_step: float = INCH / 16) -> str:
        """A length rounded up to a size that is sold.

        >>> Reader().at_least(21.2), Reader(Unit.INCH).at_least(21.2)
        ('22 mm', '7/8 in')
        """
        if self.unit is Unit.INCH:
            return show_fraction(ceil(mm / inch_step - 1e-9) * inch_step)
        return show(ceil(mm / mm_step - 1e-9) * mm_step, Unit.MM)

    # -- what is set by a figure -------------------------------------------------------------------

    def measured(self, label: str, mm: float) -> Reading:
        """A length to measure or mark out [mm]."""
        return Reading(label, "", (value(figure(mm, self.unit), self.unit.sign),))

    def roughly(self, mm: float) -> Value:
        """A length as a saw is set to it [mm], to be set."""
        return value(rough_figure(mm, self.unit), self.unit.sign)

    def set_sawn(self, label: str, mm: float) -> Reading:
        """A length to set a saw's stop to, never less than it is [mm]."""
        return self.set_roughly(label, to_saw(mm, self.unit))

    def set_roughly(self, label: str, mm: float) -> Reading:
        """A length to set a saw or a stop to [mm]."""
        return Reading(label, "", (self.roughly(mm),))

    # -- what the machine's axes show --------------------------------------------------------------

    def axis(self, name: str) -> Axis:
        """An axis of the machine; a plain one where it has none."""
        found: Axis | None = getattr(self.machine, name.lower(), None)
        # Whether the table travels that far is the setup's question, not the reader's.
        return replace(found or NO_AXIS, travel=inf)

    @property
    def dial_unit(self) -> Unit:
        """The unit of feeds and of what is dialled: the X axis's, or else the reader's own."""
        return self.unit if self.machine is None else self.axis("X").unit

    def by_wheel(self, name: str) -> bool:
        """Is the axis read by the divisions of its handwheel?"""
        return wheel(self.axis(name))

    def place(self, name: str, at: float) -> Value:
        """The reading of an axis [mm] as it shows it."""
        return value(*(text.replace("-", "−") for text in shown(at, self.axis(name))))

    def distance(self, name: str, by: float) -> Value:
        """The way to move an axis from where it stands [mm], as it shows it."""
        axis = self.axis(name)
        if wheel(axis):
            first, *rest = shown(by, axis)
            return value(first.lstrip("+"), *rest)
        if axis.unit is Unit.INCH:
            return value(f"{by / INCH:.4f}", "in")
        return value(f"{by:.3f}", "mm")

    def reading(self, name: str, *at: float) -> Reading:
        """Readings of an axis [mm] one after another, each told once where it is dialled again."""
        places = (self.place(name, one) for one in at)
        return Reading(name, "", tuple(one for one, _ in groupby(places)))

    def span(self, name: str, start: float, stop: float) -> Reading:
        """From one reading of an axis to another [mm]."""
        to = (Run("to", False), *self.place(name, stop))
        return Reading(name, "from – to", (self.place(name, start), to))


def switched(machine: Machine, unit: Unit) -> Machine:
    """The machine with its readouts switched to the unit."""

    def turned(axis: Axis | None) -> Axis | None:
        return replace(axis, unit=unit) if axis is not None and axis.readout else axis

    return replace(machine, x=turned(machine.x), y=turned(machine.y), z=turned(machine.z))


def reader(machine: Machine | None, part: Unit, unit: Unit | None = None) -> Reader:
    """The reader of a part's setups, in the unit it is drawn in or in the one asked for.

    The page of an inch part is in inches throughout; that of another leaves a readout as it is.
    """
    wanted = unit or part
    if machine is not None and (unit is not None or part is Unit.INCH):
        machine = switched(machine, wanted)
    return Reader(wanted, machine)
