"""What a warning is, and all that a check for one may look at."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Literal

from engine.catalogue.load import Catalogue
from engine.catalogue.models import Fabric
from engine.design import Design
from engine.fit import Fit
from engine.night import Night
from engine.quantities import Quantities
from engine.score import Score

Grade = Literal["stop", "mind", "note"]
ValueKind = Literal[
    "mass",
    "areal_mass",
    "bench_length",
    "temperature",
    "percent",
    "number",
    "word",
    "air_permeability",
    "resistance",
    "pressure",
]
Change = float | str | bool | None
Values = dict[str, tuple[float | str, ValueKind]]


@dataclass(frozen=True)
class Caution:
    """One warning: what, why in a clause, what to do; `change` maps fields to what mends it."""

    code: str
    grade: Grade
    where: str
    what: str
    remedy: str
    values: Values = field(default_factory=dict)
    change: dict[str, Change] = field(default_factory=dict)


@dataclass(frozen=True)
class Case:
    """All that a check may look at."""

    design: Design
    night: Night
    catalogue: Catalogue
    quantities: Quantities
    score: Score
    fit: Fit

    @property
    def inner(self) -> Fabric:
        """The inner shell's cloth."""
        return self.catalogue.fabric(self.design.shells.inner)

    @property
    def outer(self) -> Fabric:
        """The outer shell's cloth."""
        return self.catalogue.fabric(self.design.shells.outer)

    @property
    def down(self) -> bool:
        """Filled with loose down."""
        return self.catalogue.fill(self.design.fill.good).form == "down"


Check = Callable[[Case], Iterator[Caution]]
