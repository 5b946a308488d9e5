"""Bad input in plain words: which field, what was given, what is allowed."""

import json
from collections.abc import Iterable, Mapping
from typing import Any, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from engine.models import ID_PATTERN

SHOWN = 40
"""How much of a refused value is repeated."""
GROUP = "a group of fields in braces"
GOOD_ID = "a good's id of small letters, digits, dots and dashes"
NUMBER_FAULTS = ("float_type", "int_type", "bool_type")
"""A text came where none belongs: shown in quotes, or "50" would be refused as 50 and never understood."""


class Refusal(ValueError):
    """Input that was not taken; `messages` holds one sentence per fault."""

    def __init__(self, messages: Iterable[str]) -> None:
        self.messages = tuple(messages)
        super().__init__("\n".join(self.messages))


def shown(value: object) -> str:
    """A value as typed, cut short if it is long."""
    if isinstance(value, float):
        text = f"{value:g}"
    elif value is None or isinstance(value, bool | dict | list):
        text = json.dumps(value, ensure_ascii=False, default=str)
    else:
        text = str(value)
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
        what = "entries" if get_origin(field.annotation) is tuple else "characters"
        return f"{lengths.get('min_length', 0)} to {lengths['max_length']} {what}"
    if any(getattr(rule, "pattern", None) == ID_PATTERN for rule in field.metadata):
        return GOOD_ID
    return GROUP if isinstance(field.annotation, type) and issubclass(field.annotation, BaseModel) else ""


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


def missing(model: type[BaseModel], fields: Any, path: str = "") -> tuple[str, ...]:
    """A sentence for each field that a mapping leaves out, in its groups and lists of groups too."""
    if not isinstance(fields, Mapping):
        return ()
    told: list[str] = []
    for name, field in model.model_fields.items():
        if name not in fields:
            told.append(_missing(path + name, field))
            continue
        inner, value = _innermost_model(field.annotation), fields[name]
        if not (isinstance(inner, type) and issubclass(inner, BaseModel)):
            continue
        entries = enumerate(value) if isinstance(value, list) else ()
        for place, entry in entries:
            told.extend(missing(inner, entry, f"{path}{name}.{place}."))
        told.extend(missing(inner, value, f"{path}{name}."))
    return tuple(told)


def _missing(name: str, field: FieldInfo | None) -> str:
    limit = "true or false" if field is not None and field.annotation is bool else allowed(field)
    return f"{name} is missing; it is needed: {limit}." if limit else f"{name} is missing; it is needed."


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
        return _missing(name, field)
    if fault["type"] == "value_error":
        return prefix + str(fault["ctx"]["error"]) + "."
    limit = GROUP if fault["type"] == "model_type" else allowed(field)
    given = shown(fault["input"])
    if isinstance(fault["input"], str) and fault["type"] in NUMBER_FAULTS:
        given = f'"{given}"'
    told = f" is {given or 'empty'}" + (f"; allowed: {limit}" if limit else f"; {fault['msg'].lower()}")
    return f"{label}{told}."
