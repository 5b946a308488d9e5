"""How do many designs that differ in a few fields become one set of quantities, without a model for each?

A column is a design whose numbers are arrays: words stay words, and goods that differ are stacked into one
good whose numbers are arrays too. It is resolved like any design, because words alone decide its branches.
"""

from collections.abc import Mapping, Sequence
from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray
from pydantic import BaseModel

from engine.catalogue.load import Catalogue
from engine.catalogue.models import Good
from engine.design import Design
from engine.explore.choices import Axis
from engine.night import Night
from engine.quantities import Quantities, resolve
from engine.units import Number

Model = TypeVar("Model", bound=BaseModel)
Part = TypeVar("Part")
Codes = NDArray[np.int64]
SHELVES = {
    "shells": "fabrics",
    "baffles": "fabrics",
    "end_panels": "fabrics",
    "fill": "fills",
    "joints": "joints",
}
"""On which shelf of the catalogue the goods of a group of fields stand."""
OF_THE_LAYOUT = ("plan", "station_position_m", "station_width_m")


def resolve_column(
    design: Design, night: Night, catalogue: Catalogue, axes: Sequence[Axis], codes: Sequence[Codes]
) -> Quantities:
    """Quantities of all designs that take the axes' values of these codes; all of one branch.

    Shapes  codes (n,) for each axis -> quantities of (n,), or floats where all are alike
    Source  engine.quantities.resolve
    """
    changes: dict[str, Any] = {}
    shelves = {name: dict(getattr(catalogue, name)) for name in ("fabrics", "fills", "joints")}
    for axis, code in zip(axes, codes, strict=True):
        first = axis.values[code[0]]
        if axis.kind == "word" or np.all(code == code[0]) or first is None:
            changes[axis.path] = first
        elif axis.kind == "number":
            changes[axis.path] = np.array(axis.values, dtype=float)[code]
        else:
            shelf = shelves[SHELVES[axis.path.split(".")[0]]]
            present, place = np.unique(code, return_inverse=True)
            changes[axis.path] = f"varied {axis.path}"
            shelf[changes[axis.path]] = _stacked([shelf[str(axis.values[index])] for index in present], place)
    stacked = replace(catalogue, **shelves)
    quantities = resolve(_with(design, changes), night, stacked)
    return _as_wide_as(quantities, len(codes[0]))


def _as_wide_as(q: Quantities, count: int) -> Quantities:
    """What the places multiply must be as wide as the column, or their axis would be taken for its own."""
    wide = {name: getattr(q, name) + np.zeros(count) for name in ("overstuff", "fill_given_kg")}
    if np.ndim(q.sheet_loft_m) or np.ndim(q.quilting_spacing_m):
        wide["sheet_loft_m"] = q.sheet_loft_m + np.zeros(count)
    return replace(q, **wide)


def _stacked(goods: Sequence[Good], code: Codes) -> Good:
    """Many goods as one: numbers as arrays, what all have in common as it is, all else left out."""
    common: dict[str, Any] = {}
    for name in type(goods[0]).model_fields:
        values = [getattr(good, name) for good in goods]
        if all(value == values[0] for value in values):
            common[name] = values[0]
        elif all(isinstance(value, int | float) for value in values):
            common[name] = np.array(values, dtype=float)[code]
    # Not checked: each good has been, and arrays are no field of a good.
    return type(goods[0]).model_construct(**common)


def _with(model: Model, changes: Mapping[str, Any]) -> Model:
    """The model with fields at dotted paths replaced, unchecked: arrays are no field of a design."""
    values = {name: getattr(model, name) for name in type(model).model_fields}
    inner: dict[str, dict[str, Any]] = {}
    for path, value in changes.items():
        head, _, rest = path.partition(".")
        if rest:
            inner.setdefault(head, {})[rest] = value
        else:
            values[head] = value
    for head, below in inner.items():
        values[head] = _with(values[head], below)
    return type(model).model_construct(**values)


def joined(columns: Sequence[Quantities], counts: Sequence[int]) -> Quantities:
    """Columns that share a loft map, one after the other.

    Source  definition
    """
    if len(columns) == 1:
        return columns[0]
    together = _joined(columns, counts)
    # Stations too: what is added to them may now differ from quilt to quilt.
    wide: dict[str, Any] = {
        name: _widened(getattr(together, name), sum(counts)) for name in OF_THE_LAYOUT[1:]
    }
    return replace(together, **wide)


def _widened(stations: NDArray[np.float64], count: int) -> NDArray[np.float64]:
    return np.broadcast_to(stations[:, np.newaxis], (len(stations), count))


def _joined(parts: Sequence[Part], counts: Sequence[int]) -> Part:
    first: Any = parts[0]
    changes: dict[str, Any] = {}
    for field in fields(first):
        if field.name in OF_THE_LAYOUT:
            continue
        values = [getattr(part, field.name) for part in parts]
        join: Any = _joined if is_dataclass(values[0]) else _end_to_end
        changes[field.name] = join(values, counts)
    together: Part = replace(first, **changes)
    return together


def _end_to_end(values: Sequence[Number], counts: Sequence[int]) -> Number:
    if all(np.ndim(value) == 0 and value == values[0] for value in values):
        return values[0]
    wide = [np.broadcast_to(value, count) for value, count in zip(values, counts, strict=True)]
    return np.concatenate(wide)
