"""Which finished designs come with the program, and for which night was each made?

The designs, the nights and the people are all invented. A design is kept like any saved design;
nights.json holds the nights, and says which design is for which, in the order they are offered.
"""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from engine.comparison import LETTERS, Candidate, Comparison
from engine.design import Design
from engine.export.files import design_from_json
from engine.export.strict_json import checked, parsed
from engine.night import Night
from engine.refusals import Refusal, shown

PACKAGE = "sample_designs"
NIGHTS_FILE = "nights.json"
PARTS = ("note", "nights", "samples")
ON_FIRST_VISIT = 4


@dataclass(frozen=True)
class Sample:
    """An invented design and the night it is meant for; its id is the name of its file, without '.json'."""

    id: str
    design: Design
    night_name: str
    night: Night


@cache
def nights() -> Mapping[str, Night]:
    """The invented nights by name, in the order they are offered; a first visit begins with the first.

    Raises  Refusal, a sentence per fault, naming the file
    Source  definition
    """
    return nights_from(_text(NIGHTS_FILE))[0]


@cache
def samples() -> tuple[Sample, ...]:
    """All sample designs, in the order they are offered.

    Raises  Refusal, a sentence per fault, naming the file
    Source  definition
    """
    presets, meant_for = nights_from(_text(NIGHTS_FILE))
    return tuple(
        Sample(id, design_from(f"{id}.json", _text(f"{id}.json")), name, presets[name])
        for id, name in meant_for.items()
    )


@cache
def first_visit() -> Comparison:
    """What a visitor sees who brings nothing: four designs that differ in kind, on the first night.

    Raises  Refusal, a sentence per fault, naming the file
    Source  definition
    """
    name, night = next(iter(nights().items()))
    designs = [sample.design for sample in samples() if sample.night_name == name][:ON_FIRST_VISIT]
    candidates = zip(LETTERS[: len(designs)], designs, strict=True)
    return Comparison(
        night=night,
        candidates=tuple(Candidate(letter=letter, design=design) for letter, design in candidates),
    )


def design_from(file_name: str, text: str) -> Design:
    """The design in the text of a sample's file.

    Raises  Refusal, a sentence per fault, naming the file
    Source  definition
    """
    with _named(file_name):
        return design_from_json(text)


def nights_from(text: str) -> tuple[Mapping[str, Night], Mapping[str, str]]:
    """The nights by name, and for each sample id the name of its night, from the text of nights.json.

    Raises  Refusal, a sentence per fault, naming the file
    Source  definition
    """
    with _named(NIGHTS_FILE):
        document = parsed(text)
        if not isinstance(document, dict) or set(document) != set(PARTS):
            raise Refusal([f"The file holds {shown(_keys(document))}; allowed: {', '.join(PARTS)}."])
        presets, meant_for = _object(document, "nights"), _object(document, "samples")
        read = {}
        for name, fields in presets.items():
            with _named(name):
                read[name] = checked(Night, fields)
        faults = [
            f"samples.{id} is {shown(name)}; allowed: {', '.join(read)}."
            for id, name in meant_for.items()
            if not isinstance(name, str) or name not in read
        ]
        if faults:
            raise Refusal(faults)
    return MappingProxyType(read), MappingProxyType(meant_for)


def _text(file_name: str) -> str:
    with _named(file_name):
        try:
            return (files(PACKAGE) / file_name).read_text(encoding="utf-8")
        except FileNotFoundError:
            raise Refusal([f"The file is missing from {PACKAGE}."]) from None


def _object(document: dict[str, Any], part: str) -> dict[str, Any]:
    value = document[part]
    if not isinstance(value, dict) or not value:
        raise Refusal([f"{part} is {shown(value)}; allowed: an object with at least one entry."])
    return value


def _keys(document: object) -> str:
    return ", ".join(document) or "nothing" if isinstance(document, dict) else str(document)


@contextmanager
def _named(what: str) -> Iterator[None]:
    """Put a name before each sentence of a refusal."""
    try:
        yield
    except Refusal as refusal:
        raise Refusal([f"{what}: {message}" for message in refusal.messages]) from None
