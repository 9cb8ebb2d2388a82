"""Who reads: in which unit lengths are told, and on which machine they are dialled."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from barstock.quantities import INCH, Unit, show, show_fraction, show_rough
from barstock.workshop.shop import Machine

SIXTY_FOURTH = INCH / 64


@dataclass(frozen=True)
class Reader:
    """Who reads. unit: of lengths; machine: the one stood at, None for none."""

    unit: Unit = Unit.MM
    machine: Machine | None = None

    def length(self, mm: float) -> str:
        """A length to the digits that are worked to.

        >>> Reader().length(12.05), Reader(Unit.INCH).length(7.9248)
        ('12.05 mm', '0.3120 in')
        """
        return show(mm, self.unit)

    def rough(self, mm: float) -> str:
        """A length as a saw is set to it.

        >>> Reader().rough(36.425), Reader(Unit.INCH).rough(36.425)
        ('36.4 mm', '1.43 in')
        """
        return show_rough(mm, self.unit)

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
