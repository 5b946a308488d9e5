"""How does text from a stranger become a model of ours, or a refusal, and never anything else?"""

import json
from collections.abc import Mapping
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from engine.refusals import Refusal, explain, missing, shown

MOST_LEVELS = 12
MOST_MESSAGES = 12
MOST_DIGITS = 30
WANTED = {
    "float_type": "a number",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "bool_type": "true or false",
    "string_type": "text",
}
"""What a value of the wrong sort should have been: the text "50" is not wrong for its size."""

Checked = TypeVar("Checked", bound=BaseModel)


def parsed(text: str) -> Any:
    """JSON as Python values, without doubled keys, deep nests or halves of characters.

    Whole numbers come back as int, however they were written. NaN, infinity and huge numbers come
    back as float: `checked` refuses them by the name of their field.

    Raises  Refusal, one sentence
    Source  RFC 8259 (2017): sections 4 (names should be unique), 8.2 (half characters) and
            9 (a reader may set limits)
    """
    try:
        value = json.loads(text, parse_int=_whole, parse_float=_real, object_pairs_hook=_object)
    except json.JSONDecodeError as fault:
        where = f"line {fault.lineno}, column {fault.colno}"
        raise Refusal([f"The text is not JSON ({where}: {fault.msg.lower()})."]) from None
    except RecursionError:
        raise Refusal([_too_deep("The text")]) from None
    _look_through(value, (), 0)
    return value


def checked(model: type[Checked], fields: Any, *, whole: bool = False) -> Checked:
    """A model from parsed JSON, without guessing: no text for a number, no number for yes or no.

    With `whole`, no field may be left out: a default is a guess too.

    Raises  Refusal, a sentence per fault, naming field, value and what is allowed
    Source  definition
    """
    left_out = missing(model, fields) if whole else ()
    try:
        taken = model.model_validate_json(json.dumps(fields), strict=True)
    except ValidationError as error:
        # What does not agree may not agree with a default that the file never gave.
        faults = [
            _with_kind(told, WANTED.get(fault["type"], ""))
            for told, fault in zip(explain(error, model), error.errors(include_context=False), strict=True)
            if not (left_out and fault["type"] == "value_error")
        ]
        raise Refusal(few(tuple(dict.fromkeys((*left_out, *faults))))) from None
    if left_out:
        raise Refusal(few(left_out))
    return taken


def few(messages: tuple[str, ...]) -> tuple[str, ...]:
    """The first messages and a count of the others: a hostile file can have a fault in every line.

    Source  definition
    """
    if len(messages) <= MOST_MESSAGES:
        return messages
    return (*messages[:MOST_MESSAGES], f"And {len(messages) - MOST_MESSAGES} more faults.")


def plain(value: Any) -> Any:
    """The same values with whole numbers written short, 50 for 50.0.

    Source  definition
    """
    if isinstance(value, Mapping):
        return {key: plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [plain(inner) for inner in value]
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return int(value)
    return value


def _with_kind(sentence: str, kind: str) -> str:
    if not kind:
        return sentence
    if "; allowed: " in sentence:
        return f"{sentence[:-1]}, as {kind}."
    return f"{sentence.partition(';')[0]}; allowed: {kind}."


def _look_through(value: Any, path: tuple[str, ...], depth: int) -> None:
    if depth > MOST_LEVELS:
        raise Refusal([_too_deep(shown(".".join(path)))])
    if isinstance(value, dict):
        for key, inner in value.items():
            _whole_characters(key, path)
            _look_through(inner, (*path, key), depth + 1)
    elif isinstance(value, list):
        for place, inner in enumerate(value):
            _look_through(inner, (*path, str(place)), depth + 1)
    elif isinstance(value, str):
        _whole_characters(value, path)


def _whole_characters(text: str, path: tuple[str, ...]) -> None:
    # JSON can write half of a surrogate pair, UTF-8 cannot: nothing could show or save it.
    try:
        text.encode()
    except UnicodeEncodeError:
        told = shown(text.encode("ascii", "backslashreplace").decode())
        where = shown(".".join(path)) or "The text"
        raise Refusal([f"{where} holds {told}; allowed: whole characters."]) from None


def _too_deep(what: str) -> str:
    return f"{what} is nested too deeply; allowed: {MOST_LEVELS} levels."


def _whole(digits: str) -> int | float:
    return int(digits) if len(digits) <= MOST_DIGITS else float(digits)


def _real(digits: str) -> int | float:
    number: int | float = plain(float(digits))
    return number


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    whole: dict[str, Any] = {}
    for key, value in pairs:
        if key in whole:
            raise Refusal([f"{shown(key)} stands twice in one place; allowed: once."])
        whole[key] = value
    return whole
