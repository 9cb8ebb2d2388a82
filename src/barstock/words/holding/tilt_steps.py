"""How work is set to its tilt before it is gripped, in words."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.route import Holding, TiltBy, TiltSetting
from barstock.words.lines import Line, Reading, line, value
from barstock.words.reader import Reader
from barstock.words.size_figures import laid


def tilt_steps(h: Holding, reader: Reader) -> Iterator[Line]:
    """The steps of setting the tilt of a holding, where it has one."""
    if not h.tilt or h.tilt_set is None:
        return
    side = "right" if h.tilt > 0 else "left"
    end = f"{side}-hand end up"
    if h.tilt_set.by is TiltBy.SINE_BAR:
        yield line(
            f"Lay the work on the sine bar between the jaws, {end}; tighten; draw the sine bar out",
            _blocks(h.tilt_set, reader),
        )
    elif h.tilt_set.by is TiltBy.DIAL_INDICATOR:
        yield line(
            f"Grip the work lightly, {end}. Run a dial indicator along its top: over "
            f"{reader.length(h.tilt_set.over)} to the {side} it must rise as said; tap it true and "
            "tighten",
            reader.measured("rise", h.tilt_set.rise),
        )
    else:
        by = f"Set the {end} by the {h.tilt_set.by}"
        yield line(by, Reading("tilt", "", (value(f"{abs(h.tilt):.2f}", "°"),)))


def _blocks(tilt: TiltSetting, reader: Reader) -> Reading:
    """What stands under the sine bar's roller, laid together from gauge blocks where they are
    owned."""
    if not tilt.blocks:
        return reader.measured("blocks", tilt.height)
    figures, whole, unit = laid(tilt.blocks, reader.unit)
    parts = [text for one in figures for text in (one, "+")][:-1]
    return Reading("blocks", "", (value(whole, f"{unit} =", *parts),))
