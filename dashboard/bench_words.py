"""How are the numbers in a line of the bench sheet said, in the units of the maker?"""

from collections.abc import Mapping

from dashboard.caution_text import SAID_AS
from dashboard.words import NBSP, Kind, Units, duration, kilopascals, number, said, span
from engine.bench.step_model import Line, StepKind, Stop, WeighPoint

ALSO_SAID_AS: dict[StepKind, Kind] = {
    "fine mass": "portion",
    "length": "length",
    "hours": "work",
    "liquid": "liquid",
    "peel": "pull",
}


def line_text(line: Line | Stop, units: Units) -> str:
    """A line with its values.

    Raises KeyError when the text names a value that the line does not hold.
    """
    return with_values(line.text, line.values, units)


def with_values(text: str, values: Mapping[str, tuple[float | str, StepKind]], units: Units) -> str:
    """A text with its values at their {names}."""
    return text.format_map({name: _value(value, kind, units) for name, (value, kind) in values.items()})


def _value(value: float | str, kind: StepKind, units: Units) -> str:
    if isinstance(value, str):
        return value
    if kind == "bench_length":
        return said("sheet length", value, units)
    if kind == "seconds":
        return duration(value)
    if kind in SAID_AS:
        return said(SAID_AS[kind], value, units)
    if kind in ALSO_SAID_AS:
        return said(ALSO_SAID_AS[kind], value, units)
    if kind == "air_permeability":
        return f"{number(value, 1, trim=True)}{NBSP}mm/s"
    if kind == "pressure":
        return kilopascals(value)
    return number(value, 0 if abs(value) >= 10 else 1, trim=True)


def weigh_text(point: WeighPoint, units: Units) -> str:
    """What the scale should show, with its band: planned 212 g, 9 in 10 within 200 to 225 g."""
    planned = f"planned {said('mass', point.expected_kg, units)}"
    if not point.banded:
        return f"{planned};"
    return f"{planned}, 9 in 10 within {span('mass', point.low_kg, point.high_kg, units)};"


def mass_unit(units: Units) -> str:
    """What stands behind a line for one's own weight."""
    return "g" if units == "metric" else "oz"


def capital(text: str) -> str:
    """The first letter large, the others as they are."""
    return text[:1].upper() + text[1:]


def patched_places(count: float) -> str:
    """Patches by their places, as they are stitched; twice as many pieces are cut."""
    return f"{number(count)} {'place' if count == 1 else 'places'}, a patch inside and out each"
