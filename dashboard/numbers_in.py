"""Which number did a person type, in which unit, and may it stand?

A box holds `show_number(stored, …)`. While its text equals that, the stored value stays untouched, so a
switch of units, or a rounded text, never changes a design: callers use `read_if_changed`. A unit that is
typed always wins; a bare number is in the unit that the label shows (`shown_unit`).
"""

import math
import re
import unicodedata
from dataclasses import dataclass
from typing import NoReturn, get_args

from pydantic.fields import FieldInfo

from dashboard.words import MILE_PER_HOUR, MINUS, NBSP, THIN, VULGAR, Units, fraction, number
from engine.refusals import Refusal, shown
from engine.units import (
    CLO,
    GRAM,
    GSM,
    HOUR,
    INCH,
    KELVIN_PER_FAHRENHEIT,
    MINUTE,
    MM,
    OUNCE,
    OUNCE_PER_SQUARE_YARD,
    TOG,
    YARD,
    celsius,
)

LONGEST = 60
"""Characters; no number that a person means is longer."""


@dataclass(frozen=True)
class Unit:
    """stored = typed × factor + offset, and how finely the unit is shown in a box."""

    name: str
    factor: float
    decimals: int = 2
    offset: float = 0.0
    eighths: bool = False
    also: tuple[str, ...] = ()

    def stored(self, typed: float) -> float:
        """Into the model's unit; the last binary dust goes, so that 11.811 in is not a hair over a limit."""
        return typed if self.factor == 1 and not self.offset else round(typed * self.factor + self.offset, 9)

    def typed(self, stored: float) -> float:
        """Out of the model's unit."""
        return (stored - self.offset) / self.factor

    def text(self, value: float) -> str:
        """As it stands in a box."""
        return fraction(value, 8) if self.eighths else number(value, self.decimals, trim=True)


_IN = Unit("in", INCH / MM, eighths=True, also=("inch", "inches", '"', "″"))
_FT = Unit("ft", 12 * INCH / MM, also=("foot", "feet", "'", "\u2032"))
_YD = Unit("yd", YARD / MM, also=("yard", "yards"))

# The first unit is shown in metric, the second in trade; the rest are understood when typed.
UNITS: dict[str, tuple[Unit, ...]] = {
    "mm": (Unit("mm", 1.0, 1), _IN, Unit("cm", 10.0), Unit("m", 1 / MM), _FT, _YD),
    "m": (Unit("m", 1.0, 3), Unit("yd", YARD, 3, also=_YD.also), Unit("mm", MM), Unit("cm", 0.01),
          Unit("in", INCH, also=_IN.also), Unit("ft", 12 * INCH, also=_FT.also)),
    "g": (Unit("g", 1.0, 1), Unit("oz", OUNCE / GRAM, 2), Unit("kg", 1 / GRAM),
          Unit("lb", 16 * OUNCE / GRAM, also=("lbs",))),
    "kg": (Unit("kg", 1.0, 2), Unit("lb", 16 * OUNCE, 1, also=("lbs",)), Unit("g", GRAM), Unit("oz", OUNCE)),
    "g/m²": (Unit("g/m²", 1.0, 1, also=("gsm",)), Unit("oz/yd²", OUNCE_PER_SQUARE_YARD / GSM, 2)),
    "°C": (
        Unit("°C", 1.0, 1, also=("C", "deg C")),
        Unit("°F", KELVIN_PER_FAHRENHEIT, 1, celsius(0.0), also=("F", "deg F")),
    ),
    "m/s": (Unit("m/s", 1.0, 2), Unit("mph", MILE_PER_HOUR, 2, also=("mi/h",)), Unit("km/h", 1000 / HOUR)),
    "h": (Unit("h", 1.0, 2, also=("hour", "hours")),) * 2 + (Unit("min", MINUTE / HOUR),),
    "m²K/W": (Unit("m²K/W", 1.0, 3, also=("m²·K/W",)),) * 2 + (Unit("clo", CLO), Unit("tog", TOG)),
    "rad": (Unit("rad", 1.0, 2),) * 2 + (Unit("°", math.pi / 180, also=("deg",)),),
    "%": (Unit("%", 1.0, 1),) * 2,
    "in³/oz": (Unit("in³/oz", 1.0, 1),) * 2,
    "": (Unit("", 1.0, 2),) * 2,
}  # fmt: skip

_PLAIN = str.maketrans({MINUS: "-", "–": "-", "\u2044": "/", NBSP: " ", THIN: " ", "\u2009": " "})
_HALVES = {mark: part for part, mark in VULGAR.items()}
_VULGAR_MARKS = "".join(_HALVES)
_NUMBER = re.compile(
    r"(?P<sign>[+-]?)\s*(?:"
    rf"(?:(?P<whole>[0-9]+)[ -]?)?(?P<mark>[{_VULGAR_MARKS}])"
    r"|(?:(?P<lead>[0-9]+)[ -])?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)"
    r"|(?P<groups>[0-9]{1,3}(?: [0-9]{3})+(?:\.[0-9]+)?)(?![0-9])"
    r"|(?P<decimal>(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][+-]?[0-9]+)?)"
    r")\s*(?P<unit>.*)"
)
_AMBIGUOUS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}(?![0-9])")


def shown_unit(unit_kind: str, units: Units) -> Unit:
    """The unit that labels and bare numbers have in this system.

    Raises KeyError for a kind of unit that no field of the models has.
    """
    return UNITS[unit_kind][units == "trade"]


def show_number(value: float, unit_kind: str, units: Units) -> str:
    """The text for an input box, without its unit: 2½, −5, 63.5."""
    unit = shown_unit(unit_kind, units)
    return unit.text(unit.typed(value))


def read_number(text: str, unit_kind: str, units: Units, field_info: FieldInfo) -> float:
    """The value in the model's unit of what was typed: 1,5 · 2½ · 2 1/2 in · 64 mm · −5 °C · 1e3.

    Raises Refusal naming the field's label, what was typed, and what is allowed in the shown unit.
    """
    label = field_info.title or "This number"
    limits = allowed_range(field_info, unit_kind, units)
    plain = text.translate(_PLAIN).strip()
    if not plain:
        _refuse(f"{label} is empty", limits)
    if two_ways := _AMBIGUOUS.match(plain.lstrip("+- ")):
        whole, part = two_ways[0].split(",")
        _refuse(f"{label} is {shown(plain)}; write {whole}{part} or {whole}.{part}", limits)
    match = _NUMBER.fullmatch(plain) if len(plain) <= LONGEST else None
    if match is None:
        _refuse(f"{label} is {shown(text.strip())}, which is not a number", limits)
    named = match["unit"].strip()
    digits = re.sub("^-", MINUS, plain[: match.start("unit")].strip())
    home = shown_unit(unit_kind, units)
    unit = _find_unit(named, unit_kind, home)
    if unit is None:
        known = ", ".join(dict.fromkeys(each.name for each in UNITS[unit_kind] if each.name))
        told = f"units taken here: {known}" if known else "write the number alone"
        _refuse(f"{label} is {shown(digits)}{NBSP}{shown(named)}; {told}", limits)
    value = unit.stored(_value(match))
    if not _within(value, field_info):
        converts = unit.name != home.name and math.isfinite(value)
        as_shown = f" ({shown(home.text(home.typed(value)))}{NBSP}{home.name})" if converts else ""
        _refuse(f"{label} is {shown(digits)}{NBSP if unit.name else ''}{unit.name}{as_shown}", limits)
    return value


def read_number_or_none(text: str, unit_kind: str, units: Units, field_info: FieldInfo) -> float | None:
    """The same for a field that may be empty."""
    return read_number(text, unit_kind, units, field_info) if text.strip() else None


def read_if_changed(text: str, stored: float, unit_kind: str, units: Units, field_info: FieldInfo) -> float:
    """The stored value if the box still holds what `show_number` put there, else what was typed."""
    if text.strip() == show_number(stored, unit_kind, units):
        return stored
    return read_number(text, unit_kind, units, field_info)


@dataclass(frozen=True)
class Reading:
    """What a refused number could have meant: with a unit, and the value in the model's unit."""

    text: str
    stored: float


def other_readings(text: str, unit_kind: str, units: Units, field_info: FieldInfo) -> tuple[Reading, ...]:
    """In which other units a bare number would be inside the limits that it was refused for: 1.78 as 1.78 m.

    Nothing where a unit was typed, or where the number stands as it is. Never taken unasked.
    """
    plain = text.translate(_PLAIN).strip()
    match = _NUMBER.fullmatch(plain) if len(plain) <= LONGEST and not _AMBIGUOUS.match(plain) else None
    home = shown_unit(unit_kind, units)
    if match is None or match["unit"].strip() or _within(home.stored(_value(match)), field_info):
        return ()
    found: dict[str, Reading] = {}
    for unit in UNITS[unit_kind]:
        stored = unit.stored(_value(match))
        if unit.name not in (home.name, "yd") and _within(stored, field_info):
            digits = re.sub("^-", MINUS, plain[: match.start("unit")].strip())
            found.setdefault(unit.name, Reading(f"{digits}{NBSP}{unit.name}", stored))
    return tuple(found.values())


def allowed_range(field_info: FieldInfo, unit_kind: str, units: Units) -> str:
    """The limits of a field in the shown unit, as '5 to 300 mm'; rounded inwards, so both ends are taken."""
    unit = shown_unit(unit_kind, units)
    low, high, strict = _limits(field_info)
    bottom = "" if low is None else unit.text(_inwards(unit, low, up=True))
    top = "" if high is None else unit.text(_inwards(unit, high, up=False))
    tail = f"{NBSP}{unit.name}" if unit.name else ""
    if _is_whole(field_info):
        tail += ", whole numbers"
    if bottom and top:
        return (f"more than {bottom} and less than {top}" if strict else f"{bottom} to {top}") + tail
    if bottom:
        return f"{bottom} or more{tail}"
    return f"up to {top}{tail}" if top else ""


def _refuse(fault: str, limits: str) -> NoReturn:
    raise Refusal([f"{fault}; allowed: {limits}." if limits else f"{fault}."])


def _value(match: re.Match[str]) -> float:
    if match["mark"]:
        size = float(match["whole"] or 0) + float(_HALVES[match["mark"]])
    elif match["top"]:
        below = float(match["bottom"])
        size = float(match["lead"] or 0) + float(match["top"]) / below if below else math.inf
    elif match["groups"]:
        size = float(match["groups"].replace(" ", ""))
    else:
        size = float(match["decimal"].replace(",", "."))
    return -size if match["sign"] == "-" else size


def _normal(name: str) -> str:
    return re.sub(r"[\s·^]", "", name).replace("²", "2").replace("³", "3").casefold()


def _find_unit(named: str, unit_kind: str, home: Unit) -> Unit | None:
    if not named or (unit_kind == "°C" and named == "°"):
        return home
    # A price may carry its currency sign; there is nothing to convert.
    if unit_kind == "" and all(unicodedata.category(sign) == "Sc" for sign in named):
        return home
    for unit in UNITS[unit_kind]:
        if _normal(named) in {_normal(name) for name in (unit.name, *unit.also)}:
            return unit
    return None


def _limits(field_info: FieldInfo) -> tuple[float | None, float | None, bool]:
    """Lowest and highest value, and whether these two are themselves excluded."""
    rules = field_info.metadata
    found = {
        name: float(getattr(rule, name))
        for rule in rules
        for name in ("ge", "gt", "le", "lt")
        if getattr(rule, name, None) is not None
    }
    return found.get("ge", found.get("gt")), found.get("le", found.get("lt")), bool({"gt", "lt"} & set(found))


def _is_whole(field_info: FieldInfo) -> bool:
    return field_info.annotation is int or int in get_args(field_info.annotation)


def _within(value: float, field_info: FieldInfo) -> bool:
    low, high, strict = _limits(field_info)
    if not math.isfinite(value) or (_is_whole(field_info) and value != math.floor(value)):
        return False
    if strict:
        return (low is None or value > low) and (high is None or value < high)
    return (low is None or value >= low) and (high is None or value <= high)


def _inwards(unit: Unit, end: float, up: bool) -> float:
    """A limit in the shown unit, moved to the next shown step inside."""
    per_unit = 8.0 if unit.eighths else 10.0**unit.decimals
    steps = unit.typed(end) * per_unit
    return (math.ceil(steps - 1e-9) if up else math.floor(steps + 1e-9)) / per_unit
