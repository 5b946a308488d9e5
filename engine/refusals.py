"""Bad input in plain words: which field, what was given, what is allowed."""

from collections.abc import Iterable
from typing import Any, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

SHOWN = 40
"""How much of a refused value is repeated."""


class Refusal(ValueError):
    """Input that was not taken; `messages` holds one sentence per fault."""

    def __init__(self, messages: Iterable[str]) -> None:
        self.messages = tuple(messages)
        super().__init__("\n".join(self.messages))


def shown(value: object) -> str:
    """A value as typed, cut short if it is long."""
    text = f"{value:g}" if isinstance(value, float) else str(value)
    return text if len(text) <= SHOWN else text[:SHOWN] + "…"


def find_field(model: type[BaseModel], path: Iterable[str | int]) -> FieldInfo | None:
    """The declaration behind a path such as ('baffles', 'height_mm'), or None."""
    current: Any = model
    field: FieldInfo | None = None
    for step in path:
        if isinstance(step, int):
            continue
        if not (isinstance(current, type) and issubclass(current, BaseModel)):
            return field
        field = current.model_fields.get(step)
        if field is None:
            return None
        current = _innermost_model(field.annotation)
    return field


def _innermost_model(annotation: Any) -> Any:
    if get_origin(annotation) is None:
        return annotation
    for argument in get_args(annotation):
        if isinstance(argument, type) and issubclass(argument, BaseModel):
            return argument
    return annotation


def allowed(field: FieldInfo | None) -> str:
    """What a field takes, as '5 to 300 mm' or 'pinched, low edge wall, box edge'."""
    if field is None:
        return ""
    extra = field.json_schema_extra if isinstance(field.json_schema_extra, dict) else {}
    unit = f" {extra['unit']}" if extra.get("unit") else ""
    limits = {
        name: getattr(rule, name)
        for rule in field.metadata
        for name in ("ge", "gt", "le", "lt")
        if getattr(rule, name, None) is not None
    }
    if limits:
        return _range(limits, unit)
    choices = [c for c in _choices(field.annotation) if c is not None]
    if choices:
        return ", ".join(str(c) for c in choices)
    lengths = {
        name: getattr(rule, name)
        for rule in field.metadata
        for name in ("min_length", "max_length")
        if getattr(rule, name, None) is not None
    }
    if "max_length" in lengths:
        return f"{lengths.get('min_length', 0)} to {lengths['max_length']} characters"
    return ""


def _range(limits: dict[str, float], unit: str) -> str:
    low, high = limits.get("ge", limits.get("gt")), limits.get("le", limits.get("lt"))
    if "gt" not in limits and "lt" not in limits and low is not None and high is not None:
        return f"{low:g} to {high:g}{unit}"
    words = {"ge": "at least", "gt": "above", "le": "at most", "lt": "below"}
    return " and ".join(f"{words[name]} {limit:g}" for name, limit in limits.items()) + unit


def _choices(annotation: Any) -> tuple[Any, ...]:
    arguments = get_args(annotation)
    if not arguments or any(isinstance(a, type) and not isinstance(None, a) for a in arguments):
        return ()
    flat: list[Any] = []
    for argument in arguments:
        flat.extend(_choices(argument) or (() if isinstance(argument, type) else (argument,)))
    return tuple(flat)


def explain(error: ValidationError, model: type[BaseModel], prefix: str = "") -> tuple[str, ...]:
    """Each fault that pydantic found, as one sentence naming field, value and what is allowed."""
    return tuple(_sentence(fault, model, prefix) for fault in error.errors())


def _sentence(fault: Any, model: type[BaseModel], prefix: str) -> str:
    path = list(fault["loc"])
    field = find_field(model, path)
    name = prefix + (".".join(str(step) for step in path) or "this")
    label = f"{field.title} ({name})" if field is not None and field.title else name
    if fault["type"] == "extra_forbidden":
        return f"{shown(name)} is not known here; remove it or check its spelling."
    if fault["type"] == "missing":
        return f"{name} is missing; it is needed."
    if fault["type"] == "value_error":
        return prefix + str(fault["ctx"]["error"]) + "."
    limit = allowed(field)
    told = f" is {shown(fault['input'])}" + (f"; allowed: {limit}" if limit else f"; {fault['msg'].lower()}")
    return f"{label}{told}."
