"""Any recipe of choices, for tests of what must hold for all of them."""

from typing import Any, Literal, get_args, get_origin

import numpy as np
from hypothesis import strategies as st
from pydantic import BaseModel

from engine.catalogue.load import role_ids
from engine.design import Design
from engine.explore.choices import NOT_VARIED
from engine.recipe import Choice, Recipe, Span
from tests.engine.made import CATALOGUE


def paths() -> dict[str, Any]:
    """Every field of a design that may vary, by its dotted path."""
    found = {}
    for name, field in Design.model_fields.items():
        kind = field.annotation
        if isinstance(kind, type) and issubclass(kind, BaseModel):
            found |= {f"{name}.{inner}": below for inner, below in kind.model_fields.items()}
        elif name not in NOT_VARIED:
            found[name] = field
    return found


PATHS = paths()


def some_values(path: str) -> tuple[Any, ...]:
    """Up to five values that a field takes, from one end of its range to the other."""
    field = PATHS[path]
    extra = field.json_schema_extra or {}
    if "goods" in extra:
        goods = role_ids(CATALOGUE, extra["goods"])
        return (*goods[:4], None) if type(None) in get_args(field.annotation) else goods[:5]
    if get_origin(field.annotation) is Literal:
        return get_args(field.annotation)
    if field.annotation is bool:
        return (False, True)
    low, high = (next(getattr(r, end) for r in field.metadata if hasattr(r, end)) for end in ("ge", "le"))
    if field.annotation is int:
        return tuple(sorted({int(v) for v in np.linspace(low, high, 4)}))
    return tuple(round(float(v), 1) for v in np.linspace(low, high, 5))


def among(*choices: Choice) -> Recipe:
    return Recipe(choices=choices)


def any_of(path: str, *values: Any) -> Choice:
    return Choice(path=path, values=values)


def span(path: str, start: float, stop: float, step: float) -> Choice:
    return Choice(path=path, span=Span(start=start, stop=stop, step=step))


@st.composite
def recipes(draw: st.DrawFn) -> Recipe:
    """One to four choices of up to three values each."""
    chosen = draw(st.lists(st.sampled_from(sorted(PATHS)), min_size=1, max_size=4, unique=True))
    return among(
        *(
            any_of(
                path, *draw(st.lists(st.sampled_from(some_values(path)), min_size=1, max_size=3, unique=True))
            )
            for path in chosen
        )
    )
