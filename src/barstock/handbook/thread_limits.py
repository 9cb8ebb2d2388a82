"""Limits of metric threads, 6H in the nut and 6g on the screw. Lengths in mm.

Source: ISO 965-1:2013 table 1 (es of position g), 2 (TD1, 5H below M1.6 as ISO 965-2 asks), 3 (Td),
4 (TD2), 5 (Td2); micrometres. Typed from memory, checked in tests against published limits.
"""

from __future__ import annotations

from dataclasses import dataclass

from barstock.handbook.thread_form import Thread

SOURCE = "ISO 965-1:2013 tables 1 to 5, ISO 965-2"
MEMORY = True

# pitch [mm]: es of g, TD1 of grade 6 (5 for the two finest), Td of grade 6 [micrometres]
_BY_PITCH: dict[float, tuple[int, int, int]] = {
    0.2: (-17, 48, 36), 0.25: (-18, 56, 67), 0.3: (-18, 67, 75), 0.35: (-19, 100, 85),
    0.4: (-19, 112, 95), 0.45: (-20, 125, 100), 0.5: (-20, 140, 106), 0.6: (-21, 160, 125),
    0.7: (-22, 180, 140), 0.75: (-22, 190, 140), 0.8: (-24, 200, 150), 1.0: (-26, 236, 180),
    1.25: (-28, 265, 212), 1.5: (-32, 300, 236), 1.75: (-34, 335, 265), 2.0: (-38, 375, 280),
    2.5: (-42, 450, 335), 3.0: (-48, 500, 375),
}  # fmt: skip

# upper end of the diameter range [mm]: pitch [mm]: TD2 and Td2 of grade 6 [micrometres]
_EFFECTIVE: dict[float, dict[float, tuple[int, int]]] = {
    1.4: {0.25: (56, 53), 0.3: (60, 56)},
    2.8: {0.35: (85, 63), 0.4: (90, 67), 0.45: (95, 71)},
    5.6: {0.35: (90, 67), 0.5: (100, 75), 0.6: (112, 85), 0.7: (118, 90), 0.75: (118, 90),
          0.8: (125, 95)},
    11.2: {0.75: (132, 100), 1.0: (150, 112), 1.25: (160, 118), 1.5: (180, 132)},
    22.4: {1.0: (160, 118), 1.25: (180, 132), 1.5: (190, 140), 1.75: (200, 150), 2.0: (212, 160),
           2.5: (224, 170)},
    45: {1.0: (170, 125), 1.5: (200, 150), 2.0: (224, 170), 3.0: (265, 200)},
}  # fmt: skip


class NoLimitsError(LookupError):
    """Raised where the tables give no limits for that thread."""


@dataclass(frozen=True)
class ThreadLimits:
    """Lower and upper limits [mm]. nut_*: internal thread; screw_*: external thread."""

    nut_class: str
    screw_class: str
    nut_minor: tuple[float, float]
    nut_effective: tuple[float, float]
    screw_major: tuple[float, float]
    screw_effective: tuple[float, float]


def thread_limits(form: Thread) -> ThreadLimits:
    """Limits of a metric thread, 6H/6g (5H/6h to M1.4). Raises NoLimitsError.

    >>> from barstock.handbook.threads import thread
    >>> thread_limits(thread("M6")).nut_minor
    (4.917, 5.153)
    """
    near = next((row for top, row in _EFFECTIVE.items() if form.major <= top), {})
    effective = near.get(form.pitch)
    if not form.series.startswith("metric") or effective is None:
        raise NoLimitsError(f"ISO 965 limits are not tabulated here for {form.name}")
    es, nut_minor, screw_major = _BY_PITCH[form.pitch]
    small = form.major <= 1.4
    es = 0 if small else es

    def up(size: float, width: int) -> tuple[float, float]:
        return round(size, 3), round(size + width / 1000, 3)

    def down(size: float, width: int) -> tuple[float, float]:
        top = size + es / 1000
        return round(top - width / 1000, 3), round(top, 3)

    return ThreadLimits(
        "5H" if small else "6H",
        "6h" if small else "6g",
        up(form.minor, nut_minor),
        up(form.effective, effective[0]),
        down(form.major, screw_major),
        down(form.effective, effective[1]),
    )
