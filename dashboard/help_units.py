"""How does a help text of the models, which has metric numbers, read in the units shown?

A unit covers the numbers right before it, and in its sentence those earlier ones that have none and stand in
a list: "torso 1000 to 1250; top quilt 200 to 250 mm". A factor ("2.2 × the height") stays as it is.
"""

import re
from collections.abc import Callable

from dashboard.words import MINUS, NBSP, Units, number, span
from engine.units import CLO, GRAM, MM, OUNCE, TOG

POUND_KG = 16 * OUNCE
_NUMBER = rf"[{MINUS}-]?\d+(?:\.\d+)?"
_AMOUNT = re.compile(
    rf"(?<![\w.])(?P<low>{_NUMBER})(?: (?P<join>to|×) (?P<high>{_NUMBER}))?"
    r"(?: (?P<unit>mm|m/s|kg|g|m|°C)(?![\w/²])|(?=[,;]))"
)
_DIFFERENCE = re.compile(r"\b(?:costs?|gains?|warmer|less warm|colder)\b")


def _pounds(low: float, high: float) -> str:
    ends = [number(kg / POUND_KG) for kg in (low, high)]
    return f"{ends[0] if ends[0] == ends[1] else ' to '.join(ends)}{NBSP}lb"


TRADE: dict[str, Callable[[float, float], str]] = {
    "mm": lambda low, high: span("bench length", low * MM, high * MM, "trade"),
    "m": lambda low, high: span("bench length", low, high, "trade"),
    "g": lambda low, high: span("mass", low * GRAM, high * GRAM, "trade"),
    "kg": _pounds,
    "°C": lambda low, high: span("temperature", low, high, "trade"),
    "K": lambda low, high: span("temperature difference", low, high, "trade"),
    "m/s": lambda low, high: span("speed", low, high, "trade"),
}


def in_units(text: str, units: Units) -> str:
    """A help text of the models, its lengths, weights, temperatures and winds in the units shown."""
    if units == "metric":
        return text
    return "".join(_sentence(part) for part in re.split(r"(?<=\. )", text))


def _sentence(sentence: str) -> str:
    named = [match for match in _AMOUNT.finditer(sentence) if match["unit"]]
    if not named:
        return sentence
    last = named[-1]
    # What a draught costs is a difference: it has no freezing point in it.
    difference = bool(_DIFFERENCE.search(sentence))

    def told(match: re.Match[str]) -> str:
        if match["unit"] is None and match.start() > last.start():
            return match[0]
        unit = match["unit"] or last["unit"]
        return _said(match, "K" if unit == "°C" and difference else unit)

    return _AMOUNT.sub(told, sentence)


def _said(match: re.Match[str], unit: str) -> str:
    low, high = (float((match[end] or match["low"]).replace(MINUS, "-")) for end in ("low", "high"))
    if match["join"] == "×":
        text = f"{TRADE[unit](low, low).rpartition(NBSP)[0]}{NBSP}×{NBSP}{TRADE[unit](high, high)}"
    else:
        text = TRADE[unit](low, high)
    return text if match["unit"] else text.rpartition(NBSP)[0]


def everyday(resistance_m2k_w: float) -> str:
    """A thermal resistance as clothes and bedding are sold by: 0.8 tog, 0.5 clo."""
    tog, clo = (number(resistance_m2k_w / each, 1) for each in (TOG, CLO))
    return f"{tog}{NBSP}tog, {clo}{NBSP}clo"
