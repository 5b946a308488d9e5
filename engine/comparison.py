"""What is compared: one night, up to six lettered candidates, the maker's own goods, and the choice made.

This is the whole document: it travels in the link and in the file, and holds nothing else.
"""

from typing import Literal

from pydantic import Field, model_validator

from engine.catalogue.models import OwnGood
from engine.design import Design
from engine.models import Frozen
from engine.night import Night
from engine.recipe import Recipe

Letter = Literal["A", "B", "C", "D", "E", "F"]
LETTERS: tuple[Letter, ...] = ("A", "B", "C", "D", "E", "F")
MOST_CANDIDATES = len(LETTERS)


class Candidate(Frozen):
    """A design and the letter that it keeps until it is removed."""

    letter: Letter
    design: Design


class Comparison(Frozen):
    """Everything that a link or a file holds."""

    night: Night = Night()
    candidates: tuple[Candidate, ...] = Field((), max_length=MOST_CANDIDATES)
    own_goods: tuple[OwnGood, ...] = Field((), max_length=60)
    reference: Letter | None = Field(None, title="Compare with")
    chosen: Letter | None = Field(None, title="Chosen")
    reason: str = Field("", max_length=200, title="Why this one")
    units: Literal["metric", "trade"] = Field("metric", title="Units")
    currency: str = Field("", max_length=8, title="Currency label", description="Printed after each price.")
    measures_left_out: bool = Field(
        False,
        title="Measures left out",
        description="A standard sleeper stands in for somebody's own measures, which were not sent.",
    )
    recipe: Recipe | None = Field(
        None, title="Tried", description="What was last let vary, and over what; never the quilts themselves."
    )

    @model_validator(mode="after")
    def _letters_agree(self) -> "Comparison":
        letters = [candidate.letter for candidate in self.candidates]
        if len(set(letters)) != len(letters):
            raise ValueError(f"candidates have the letters {', '.join(letters)}; each may stand once")
        for name in ("reference", "chosen"):
            letter = getattr(self, name)
            if letter is not None and letter not in letters:
                raise ValueError(
                    f"{name} is {letter}; allowed: one of {', '.join(letters) or 'no candidates'}"
                )
        keys = [(good.kind, good.id) for good in self.own_goods]
        if len(set(keys)) != len(keys):
            raise ValueError("own_goods names one good twice; each may stand once")
        return self

    def design(self, letter: str) -> Design:
        """The design with this letter.

        Raises  KeyError when no candidate has it
        Source  definition
        """
        for candidate in self.candidates:
            if candidate.letter == letter:
                return candidate.design
        raise KeyError(letter)

    @property
    def reference_letter(self) -> Letter | None:
        """The candidate that differences are taken to: the one picked, or the first."""
        if self.reference is not None:
            return self.reference
        return self.candidates[0].letter if self.candidates else None
