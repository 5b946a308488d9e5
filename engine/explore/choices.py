"""Which values does each choice of a recipe take, checked against the model and the catalogue?"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import floor, prod
from typing import Annotated, Any, Literal, get_args, get_origin

from pydantic import BaseModel, TypeAdapter, ValidationError

from engine.catalogue.load import Catalogue, role_ids
from engine.design import Design
from engine.recipe import Choice, Recipe, Value
from engine.refusals import Refusal, allowed, find_field, shown

MOST_COMBINATIONS = 2**62
NOT_VARIED = ("name", "note", "suspension")
LAYOUT_PATHS = (
    "baffles.layout",
    "baffles.spacing_mm",
    "baffles.piece_length_mm",
    "baffles.gap_mm",
    "baffles.end_chamber_percent",
    "edges.kind",
    "end_panels.fitted",
    "kind",
)
"""With every path of the outline: what may call for another loft map, or another part of it."""


@dataclass(frozen=True)
class Axis:
    """One choice with all its values, checked against the model and the catalogue."""

    path: str
    values: tuple[Value, ...]
    kind: Literal["number", "word", "good"]
    branches: tuple[Value, ...]
    """For each value, what of it decides how a design is resolved; values alike in it resolve together."""


def values_of(choice: Choice) -> tuple[Value, ...]:
    """All values of a choice, each once, in order.

    Source  definition
    """
    if choice.span is None:
        return tuple(dict.fromkeys(choice.values))
    span = choice.span
    steps = floor((span.stop - span.start) / span.step + 1e-9)
    return tuple(round(span.start + index * span.step, 9) for index in range(steps + 1))


def count_of(recipe: Recipe) -> int:
    """How many combinations a recipe has, before any is made; those that the model refuses count too.

    Source  definition
    """
    return prod(len(values_of(choice)) for choice in recipe.choices) if recipe.choices else 0


def axes_of(recipe: Recipe, catalogue: Catalogue) -> tuple[Axis, ...]:
    """The choices of a recipe with all their values.

    Raises  Refusal: a sentence for each path that no design has and each value it does not take
    Source  definition
    """
    faults: list[str] = []
    if not recipe.choices:
        faults.append("No choice varies; allowed: at least one.")
    axes = [_axis(choice, catalogue, faults) for choice in recipe.choices]
    if count_of(recipe) > MOST_COMBINATIONS:
        faults.append("The choices have more combinations than can be counted; take fewer values.")
    if faults:
        raise Refusal(faults)
    return tuple(axis for axis in axes if axis is not None)


def _axis(choice: Choice, catalogue: Catalogue, faults: list[str]) -> Axis | None:
    path = choice.path
    field = find_field(Design, path.split("."))
    if field is None or path in NOT_VARIED or _holds_more(field.annotation) or not _ends_in_a_field(path):
        faults.append(f"{shown(path)} is no choice that can vary; allowed: a field of a design.")
        return None
    extra = field.json_schema_extra if isinstance(field.json_schema_extra, dict) else {}
    hint = extra.get("goods")
    goods = role_ids(catalogue, str(hint)) if hint else None
    declared: Any = Annotated[field.annotation, field]
    adapter: TypeAdapter[Any] = TypeAdapter(declared)
    values: list[Value] = []
    for value in values_of(choice):
        try:
            taken = adapter.validate_python(value)
        except ValidationError:
            faults.append(
                f"{field.title} ({path}) is {shown(value)}; allowed: {allowed(field) or 'true or false'}."
            )
            continue
        if goods is not None and taken is not None and taken not in goods:
            faults.append(f"{field.title} ({path}) is {shown(taken)}; allowed: one of {', '.join(goods)}.")
            continue
        values.append(taken)
    number = isinstance(values[0], int | float) and not isinstance(values[0], bool) if values else False
    kind: Literal["number", "word", "good"] = "number" if number else "good" if goods else "word"
    return Axis(path, tuple(values), kind, tuple(_branch(path, kind, value, catalogue) for value in values))


def _holds_more(annotation: Any) -> bool:
    kinds = (annotation, *get_args(annotation))
    return get_origin(annotation) is tuple or any(
        isinstance(k, type) and issubclass(k, BaseModel) for k in kinds
    )


def _ends_in_a_field(path: str) -> bool:
    *groups, _ = path.split(".")
    return not groups or (len(groups) == 1 and _holds_more(Design.model_fields[groups[0]].annotation))


def shapes_the_layout(path: str) -> bool:
    """Whether a choice may call for another loft map.

    Source  definition
    """
    return path.startswith("outline.") or path in LAYOUT_PATHS


def _branch(path: str, kind: str, value: Value, catalogue: Catalogue) -> Value:
    if shapes_the_layout(path) or kind == "word":
        return value
    if kind == "number" or value is None:
        return None
    return catalogue.fill(str(value)).form if path == "fill.good" else "a good"


def changed(design: Design, changes: Iterable[tuple[str, Value]]) -> Design:
    """A design with fields at dotted paths replaced, checked like any input.

    Raises  ValidationError
    Source  definition
    """
    fields = design.model_dump()
    for path, value in changes:
        *groups, name = path.split(".")
        place = fields
        for group in groups:
            place = place[group]
        place[name] = value
    return Design.model_validate(fields)
