"""Lengths, angles and limits as a drawing gives them, in one internal unit.

Everything inside barstock is plain millimetres and degrees (floats). A `Dimension` keeps what the
drawing said beside them, so that the user reads back the drawing's own words.
This module imports nothing of barstock: drills, fits and general tolerances come in `Tables`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from math import ceil, floor, isfinite

MM = 1.0
INCH = 25.4
THOU = 0.0254

LONGEST = 100_000.0
"""Lengths above this are taken for slips of the pen [mm]."""


class Unit(StrEnum):
    """The unit a figure is written and printed in."""

    MM = "mm"
    INCH = "inch"

    @property
    def scale(self) -> float:
        """How many millimetres the unit has."""
        return MM if self is Unit.MM else INCH

    @property
    def sign(self) -> str:
        """The sign that stands behind a figure in the unit."""
        return "mm" if self is Unit.MM else "in"


@dataclass(frozen=True)
class Dimension:
    """A size on the drawing with its limits.

    nominal, minus, plus: [mm], or [degrees] for an angle; minus <= plus are deviations.
    text: as written in the file. stated: True where the drawing gives the limits itself,
    False where they come from the build's general tolerance.
    """

    nominal: float
    minus: float = 0.0
    plus: float = 0.0
    text: str = ""
    unit: Unit = Unit.MM
    stated: bool = False

    @property
    def low(self) -> float:
        """Low limit [mm]."""
        return self.nominal + self.minus

    @property
    def high(self) -> float:
        """High limit [mm]."""
        return self.nominal + self.plus

    @property
    def middle(self) -> float:
        """Middle of the limits, the size to aim for [mm]."""
        return self.nominal + (self.minus + self.plus) / 2

    def aimed(self) -> Dimension:
        """The same limits about the size to work to: their middle, where the size as written is
        itself a limit.

        >>> parse_dimension("8 +0.05/0").aimed().nominal
        8.025
        >>> parse_dimension("8 ±0.05").aimed().nominal
        8.0
        """
        if not self.stated or self.minus < 0 < self.plus:
            return self
        half = (self.plus - self.minus) / 2
        return replace(self, nominal=round(self.middle, 9), minus=-half, plus=half)


class SizeError(ValueError):
    """Raised for a text that is no length, angle or limit. what: the matter; mend: what to write
    instead.
    """

    def __init__(self, what: str, mend: str = "") -> None:
        super().__init__(what, mend)
        self.what = what
        self.mend = mend


@dataclass(frozen=True)
class Figure:
    """One figure as written: value [mm or degrees], decimal places (None for a fraction).

    scale: what a figure without a unit beside it is taken in [mm]. named: by a drill's number or
    letter.
    """

    value: float
    places: int | None
    unit: Unit
    scale: float
    named: bool = False


def _no_table(*_: object) -> float:
    raise LookupError


_General = Callable[[Figure], float | tuple[float, float]] | None


@dataclass(frozen=True)
class Tables:
    """The tables where the words of a size are looked up; each raises LookupError or ValueError.

    drill: a drill's number or letter -> its size [mm]. fit: (nominal [mm], "H7") -> lower and upper
    deviation [mm]. general: a figure without limits -> its tolerance to either side, or its lower
    and upper deviation [mm].
    """

    drill: Callable[[str], float] = _no_table
    fit: Callable[[float, str], tuple[float, float]] | None = None
    general: _General = None


HOW_LENGTH = "write it like 12.5, 0.5 in, 15 thou, 1-3/8 or No 43"
HOW_LIMITS = "write limits like 12 ±0.05, 6 +0.02/0, 1/4 +0/-.002, 8 H7, 11.95 - 12.05 or 12 max"
HOW_ANGLE = "write it like 3, 3°, 1°30' or 1.5 deg, with limits like 3° ±0.25°"

_FRACTION = re.compile(r"(?:(\d+)(?:-|\s+))?(\d+)/(\d+)(?![\d.])", re.ASCII)
_DECIMAL = re.compile(r"\d+(?:\.\d*)?|\.\d+", re.ASCII)
_UNIT = re.compile(r"\s*(?:(mm|inches|inch|in|thou)(?![A-Za-z])|(\"|''))", re.I)
_DRILL = re.compile(
    r"(?:(?:drill\s*)?(?:no\.?|number|#)\s*(\d{1,2})|(?:letter|drill)\s+([a-z]|\d{1,2}))\b", re.I
)
_FIT = re.compile(r"\s*(?!x\s)([A-Za-z]{1,2})\s?(\d{1,2})\s*(/.*)?$", re.ASCII)
_LIMITS_IN_BRACKETS = re.compile(r"(?<![A-Za-z]\d)(?<![A-Za-z]\d\d) \(([+±-][^()]*)\)$")
_BRACKETS = re.compile(r"(?<=[\w.]) \([^()]*\)$")
_LETTER = re.compile(r"^[\"']?([a-z])[\"']? drill$", re.I)
_WORDS_AFTER = re.compile(
    r"(?<=[\d.\"a-z]) (?:ref|typ|typical|nom|nominal|bsc|basic|dia|diam|diameter|thru|through|deep|"
    r"drill|drilled|ream|reamed|bore|bored)\.?$",
    re.I,
)
_WORDS_BEFORE = re.compile(r"^(?:ream|bore) (?=[\d.])", re.I)
_LIMIT_FIRST = re.compile(r"^(max|min)\.? (.+)$", re.I)
_SYMBOL = re.compile(r"(?:⌀|ø|∅|dia\.?|r(?=[\s\d.]))\s*", re.I)
_ANGLE = re.compile(
    r"(?:(\d+(?:\.\d*)?|\.\d+)(?:\s*(?:°|deg(?:rees?)?)|(?!\s*'|[\d.])))?"
    r"\s*(?:(\d+(?:\.\d*)?)')?\s*(?:(\d+(?:\.\d*)?)\")?",
    re.ASCII,
)
_PART_DEGREE = re.compile(
    r"(?:(\d+)(?:-|\s+|°\s*))?(\d+)/([248])\s*(?:°|deg(?:rees?)?)?(?![\d/])", re.ASCII
)
_NO_UNIT = re.compile(r"(cm|dm|metres?|m|ft|feet|foot|yd|mils?|microns?|µm|μm|um|')(?![A-Za-z'])")
_EITHER_SIDE = re.compile(r"(?:±|\+\s*/?\s*-)\s*(?=[\d.])(.*)$")
_PAIR = re.compile(r"(-|/|to\b)\s*(.*)$", re.I)
_TAIL = re.compile(r"[\d.]\s*(?:(mm)|in(?:ch(?:es)?)?|\"|'')$", re.I)
_SAME = str.maketrans({"−": "-", "–": "-", "—": "-", "″": '"', "”": '"', "“": '"', "′": "'",
                       "’": "'", "º": "°", "…": " to ", "\u00a0": " ", "\u2009": " ", "⁄": "/",
                       "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8",
                       "⅞": " 7/8"})  # fmt: skip

_Taker = Callable[[str, "Figure | None"], "tuple[Figure, str] | None"]


def parse_length(text: str, unit: Unit = Unit.MM, tables: Tables | None = None) -> float:
    """Read a bare length [mm]; a figure without a unit is in `unit`, a fraction always in inches.

    Raises SizeError.

    >>> parse_length("1-3/8")
    34.925
    >>> parse_length("15 thou") == parse_length(".015", Unit.INCH)
    True
    """
    figure, rest = _first(_clean(text), unit, tables or Tables())
    if rest:
        raise SizeError(f"'{text}' is more than a length", HOW_LENGTH)
    return figure.value


def parse_dimension(text: str, unit: Unit = Unit.MM, tables: Tables | None = None) -> Dimension:
    """Read a size with its limits [mm], given in any of the usual ways; without any, general ones.

    Of a lone limit (12 max) the nominal, which is aimed at, lies one general tolerance inside, the
    other limit as far again. Raises SizeError.

    >>> d = parse_dimension("1/4 +0/-.002")
    >>> (d.nominal, round(d.minus, 4), d.plus, d.unit.value)
    (6.35, -0.0508, 0.0, 'inch')
    """
    tables, text = tables or Tables(), " ".join(text.split())
    clean = _without_words(_clean(text))
    figure, rest = _first(clean, unit, tables)
    fit = _FIT.match(rest) if rest else None
    if fit is None:
        return _limited(text, figure, rest, tables, _take_length)
    symbol = fit[1] + fit[2]
    if fit[3]:
        what = f"'{text}' names the fit of two parts"
        raise SizeError(what, f"give this part's own symbol, e.g. {symbol}")
    if tables.fit is None:
        raise SizeError(f"'{text}' has a fit where none is expected", HOW_LENGTH)
    try:
        low, high = tables.fit(figure.value, symbol)
    except (LookupError, ValueError) as wrong:
        what = _reason(wrong) or f"there is no fit {symbol} at {figure.value:g} mm"
        raise SizeError(what, "or write the limits out, e.g. 8 +0.015/0") from wrong
    return Dimension(figure.value, low, high, text, figure.unit, stated=True)


def parse_angle(text: str, general: _General = None) -> Dimension:
    """Read an angle with its limits [degrees]. Raises SizeError.

    >>> parse_angle("1°30'").nominal
    1.5
    """
    text = " ".join(text.split())
    taken = _take_angle(_clean(text), None)
    if taken is None:
        raise SizeError(f"'{text}' is no angle", HOW_ANGLE)
    if abs(taken[0].value) > 360:
        raise SizeError(f"'{text}' is more than a full turn", HOW_ANGLE)
    return _limited(text, *taken, Tables(general=general), _take_angle)


def show(mm: float, unit: Unit) -> str:
    """A length in the user's unit: up to three decimals of a mm, four of an inch, or one more where
    half of the last is meant.

    >>> show(12.05, Unit.MM), show(7.9248, Unit.INCH)
    ('12.05 mm', '0.3120 in')
    >>> show(7.9955, Unit.MM), show(25.4 / 32, Unit.INCH)
    ('7.9955 mm', '0.03125 in')
    """
    return f"{figure(mm, unit)} {unit.sign}"


def figure(mm: float, unit: Unit) -> str:
    """The figure of a length alone, as `show` tells it."""
    value, most = mm / unit.scale, _FINEST[unit]
    half = value * 2 * 10**most
    places = most + (round(half) % 2 == 1 and abs(half - round(half)) < 1e-4)
    shown = f"{round(value, places) + 0.0:.{places}f}"
    return shown if unit is Unit.INCH else shown.rstrip("0").rstrip(".")


_FINEST = {Unit.MM: 3, Unit.INCH: 4}
"""Decimals that lengths are told to."""


def show_limits(low: float, high: float, unit: Unit) -> tuple[str, str]:
    """Both limits of a length, each in the user's unit, and never wider than they are.

    >>> show_limits(7.9955, 8.0045, Unit.MM), show_limits(7.9955, 8.0045, Unit.INCH)
    (('7.9955 mm', '8.0045 mm'), ('0.3148 in', '0.3151 in'))
    """
    least = 0 if unit is Unit.MM else _FINEST[unit]
    first, last = inside(low / unit.scale, high / unit.scale, _FINEST[unit], least)
    if unit is Unit.MM:
        first, last = (f.rstrip("0").rstrip(".") if "." in f else f for f in (first, last))
    return f"{first} {unit.sign}", f"{last} {unit.sign}"


def inside(low: float, high: float, most: int, least: int) -> tuple[str, str]:
    """Two limits with the same decimals: as few as tell them exactly, up to one more than `most`;
    else with `most`, rounded inward. More, where they would pass each other.

    >>> inside(7.9951, 8.00449, 3, 2), inside(7.9955, 8.0045, 3, 2), inside(8, 8.05, 3, 2)
    (('7.996', '8.004'), ('7.9955', '8.0045'), ('8.00', '8.05'))
    """
    exact = (
        places
        for places in range(least, most + 2)
        if all(abs(v - round(v, places)) < 10**-most * 1e-4 for v in (low, high))
    )
    places = next(exact, most)
    while True:
        step = 10.0**-places
        first, last = ceil(low / step - 1e-4) * step, floor(high / step + 1e-4) * step
        if first <= last + step / 2:
            return f"{first + 0.0:.{places}f}", f"{last + 0.0:.{places}f}"
        if high - low < step * 1e-4:
            return f"{low:.{places}f}", f"{high:.{places}f}"
        places += 1


def counted(many: int, thing: str) -> str:
    """So many of a thing, in words, with the plural where it is due.

    >>> counted(1, "piece"), counted(4, "piece")
    ('1 piece', '4 pieces')
    """
    return f"{many} {thing}{'s' * (many != 1)}"


def show_rough(mm: float, unit: Unit) -> str:
    """A length as a saw is set to it.

    >>> show_rough(36.425, Unit.MM), show_rough(36.425, Unit.INCH)
    ('36.4 mm', '1.43 in')
    """
    return f"{rough_figure(mm, unit)} {unit.sign}"


def rough_figure(mm: float, unit: Unit) -> str:
    """The figure of a length alone, as `show_rough` tells it."""
    return f"{mm / INCH:.2f}" if unit is Unit.INCH else f"{mm:.1f}"


SAW_STEP = {Unit.MM: 0.1, Unit.INCH: INCH / 100}
"""The steps to which a saw's stop is set; common practice."""


def to_saw(mm: float, unit: Unit) -> float:
    """A length rounded up to what a saw's stop is set to [mm].

    >>> to_saw(36.42, Unit.MM), round(to_saw(36.42, Unit.INCH), 4)
    (36.5, 36.576)
    """
    return round(ceil(mm / SAW_STEP[unit] - 1e-6) * SAW_STEP[unit], 6)


def show_sawn(mm: float, unit: Unit) -> str:
    """A length to saw off, never less than it is.

    >>> show_sawn(36.42, Unit.MM), show_sawn(36.42, Unit.INCH)
    ('36.5 mm', '1.44 in')
    """
    return show_rough(to_saw(mm, unit), unit)


def show_fraction(mm: float) -> str:
    """A length in inches as a fraction where it is one to a 64th, else decimal.

    >>> show_fraction(34.925)
    '1-3/8 in'
    """
    sixty_fourths = mm / INCH * 64
    if abs(sixty_fourths - round(sixty_fourths)) > 1e-6 or mm < 0:
        return show(mm, Unit.INCH)
    whole, part = divmod(Fraction(round(sixty_fourths), 64), 1)
    if not part:
        return f"{whole} in"
    return f"{whole}-{part} in" if whole else f"{part} in"


_TOLD_IN: ContextVar[Unit] = ContextVar("_TOLD_IN", default=Unit.MM)


@contextmanager
def told_in(unit: Unit) -> Iterator[None]:
    """Tell every `Length` within in this unit.

    Refusals are worded deep in planning and proof; the unit of the part that they are about is set
    once, where its planning or its proof begins.
    """
    before = _TOLD_IN.set(unit)
    try:
        yield
    finally:
        _TOLD_IN.reset(before)


class Length:
    """A length in the sentence of a refusal [mm], or several with a word between; with a power of
    2 or 3 an area or a volume. Its format is that of its millimetres; inches have as many digits as
    tell as much.

    >>> f"{Length(12.7):.2f}, {Length(3, 12.7, between=' x '):g}, {Length(8, power=3):.1f}"
    '12.70 mm, 3 x 12.7 mm, 8.0 mm3'
    >>> with told_in(Unit.INCH):
    ...     f"{Length(12.7):.2f}, {Length(3, 12.7, between=' x '):g}, {Length(8, power=3):.1f}"
    '0.5000 in, 0.1181 x 1/2 in, 0.000488 in3'
    """

    def __init__(self, *mm: float, between: str = " to ", power: int = 1) -> None:
        self.mm, self.between, self.power = mm, between, power

    def __format__(self, digits: str) -> str:
        unit, power = _TOLD_IN.get(), self.power
        if unit is Unit.MM:
            told = [format(mm, digits) for mm in self.mm]
        elif power > 1:
            told = [f"{mm / INCH**power:.3g}" for mm in self.mm]
        else:
            told = [_in_inches(mm, digits) for mm in self.mm]
        figures = self.between.join(told)
        return f"{figures} {unit.sign}{power if power > 1 else ''}"


def _in_inches(mm: float, digits: str) -> str:
    """The figure in inches of a length told to these digits in millimetres."""
    if digits.endswith("f"):
        return f"{mm / INCH:.{min(int(digits[1:-1]) + 2, _FINEST[Unit.INCH])}f}"
    return show_fraction(mm).removesuffix(" in") if isfinite(mm) else str(mm)


def _clean(text: str) -> str:
    if len(text) > 60:
        raise SizeError(f"'{text[:24]}…' is too long for a size", HOW_LENGTH)
    text = re.sub(r"^N[°o]\s*(?=\d)", "No ", " ".join(text.translate(_SAME).split()))
    return re.sub(r"(\d)-\s+(?=\d+/)", r"\1-", re.sub(r"(?<=\d)\s*\.{3}\s*", " to ", text))


def _without_words(clean: str) -> str:
    """A size without what stands beside it on a drawing: signs, and words that are no limits."""
    if clean.startswith("(") and clean.endswith(")"):
        clean = clean[1:-1].strip()
    clean = _LIMITS_IN_BRACKETS.sub(r"\1", clean)
    clean = _BRACKETS.sub("", clean)
    clean = _LETTER.sub(r"letter \1", clean)
    while (bare := _WORDS_AFTER.sub("", clean)) != clean:
        clean = bare
    clean = _WORDS_BEFORE.sub("", clean)
    limit = _LIMIT_FIRST.match(clean)
    clean = f"{limit[2]} {limit[1]}" if limit else clean
    return _SYMBOL.sub("", clean, count=1) if _SYMBOL.match(clean) else clean


def _first(clean: str, unit: Unit, tables: Tables) -> tuple[Figure, str]:
    drill = _DRILL.match(clean)
    if drill:
        name = (drill[1] or drill[2]).upper()
        try:
            size = tables.drill(name)
        except (LookupError, ValueError) as wrong:
            what = f"there is no {'number' if name.isdigit() else 'letter'} drill {name}"
            raise SizeError(what, "numbers run from 1 to 80, letters from A to Z") from wrong
        return Figure(size, None, Unit.INCH, INCH, named=True), clean[drill.end() :].strip()
    tail = _TAIL.search(clean)  # a unit at the very end holds for all that has none
    unit = (Unit.MM if tail[1] else Unit.INCH) if tail else unit
    start = Figure(0.0, 0, unit, unit.scale)
    sign = -1.0 if clean.startswith("-") else 1.0
    taken = _take_length(clean[1:].strip() if clean[:1] in ("-", "+") else clean, start)
    if taken is None:
        if not clean:
            raise SizeError(
                "nothing is written here", HOW_LENGTH + " (what follows a # is a comment)"
            )
        raise SizeError(f"'{clean}' is no length", HOW_LENGTH)
    figure, rest = taken
    if figure.value > LONGEST:
        raise SizeError(f"'{clean}' is longer than any bar", HOW_LENGTH)
    return Figure(sign * figure.value, figure.places, figure.unit, figure.scale), rest


def _take_length(clean: str, like: Figure | None) -> tuple[Figure, str] | None:
    """The figure that the text starts with, and the rest; a bare one is in the scale of `like`."""
    found = _FRACTION.match(clean)
    if found and int(found[3]) in (2, 4, 8, 16, 32, 64, 128):
        value, places = int(found[1] or 0) + int(found[2]) / int(found[3]), None
    else:
        found = _DECIMAL.match(clean)
        if not found:
            return None
        value, places = float(found[0]), len(found[0].partition(".")[2])
    if clean[found.end() :].startswith(","):
        raise SizeError(f"'{clean}' has a comma", "write decimals with a point, e.g. 12.5")
    scale = INCH if places is None else (like.scale if like else MM)
    unit = Unit.INCH if places is None else (like.unit if like else Unit.MM)
    rest = clean[found.end() :]
    named = _UNIT.match(rest)
    if named:
        word = (named[1] or "in").lower()
        scale = {"mm": MM, "thou": THOU}.get(word, INCH)
        unit = Unit.MM if word == "mm" else Unit.INCH
        rest = rest[named.end() :]
    # 1.375 * 25.4 and the like, free of the float's last digits
    return Figure(round(value * scale, 9), places, unit, scale), rest.strip()


def _take_angle(clean: str, like: Figure | None) -> tuple[Figure, str] | None:
    negative = like is None and clean.startswith("-")
    clean = clean[1:].strip() if negative else clean
    part = _PART_DEGREE.match(clean)
    if part:
        value = int(part[1] or 0) + int(part[2]) / int(part[3])
        return Figure(-value if negative else value, None, Unit.MM, MM), clean[part.end() :].strip()
    found = _ANGLE.match(clean)
    if not found or not any(found.groups()):
        return None
    degrees, minutes, seconds = (float(part or 0) for part in found.groups())
    value = degrees + minutes / 60 + seconds / 3600
    places = None if minutes or seconds else len((found[1] or "").partition(".")[2])
    return Figure(-value if negative else value, places, Unit.MM, MM), clean[found.end() :].strip()


def _limited(text: str, figure: Figure, rest: str, tables: Tables, take: _Taker) -> Dimension:
    """The figure with the limits that `rest` states, or the general ones."""

    def stated(minus: float, plus: float, nominal: float = figure.value) -> Dimension:
        if minus > plus:
            raise SizeError(f"'{text}' has its low limit above its high one", HOW_LIMITS)
        if nominal and max(abs(minus), abs(plus)) > abs(nominal):
            raise SizeError(f"'{text}' has limits wider than the size itself", HOW_LIMITS)
        return Dimension(nominal, minus, plus, text, figure.unit, stated=True)

    general = tables.general(figure) if tables.general and _needs_general(rest) else 0.0
    low, high = general if isinstance(general, tuple) else (-general, general)
    if not rest:
        return Dimension(figure.value, low, high, text, figure.unit)
    if _needs_general(rest):
        inside = -high if rest.lower().startswith("max") else -low
        return stated(low, high, figure.value + inside)
    both = _EITHER_SIDE.match(rest)
    if both:
        taken = take(both[1], figure)
        if taken and not taken[1]:
            return stated(-taken[0].value, taken[0].value)
        raise SizeError(f"'{text}' has limits that cannot be read", HOW_LIMITS)
    other = _other_limit(figure, rest, take)
    if other is not None:
        half = abs(other - figure.value) / 2
        return stated(-half, half, (other + figure.value) / 2)
    found = _deviations(figure, rest, take)
    if found is None and rest.startswith("/"):
        mend = "fractions go from halves to 128ths; write anything else as a decimal"
        raise SizeError(f"'{text}' is no fraction on a rule", mend)
    unknown = _NO_UNIT.match(rest)
    if found is None and unknown:
        raise SizeError(f"'{unknown[1]}' is no unit read here", 'write mm, in, thou or "')
    if found is None:
        raise SizeError(f"'{text}' has limits that cannot be read", HOW_LIMITS)
    return stated(*found)


def _needs_general(rest: str) -> bool:
    return not rest or rest.lower().rstrip(".") in ("max", "min")


def _other_limit(figure: Figure, rest: str, take: _Taker) -> float | None:
    """The second of a pair of limits (11.95 - 12.05, 12.05/11.95), if that is what is written."""
    pair = _PAIR.match(rest)
    taken = take(pair[2], figure) if pair else None
    if pair is None or taken is None or taken[1]:
        return None
    first, second = figure.value, taken[0].value
    near = 0 < max(first, second) <= 2 * min(first, second)
    # 20.1 - 19.9 is a pair, 1 -0.6 a deviation: none is three quarters of its size
    backwards = second < first and pair[1] == "-" and second <= 0.75 * first
    return second if near and not backwards else None


def _deviations(figure: Figure, rest: str, take: _Taker) -> tuple[float, float] | None:
    """Lower and upper deviation as written with signs (+0.02/0, +0/-.002, -0.01 -0.03)."""
    found: list[float] = []
    while rest:
        sign = rest[0] if rest[0] in "+-" else ""
        taken = take(rest[1:].strip() if sign else rest, figure)
        if taken is None or (not sign and taken[0].value):
            return None
        found.append(-taken[0].value if sign == "-" else taken[0].value)
        rest = taken[1].lstrip("/, ")
    if len(found) > 2 or (len(found) == 2 and found[0] == found[1] != 0):
        return None
    return (min(*found, 0.0), max(*found, 0.0)) if len(found) == 1 else (min(found), max(found))


def _reason(wrong: Exception) -> str:
    return str(wrong.args[0]) if wrong.args else ""
