"""How work is set to a tilt before it is gripped: sine bar, dial indicator or table."""

from __future__ import annotations

from dataclasses import dataclass

from barstock.measuring.angles import rise, sine_height, sine_setting
from barstock.measuring.stacks import StackError
from barstock.quantities import Unit, show
from barstock.route import Step
from barstock.workshop.shop import Workshop

SINE_BAR_WIDE = 25.0  # a sine bar is hardly ever narrower [mm]; common practice
LEAST_TRAVEL = 5.0  # over which a dial indicator is run along the work [mm]; common practice


@dataclass(frozen=True)
class Tilting:
    """by: what it is set by, in words; stack: gauge blocks under the sine bar [mm]."""

    by: str
    stack: tuple[float, ...]
    steps: tuple[Step, ...]


def tilting(angle: float, opening: float, length: float, workshop: Workshop, unit: Unit) -> Tilting:
    """How to set work to `angle` [degrees] where the jaws stand `opening` apart.

    length: of the work along the jaws [mm].
    """
    if workshop.sine_bar and opening > SINE_BAR_WIDE:
        found = _sine_bar(angle, workshop, unit)
        if found is not None:
            return found
    if workshop.tilting_table:
        return _plain(angle, "tilting table")
    if any(i.kind == "dial indicator" for i in workshop.instruments):
        return _indicator(angle, length, unit)
    return _plain(angle, "protractor")


def _sine_bar(angle: float, workshop: Workshop, unit: Unit) -> Tilting | None:
    """The work laid on it between the jaws; None where the gauge blocks do not make the height."""
    gauge = next((i for i in workshop.instruments if i.kind == "gauge blocks"), None)
    blocks: tuple[float, ...] = ()
    height, made = sine_height(angle, workshop.sine_bar), angle
    if gauge is not None:
        try:
            setting = sine_setting(angle, workshop.sine_bar, gauge.sizes)
        except StackError:
            return None
        blocks, made = tuple(setting.stack.blocks), setting.made
        height = sum(blocks)
    by = (
        f"sine bar {show(workshop.sine_bar, unit)}, blocks {show(height, unit)} under its "
        f"right-hand roller ({made:.3f}°)"
    )
    parts = " + ".join(show(b, unit).split()[0] for b in blocks)
    step = Step(
        words="Lay the work on the sine bar between the jaws, right-hand end up; tighten; draw the "
        "sine bar out",
        dial={"blocks": show(height, unit) + f" = {parts}" * bool(blocks)},
    )
    return Tilting(by, blocks, (step,))


def _indicator(angle: float, length: float, unit: Unit) -> Tilting:
    """The work's own top as the sine bar, where a bar is too wide to go between the jaws."""
    travel = max(LEAST_TRAVEL, 5.0 * int(0.8 * length / 5.0))
    if unit is Unit.INCH:
        travel = 25.4 * max(0.2, int(0.8 * length / 2.54) / 10)
    up = show(rise(angle, travel), unit)
    step = Step(
        words="Grip the work lightly, right-hand end up. Run a dial indicator along its top: over "
        f"{show(travel, unit)} to the right it must rise as said; tap it true and tighten",
        dial={"rise": up},
    )
    return Tilting(f"dial indicator, {up} in {show(travel, unit)}", (), (step,))


def _plain(angle: float, by: str) -> Tilting:
    step = Step(words=f"Set the right-hand end up by the {by}", dial={"tilt": f"{angle:.2f}°"})
    return Tilting(by, (), (step,))
