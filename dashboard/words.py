"""How is a number said? Units, rounding and words of doubt; the only place that rounds.

Input is what the engine gives: kilograms, metres, cubic metres, degrees Celsius, kelvins, hours.
"""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from math import ceil, isfinite
from typing import Literal, TypeAlias

from engine.units import (
    GRAM,
    GSM,
    HOUR,
    INCH,
    KELVIN_PER_FAHRENHEIT,
    LITRE,
    MILLILITRE,
    MM,
    OUNCE,
    OUNCE_PER_SQUARE_YARD,
    POUND_FORCE_PER_INCH,
    YARD,
    fahrenheit,
)

Units: TypeAlias = Literal["metric", "trade"]
Kind: TypeAlias = Literal[
    "mass", "areal mass", "temperature", "temperature difference", "fine temperature difference",
    "bench length", "sheet length", "length", "length to buy", "roll", "volume", "fill power", "work",
    "minutes", "percent", "resistance", "speed", "power", "portion", "liquid", "pull",
    "pull at a point"]  # fmt: skip
ScoreKey: TypeAlias = Literal["weight_kg", "volume_m3", "comfort_c", "limit_c", "cost", "work_h"]

NBSP = "\u00a0"
MINUS = "\u2212"
THIN = "\u202f"
MILE_PER_HOUR = 5280 * 12 * INCH / HOUR
VULGAR = {Fraction(n, d): mark for n, d, mark in (
    (1, 8, "⅛"), (1, 4, "¼"), (3, 8, "⅜"), (1, 2, "½"), (5, 8, "⅝"), (3, 4, "¾"), (7, 8, "⅞"))}  # fmt: skip
CAN_T_TELL = "can't tell which"


def _steps(value: float, step: Decimal) -> int:
    """How many steps, halves away from zero: people do not round to even."""
    if not isfinite(value):
        raise ValueError(f"value is {value}; only a finite number can be said")
    return int((Decimal(repr(float(value))) / step).to_integral_value(ROUND_HALF_UP))


def number(value: float, decimals: int = 0, trim: bool = False) -> str:
    """Digits with a true minus; groups of three only from 10,000 up; `trim` drops zeros after the point."""
    step = Decimal(1).scaleb(-decimals)
    rounded = _steps(value, step) * step
    grouped = "," if abs(rounded) >= 10_000 else ""
    text = f"{abs(rounded):{grouped}.{decimals}f}".replace(",", THIN)
    if trim and "." in text:
        text = text.rstrip("0").rstrip(".")
    return MINUS + text if rounded < 0 else text


def fraction(value: float, parts: int = 8) -> str:
    """A number in halves, quarters, eighths or sixteenths: 2½, ⅜, 2 3/16."""
    count = _steps(value * parts, Decimal(1))
    whole, rest = divmod(abs(count), parts)
    sign = MINUS if count < 0 else ""
    if not rest:
        return sign + number(whole)
    part = Fraction(rest, parts)
    gap = NBSP if whole and part not in VULGAR else ""
    return sign + (number(whole) if whole else "") + gap + VULGAR.get(part, str(part))


@dataclass(frozen=True)
class Scale:
    """One quantity in one system of units; `text` takes the engine's number and leaves the unit off."""

    unit: str
    text: Callable[[float], str]


def _decimal(unit: str, factor: float, decimals: int = 0) -> Scale:
    return Scale(unit, lambda value: number(value / factor, decimals))


def _parts(unit: str, factor: float, parts: int) -> Scale:
    return Scale(unit, lambda value: fraction(value / factor, parts))


def _round_up(value: float, step: float) -> float:
    # A length that is on the step but for binary dust must not cost the next step.
    return ceil(value / step - 1e-9) * step


def _areal_mass(value: float) -> str:
    return number(value / GSM, 0 if _steps(value / GSM, Decimal("0.1")) >= 100 else 1)


# Metric, then trade. Fill power comes in in³/oz, work in hours, minutes in minutes.
SCALES: dict[Kind, tuple[Scale, ...]] = {
    "mass": (_decimal("g", GRAM), _decimal("oz", OUNCE, 1)),
    "areal mass": (Scale("g/m²", _areal_mass), _decimal("oz/yd²", OUNCE_PER_SQUARE_YARD, 2)),
    "temperature": (_decimal("°C", 1), Scale("°F", lambda c: number(float(fahrenheit(c))))),
    "temperature difference": (_decimal("°C", 1), _decimal("°F", KELVIN_PER_FAHRENHEIT)),
    "fine temperature difference": (
        Scale("°C", lambda k: number(_steps(k, Decimal("0.5")) / 2, 1, trim=True)),
        _decimal("°F", KELVIN_PER_FAHRENHEIT),
    ),
    "bench length": (_decimal("mm", MM), _parts("in", INCH, 8)),
    "sheet length": (_decimal("mm", MM), _parts("in", INCH, 16)),
    "length": (_decimal("m", 1, 2), _decimal("yd", YARD, 2)),
    "length to buy": (Scale("m", lambda m: number(_round_up(m, 0.1), 1)),
                      Scale("yd", lambda m: fraction(_round_up(m / YARD, 0.25), 4))),
    "roll": (_decimal("m", 1), _decimal("yd", YARD)),
    "volume": (_decimal("L", LITRE, 1),) * 2,
    "fill power": (Scale("in³/oz", lambda power: number(10 * _steps(power, Decimal(10)))),) * 2,
    "work": (_parts("h", 1, 2),) * 2,
    "minutes": (Scale("min", lambda minutes: number(5 * _steps(minutes, Decimal(5)))),) * 2,
    "percent": (_decimal("%", 1),) * 2,
    "resistance": (_decimal("m²K/W", 1, 2),) * 2,
    "speed": (_decimal("m/s", 1, 1), _decimal("mph", MILE_PER_HOUR, 1)),
    "power": (_decimal("W", 1, 1),) * 2,
    # Down is weighed in grams everywhere: portions in ounces would not add up to the whole.
    "portion": (Scale("g", lambda kg: number(kg / GRAM, 1, trim=True)),) * 2,
    "liquid": (_decimal("mL", MILLILITRE),) * 2,
    "pull": (_decimal("N/m", 1), _decimal("lbf/in", POUND_FORCE_PER_INCH, 2)),
    "pull at a point": (_decimal("N", 1), _decimal("lbf", POUND_FORCE_PER_INCH * INCH, 1)),
}  # fmt: skip


def _ends(low: str, high: str) -> str:
    return low if low == high else f"{low} to {high}"


def said(kind: Kind, value: float, units: Units = "metric") -> str:
    """A quantity with its unit: 512 g, 2½ in, −5 °C."""
    scale = SCALES[kind][units == "trade"]
    return f"{scale.text(value)}{NBSP}{scale.unit}"


def span(kind: Kind, low: float, high: float, units: Units = "metric") -> str:
    """A band: 488 to 536 g; one number where both ends round to the same."""
    scale = SCALES[kind][units == "trade"]
    return f"{_ends(scale.text(low), scale.text(high))}{NBSP}{scale.unit}"


def cost(value: float, currency: str = "", exact: bool = False) -> str:
    """A price with the label that the maker gave, if any; `exact` for purchases and shares."""
    return number(value, 2 if exact else 0) + (NBSP + currency if currency else "")


def cost_span(low: float, high: float, currency: str = "") -> str:
    """A band of prices."""
    return _ends(number(low), number(high)) + (NBSP + currency if currency else "")


def evenings(count: int) -> str:
    """1 evening, 6 evenings."""
    return f"{number(count)}{NBSP}{'evening' if count == 1 else 'evenings'}"


def duration(seconds: float) -> str:
    """A time as it is waited for: a few seconds, 40 s, 25 min, 2½ h.

    Raises ValueError for a time without end: say in words that it never comes.
    """
    if not isfinite(seconds):
        raise ValueError(f"seconds is {seconds}; only a finite time can be said")
    if seconds < 10:
        return "a few seconds"
    if seconds < 90:
        return f"{number(10 * _steps(seconds, Decimal(10)))}{NBSP}s"
    if seconds < 1.25 * HOUR:
        minutes = seconds / 60
        return f"{number(minutes if minutes < 10 else 5 * _steps(minutes, Decimal(5)))}{NBSP}min"
    return said("work", seconds / HOUR) if seconds < 24 * HOUR else "more than a day"


def kilopascals(pressure_pa: float) -> str:
    """A pressure that comes in pascals."""
    return f"{number(pressure_pa / 1000, 1, trim=True)}{NBSP}kPa"


def _refuse_no_chance(p: float) -> None:
    if not 0 <= p <= 1:
        raise ValueError(f"p is {p:g}; allowed: 0 to 1")


def chance(p: float) -> str:
    """9 in 10; near the ends in hundredths; never nought and never certain."""
    _refuse_no_chance(p)
    if p < 0.01 or p > 0.99:
        return "fewer than 1 in 100" if p < 0.01 else "more than 99 in 100"
    return f"{number(10 * p)} in 10" if 0.05 < p < 0.95 else f"{number(100 * p)} in 100"


def grade(p: float) -> str:
    """How sure a direction is, from the share of draws that go that way; empty when nothing can be said."""
    _refuse_no_chance(p)
    for least, word in ((0.95, "almost surely"), (0.80, "probably"), (0.60, "perhaps")):
        if p >= least:
            return word
    return ""


@dataclass(frozen=True)
class ScoreWords:
    """How one score is said; less is better. `matters` is SI or `relative`; cost has no kind but a label."""

    key: ScoreKey
    title: str
    better: str
    worse: str
    same: str
    matters: float
    kind: Kind | None
    relative: bool = False

    def value(self, value: float, units: Units = "metric", currency: str = "") -> str:
        """The score itself: 512 g."""
        return said(self.kind, value, units) if self.kind else cost(value, currency)

    def band(self, low: float, high: float, units: Units = "metric", currency: str = "") -> str:
        """The band of the score: 488 to 536 g."""
        return span(self.kind, low, high, units) if self.kind else cost_span(low, high, currency)

    def difference(self, by: float, units: Units = "metric", currency: str = "", fine: bool = False) -> str:
        """The size of a difference, without its direction: 136 g. `fine`: half degrees."""
        if self.kind is None:
            return cost(abs(by), currency)
        if self.kind == "temperature":
            return said("fine temperature difference" if fine else "temperature difference", abs(by), units)
        return said(self.kind, abs(by), units)

    def direction(self, difference: float) -> str:
        """Which way a difference (this less the reference) goes: lighter, heavier."""
        return self.better if difference < 0 else self.worse

    def is_small(self, difference: float, of: float | None = None) -> bool:
        """Whether nobody would mind; a relative threshold needs `of`, the reference's own score."""
        scale = of if self.relative else 1.0
        if scale is None:
            raise ValueError(f"{self.key} needs the score of the reference to know what matters")
        return difference == 0 or abs(difference) < self.matters * scale

    @property
    def which(self) -> str:
        """The end of "can't tell which …"."""
        return self.better if self.better.startswith("packs") else f"is {self.better}"


SCORES: tuple[ScoreWords, ...] = (
    ScoreWords("weight_kg", "Weight", "lighter", "heavier", "about the same weight", 10 * GRAM, "mass"),
    ScoreWords("volume_m3", "Packed volume", "packs smaller", "packs larger", "packs about the same",
               0.2 * LITRE, "volume"),
    ScoreWords("comfort_c", "Comfortable down to", "warmer", "less warm", "about as warm",
               1.0, "temperature"),
    ScoreWords("limit_c", "Limit", "warmer at the limit", "less warm at the limit",
               "about as warm at the limit", 1.0, "temperature"),
    ScoreWords("cost", "Cost, used", "cheaper", "dearer", "about the same cost", 0.02, None, relative=True),
    ScoreWords("work_h", "Work", "quicker", "slower", "about as quick", 0.5, "work"),
)  # fmt: skip
"""The columns of the Line-up in their order: five scores, and the limit as a check beside warmth."""
SCORE: dict[ScoreKey, ScoreWords] = {words.key: words for words in SCORES}


def graded(
    key: ScoreKey, difference: float, p: float, units: Units = "metric", currency: str = "",
    of: float | None = None, fine: bool = False,
) -> str:  # fmt: skip
    """A difference to the reference with the word for how sure its direction is.

    `p` is the share of draws that go the way of `difference`; `of` is the reference's score (cost needs it).
    Gives "almost surely heavier (136 g)", "about the same weight (4 g)", "can't tell which is lighter".
    """
    words, sure = SCORE[key], grade(p)
    amount = words.difference(difference, units, currency, fine)
    if words.is_small(difference, of):
        return f"{words.same} ({amount})"
    return f"{sure} {words.direction(difference)} ({amount})" if sure else f"{CAN_T_TELL} {words.which}"


def difference_words(
    key: ScoreKey, difference: float, p: float, units: Units = "metric", currency: str = "",
    of: float | None = None, fine: bool = False,
) -> str:  # fmt: skip
    """The same for a table cell: "136 g heavier" where the direction is at least probable, else as graded."""
    words = SCORE[key]
    if p < 0.80 or words.is_small(difference, of):
        return graded(key, difference, p, units, currency, of, fine)
    plain = words.direction(difference).removeprefix("packs ").removesuffix(" at the limit")
    return f"{words.difference(difference, units, currency, fine)} {plain}"
