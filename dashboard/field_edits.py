"""What happens to a value that was typed or picked: taken as one edit, or refused with what was typed kept?

A refused value waits in its field's memory. Where only the fields together were at fault (a taper that
starts beyond a new length), it is tried again with the next edit beside it.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal, TypeAlias

import streamlit as st
from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from dashboard import session
from dashboard.numbers_in import show_number, shown_unit
from dashboard.words import NBSP, Units
from engine.comparison import Comparison
from engine.design import Design
from engine.night import Night
from engine.refusals import explain, find_field

Target: TypeAlias = Literal["design", "night"]
NOTHING = object()
"""No value waits (None is a value: no budget, raw edges left as they are)."""
_MILLIMETRES = re.compile(r"(\d+(?:\.\d+)?) mm")


@dataclass(frozen=True)
class Spot:
    """One field of the design with this letter, or of the night."""

    path: str
    target: Target = "design"
    letter: str = ""

    @property
    def key(self) -> str:
        """The key of its widget."""
        return "-".join(("field", self.letter or self.target, *self.path.split(".")))

    @property
    def steps(self) -> tuple[str | int, ...]:
        """The path, places in a list as numbers."""
        return tuple(int(step) if step.isdigit() else step for step in self.path.split("."))

    @property
    def model(self) -> type[BaseModel]:
        """Where the field is declared."""
        return Design if self.target == "design" else Night

    @property
    def info(self) -> FieldInfo:
        """Its declaration: limits, label, unit, help.

        Raises  KeyError when the models have no such field
        """
        info = find_field(self.model, self.steps)
        if info is None:
            raise KeyError(self.path)
        return info


@dataclass(frozen=True)
class Memory:
    """What a field's box was last made from, and what was refused since."""

    stored: Any
    units: Units
    typed: Any = None
    fault: str = ""
    waiting: Any = NOTHING


def memories() -> dict[str, Memory]:
    """Memory of each field by its key; it outlives the widgets, which go when their page does."""
    found: dict[str, Memory] = st.session_state.setdefault("field_memories", {})
    return found


def document(spot: Spot) -> BaseModel:
    """The design or the night that a field belongs to."""
    current = session.comparison()
    return current.design(spot.letter) if spot.target == "design" else current.night


def stored(spot: Spot) -> Any:
    """The value in use: the last good one."""
    value: Any = document(spot)
    for step in spot.steps:
        value = value[step] if isinstance(step, int) else getattr(value, step)
    return value


def placed(document: BaseModel, changes: Mapping[str, Any]) -> BaseModel:
    """The same document with other values at some paths, checked as a whole.

    Raises  ValidationError
    """
    fields = document.model_dump()
    for path, value in changes.items():
        *way, last = (int(step) if step.isdigit() else step for step in path.split("."))
        place: Any = fields
        for step in way:
            if isinstance(place[step], tuple):
                place[step] = list(place[step])
            place = place[step]
        place[last] = value
    return type(document).model_validate(fields)


def with_document(spot: Spot, new: BaseModel) -> Comparison:
    """The comparison with this design or night in place of the old one."""
    if isinstance(new, Design):
        return session.with_design(spot.letter, new)
    assert isinstance(new, Night)
    now = session.comparison()
    changes: dict[str, Any] = {"night": new}
    if new.sleeper != now.night.sleeper:
        # Whoever stood in for somebody's own measures has gone.
        changes["measures_left_out"] = False
    return now.model_copy(update=changes)


def take(spot: Spot, value: Any, typed: Any, what: str) -> bool:
    """Try a value, first with those that wait beside it; else keep what was typed, and say why."""
    old = document(spot)
    waiting = waiting_beside(spot)
    # All that waits may be one step too many: the new value alone is then still tried.
    for changes in [{**waiting, spot.path: value}] * bool(waiting) + [{spot.path: value}]:
        try:
            new = placed(old, changes)
        except ValidationError as error:
            faults = explain(error, spot.model)
            waits = all(each["type"] == "value_error" for each in error.errors())
            continue
        if not session.commit(with_document(spot, new), what):
            # The engine could not score it: say so here, beside what was typed.
            refuse(spot, typed, session.notice())
            st.session_state.notice = ""
            return False
        for path in changes:
            memories().pop(replace(spot, path=path).key, None)
        return True
    refuse(spot, typed, said_plainly(faults, spot), value if waits else NOTHING)
    return False


def refuse(spot: Spot, typed: Any, fault: str, waiting: Any = NOTHING) -> None:
    """Keep what was typed beside the reason why it is not in use."""
    units = session.comparison().units
    memories()[spot.key] = Memory(stored(spot), units, typed, fault, waiting)


def waiting_beside(spot: Spot) -> dict[str, Any]:
    """Values of the same design or night that were refused for the company they keep."""
    start, found = replace(spot, path="").key, {}
    for key, memory in memories().items():
        if not key.startswith(start) or key == spot.key or memory.waiting is NOTHING:
            continue
        path = key.removeprefix(start).replace("-", ".")
        if stored(replace(spot, path=path)) == memory.stored:
            found[path] = memory.waiting
    return found


def with_waiting(spot: Spot) -> BaseModel:
    """The document as it would be with all that waits, unchecked: it tells which fields to show."""
    current = document(spot)
    for path, value in waiting_beside(replace(spot, path="")).items():
        current = _unchecked(current, path.split("."), value)
    return current


def _unchecked(model: BaseModel, way: list[str], value: Any) -> BaseModel:
    name, *rest = way
    inner = getattr(model, name)
    return model.model_copy(update={name: _unchecked(inner, rest, value) if rest else value})


def said_plainly(faults: Iterable[str], spot: Spot) -> str:
    """Refusals of the engine with labels for the names of fields, in the units shown."""
    units = session.comparison().units
    parent = spot.steps[:-1]

    def label(match: re.Match[str]) -> str:
        info = find_field(spot.model, (*parent, match[0]))
        return info.title if info is not None and info.title else match[0]

    def length(match: re.Match[str]) -> str:
        return f"{show_number(float(match[1]), 'mm', units)}{NBSP}{shown_unit('mm', units).name}"

    told = [re.sub(r"\b[a-z]+(?:_[a-z]+)+\b", label, fault) for fault in faults]
    plain = [re.sub(r" \([a-z_.0-9]+\)", "", each).replace(" is ;", " is empty;") for each in told]
    return " ".join(_MILLIMETRES.sub(length, each) for each in plain)


def lower_first(label: str) -> str:
    """A label inside a sentence: "baffle height", but "R of the other half"."""
    return label if label[1:2] in (" ", "") else label[:1].lower() + label[1:]
