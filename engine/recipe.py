"""Which choices vary, and over what: what a sweep tries, small enough to travel in a link."""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from engine.models import Frozen

MOST_CHOICES = 12
MOST_VALUES = 1001
"""Of one choice: a quilt's length to the millimetre over a metre."""

Value = float | Annotated[str, Field(max_length=60)] | bool | None


class Span(Frozen):
    """From `start` to `stop`, both included where the step meets them."""

    start: float
    stop: float
    step: float

    @model_validator(mode="after")
    def _runs_forward(self) -> "Span":
        if self.step <= 0:
            raise ValueError(f"step is {self.step:g}; allowed: above 0")
        if self.stop < self.start:
            raise ValueError(
                f"stop is {self.stop:g}; allowed: {self.start:g} or more, where the range starts"
            )
        if (self.stop - self.start) / self.step >= MOST_VALUES:
            raise ValueError(
                f"step is {self.step:g}; allowed: {(self.stop - self.start) / (MOST_VALUES - 1):g} or more, "
                f"so that the range has up to {MOST_VALUES} values"
            )
        return self


class Choice(Frozen):
    """One field of a design, by its dotted path, and the values it may take: a set, or a range."""

    path: str = Field(min_length=1, max_length=60)
    values: tuple[Value, ...] = Field((), max_length=MOST_VALUES)
    span: Span | None = None

    @model_validator(mode="after")
    def _has_values(self) -> "Choice":
        if bool(self.values) == (self.span is not None):
            has = "both a set and a range" if self.values else "neither a set nor a range"
            raise ValueError(f"{self.path} has {has}; allowed: one of them")
        return self


class Recipe(Frozen):
    """What a sweep tries: every combination of the choices, or, where there are too many, a sample."""

    start: Literal["A", "B", "C", "D", "E", "F"] | None = Field(None, title="Start from")
    choices: tuple[Choice, ...] = Field((), max_length=MOST_CHOICES, title="What varies")
    seed: int = Field(20, ge=0, le=9999, title="Seed of the sample")

    @model_validator(mode="after")
    def _each_path_once(self) -> "Recipe":
        paths = [choice.path for choice in self.choices]
        for path in paths:
            if paths.count(path) > 1:
                raise ValueError(f"{path} varies twice; allowed: once")
        return self
