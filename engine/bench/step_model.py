"""What is one step at the bench? Text whose values stay numbers, so that who prints it chooses the units."""

from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from engine.cautions import ValueKind

StepKind: TypeAlias = ValueKind | Literal["fine mass", "length", "seconds", "hours", "liquid", "peel"]
"""Kinds of warnings, and: fine mass (kg, to the step of the scale), length (m of tape or cord), seconds (s),
hours (h), liquid (m3), peel (N/m)."""
StepValues: TypeAlias = dict[str, tuple[float | str, StepKind]]
Station: TypeAlias = Literal["marking", "cutting", "strips", "joining", "scale", "filling", "outdoors"]
CautionId: TypeAlias = Literal["Cold", "Fire", "Hot knife", "Solvent", "Film", "Hanging"]
"""Subjects of the cautions that stand on every sheet."""
StopId: TypeAlias = Literal["first cut", "second shell", "opening the down", "closing"]


@dataclass(frozen=True)
class Line:
    """One line; `text` holds {names} of values in SI, `tick` asks for a box to tick."""

    text: str
    values: StepValues = field(default_factory=dict)
    tick: bool = True


@dataclass(frozen=True)
class Stop:
    """Halt before the dear mistake: what must be true before the hand goes on."""

    id: StopId
    text: str
    values: StepValues = field(default_factory=dict)


@dataclass(frozen=True)
class WeighPoint:
    """Weigh what is said and write it down: expected mass in kg, its 5 to 95 % band where one is drawn."""

    what: str
    expected_kg: float
    low_kg: float
    high_kg: float
    banded: bool


@dataclass(frozen=True)
class Step:
    """One numbered step; `stop`, where there is one, stands before its lines."""

    number: int
    key: str
    title: str
    station: Station
    lines: tuple[Line, ...]
    stop: Stop | None = None
    weigh: tuple[WeighPoint, ...] = ()
    cautions: tuple[CautionId, ...] = ()
