"""One quilt on the table, with all that its steps are written from."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from engine.bands import band_of
from engine.bench.construction import Construction, construction_of
from engine.bench.fill_plan import FillPlan, fill_plan
from engine.bench.joints import JointSchedule, joint_schedule
from engine.bench.pieces import Piece, pieces_of
from engine.bench.step_model import WeighPoint
from engine.bill import Part
from engine.catalogue.load import Catalogue
from engine.catalogue.models import JointMethod
from engine.design import SHORT_BAFFLES, Design
from engine.evaluate import Evaluation
from engine.score import Score
from engine.units import GRAM, Number


@dataclass(frozen=True)
class Job:
    """An evaluated quilt and the maker's scale."""

    one: Evaluation
    catalogue: Catalogue
    step_kg: float = 1.0 * GRAM
    edge_percent: float = 0.0
    foot_percent: float = 0.0

    @property
    def design(self) -> Design:
        """The design."""
        return self.one.design

    @property
    def score(self) -> Score:
        """Its score."""
        return self.one.score

    @cached_property
    def construction(self) -> Construction:
        """What holds it together."""
        return construction_of(self.design, self.catalogue, self.score)

    @cached_property
    def fill(self) -> FillPlan | None:
        """Its fill plan; None for sheet insulation."""
        return fill_plan(
            self.design,
            self.catalogue,
            self.one.quantities,
            self.score,
            self.step_kg,
            self.edge_percent,
            self.foot_percent,
        )

    @cached_property
    def joints(self) -> JointSchedule:
        """Its joints."""
        return joint_schedule(self.design, self.catalogue, self.one.quantities, self.score)

    @cached_property
    def parts(self) -> dict[str, Part]:
        """The parts that it has, by name."""
        return {part.name: part for part in self.score.bill.parts if float(part.count) > 0}

    @cached_property
    def strips(self) -> tuple[Piece, ...]:
        """Baffles, edge walls and end panels as they are cut, the same as in the cut list."""
        found = pieces_of(self.design, self.catalogue, self.one.quantities, self.score)
        return tuple(piece for piece in found if piece.is_strip)

    def method(self, name: str) -> JointMethod | None:
        """By which method a class of joint is made; None if the quilt has none of it."""
        return self.construction.methods.get(name)

    @property
    def down(self) -> bool:
        """Loose down is put in; sheet insulation is laid in."""
        return self.fill is not None

    @property
    def has_baffles(self) -> bool:
        """Strips of cloth stand between the shells."""
        return float(self.one.quantities.baffle_cloth) > 0 and float(self.one.quantities.baffle_count) > 0

    @property
    def has_lines(self) -> bool:
        """The shells are joined to one another along lines: sewn-through, or quilted sheet."""
        return not self.has_baffles and "baffles" in self.construction.methods

    @property
    def short(self) -> bool:
        """Of short baffles."""
        return self.design.baffles.layout in SHORT_BAFFLES

    @property
    def top(self) -> bool:
        """A top quilt."""
        return self.design.kind == "top quilt"

    def weigh(self, what: str, of: Callable[[Score], Number]) -> WeighPoint:
        """What the scale should show, with its band from the draws."""
        expected, drawn = float(of(self.score)), np.asarray(of(self.one.draws), dtype=float)
        band = band_of(expected, drawn)
        return WeighPoint(what, expected, band.low, band.high, drawn.ndim > 0)

    def weigh_full(self, what: str) -> WeighPoint:
        """The finished quilt with all that hangs on it, without a pad beyond it."""
        return self.weigh(what, lambda score: score.tare_kg + score.weight_parts_kg["fill"])

    def weigh_parts(self, what: str, names: tuple[str, ...], joints: dict[str, float]) -> WeighPoint:
        """The same for parts of the bill and shares of its joints."""

        def of(score: Score) -> Number:
            found: Number = 0.0
            for part in score.bill.parts:
                found = found + (part.mass_kg if part.name in names else 0.0)
            for joint in score.bill.joints:
                found = found + joint.mass_kg * joints.get(joint.name, 0.0)
            return found

        return self.weigh(what, of)
