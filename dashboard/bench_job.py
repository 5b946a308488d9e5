"""What is on the bench: one candidate with its pieces, its lay and what the maker chose for them?"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property, lru_cache

from dashboard.sheet import Links
from dashboard.words import Units, said
from engine.bench.job import Job
from engine.bench.lay import Lay, Offcut, lays_of
from engine.bench.pieces import Piece, WideWay, pieces_of
from engine.catalogue.load import Catalogue
from engine.design import Design
from engine.evaluate import Evaluation, LineUp
from engine.export.spec_sheet import Sheet
from engine.night import Night
from engine.refusals import Refusal
from engine.units import GRAM

Offcuts = tuple[tuple[str, tuple[Offcut, ...]], ...]
"""Per cloth, by its id."""


@dataclass(frozen=True)
class Choices:
    """What the maker decides at the bench; nothing of it changes a score."""

    way: WideWay = "least roll"
    step_kg: float = 1.0 * GRAM
    offcuts: Offcuts = ()


@dataclass(frozen=True)
class Bench:
    """One candidate of a line-up on the bench."""

    line_up: LineUp
    sheet: Sheet
    links: Links = field(default_factory=Links)
    choices: Choices = field(default_factory=Choices)

    @property
    def one(self) -> Evaluation:
        """The candidate."""
        return self.line_up[self.sheet.letter]

    @property
    def design(self) -> Design:
        """Its design."""
        return self.one.design

    @property
    def catalogue(self) -> Catalogue:
        """The goods, the maker's own numbers laid over them."""
        return self.line_up.catalogue

    @property
    def units(self) -> Units:
        """As the line-up shows them."""
        return self.line_up.comparison.units

    @property
    def currency(self) -> str:
        """The label that the maker gave."""
        return self.line_up.comparison.currency

    @cached_property
    def job(self) -> Job:
        """With all that its steps are written from."""
        return Job(self.one, self.catalogue, self.choices.step_kg)

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """All pieces of cloth."""
        one = self.one
        return pieces_of(one.design, self.catalogue, one.quantities, one.score, self.choices.way)

    @cached_property
    def lays(self) -> tuple[Lay, ...]:
        """A lay for every cloth, or none where a piece fits its roll no way: see lay_fault."""
        return self._lays[0]

    @property
    def lay_fault(self) -> str:
        """Why there is no lay; empty where there is one."""
        return self._lays[1]

    @cached_property
    def _lays(self) -> tuple[tuple[Lay, ...], str]:
        one = self.one
        cut = _Cut(one.design, one.night, self.catalogue, self.choices, self.pieces)
        try:
            return laid_once(cut), ""
        except Refusal as refusal:
            return (), " ".join(refusal.messages)

    @cached_property
    def lays_m(self) -> dict[str, tuple[float, float]]:
        """Per cloth the length of its lay, and what to buy of it."""
        return {lay.roll.goods: (lay.length_m, lay.to_buy_m) for lay in self.lays}

    def length(self, length_m: float) -> str:
        """A length as finely as the sheet's ruler, with its unit."""
        return said("sheet length", length_m, self.units)


@dataclass(frozen=True)
class _Cut:
    """Pieces, known by what they are cut from: they hold what cannot be looked up themselves."""

    design: Design
    night: Night
    catalogue: Catalogue
    choices: Choices
    pieces: tuple[Piece, ...] = field(compare=False)


@lru_cache(maxsize=32)
def laid_once(cut: _Cut) -> tuple[Lay, ...]:
    """The same pieces lie the same way: searched for once."""
    given: dict[str, Sequence[Offcut]] = dict(cut.choices.offcuts)
    return lays_of(cut.pieces, cut.catalogue, given)
