"""Shows what `look` finds of a thread."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.handbook.answer import Found
from barstock.handbook.drills import named
from barstock.handbook.materials import material
from barstock.handbook.thread_limits import MEMORY, SOURCE, NoLimitsError, thread_limits
from barstock.handbook.thread_strength import engagement_length, tensile_stress_area
from barstock.handbook.threads import Thread, UnknownThreadError, percentage_engagement, thread
from barstock.quantities import INCH, Unit, show, show_limits


def find(word: str, unit: Unit) -> Iterator[Found]:
    """The thread of that name, and its limits where it is metric."""
    try:
        form = thread(word)
    except UnknownThreadError:
        return
    yield _sizes(form, unit)
    try:
        limits = thread_limits(form)
    except NoLimitsError:
        return
    rows = (
        (f"nut {limits.nut_class}, minor", limits.nut_minor),
        (f"nut {limits.nut_class}, effective", limits.nut_effective),
        (f"screw {limits.screw_class}, major", limits.screw_major),
        (f"screw {limits.screw_class}, effective", limits.screw_effective),
    )
    shown = tuple((name, " to ".join(show_limits(low, high, unit))) for name, (low, high) in rows)
    yield Found(f"limits of {form.name}", shown, SOURCE, MEMORY)


def _sizes(form: Thread, unit: Unit) -> Found:
    percent = percentage_engagement(form, form.tap_drill)
    near = " or ".join(name for name, _ in named(form.tap_drill, 0.05)[:2])
    drill = f"{show(form.tap_drill, unit)} ({percent:.0f} % of the thread)"
    engaged = (
        f"{show(engagement_length(form, material(name)), unit)} ({name})"
        for name in ("mild steel", "brass", "aluminium")
    )
    area = tensile_stress_area(form)
    stressed = f"{area:.2f} mm²" if unit is Unit.MM else f"{area / INCH**2:.5f} in²"
    return Found(
        f"thread {form.name}, {form.series}",
        (
            ("major diameter", show(form.major, unit)),
            ("pitch", f"{show(form.pitch, unit)} ({form.tpi:.4g} tpi)"),
            ("effective diameter", show(form.effective, unit)),
            ("minor diameter of the nut", show(form.minor, unit)),
            ("root diameter of the screw", show(form.root, unit)),
            ("included angle", f"{form.angle:g}°"),
            ("tapping drill", f"{drill}, near {near}" if near else drill),
            ("clearance hole, close", show(form.clearance_close, unit)),
            ("clearance hole, medium", show(form.clearance_medium, unit)),
            ("clearance hole, free", show(form.clearance_free, unit)),
            ("stress area", stressed),
            ("engagement, at least", ", ".join(engaged)),
        ),
        form.source,
        form.memory,
    )
