"""Everything about each candidate of a comparison: scores with bands, fit, warnings, and who beats whom."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from engine.air import Air, air_of
from engine.bands import Band, Difference, band_of, difference, draw_scores
from engine.catalogue.load import Catalogue, with_own
from engine.cautions import Case, Caution, cautions_of
from engine.comparison import Comparison
from engine.damp import NightDamp, damp_of
from engine.design import Design
from engine.explore.pareto import on_front
from engine.fit import Fit, fit_of
from engine.formulas import chamber, cost, packing
from engine.layout import BafflePlan, plan_baffles
from engine.night import Night
from engine.quantities import BAFFLE_ALLOWANCE_M, Quantities, resolve, standing_height
from engine.score import SCORE_KEYS, Score, score
from engine.shopping import Purchase, bag_mix, shopping_list
from engine.shortfall import Shortfall, shortfall_of
from engine.steep import with_section
from engine.units import GRAM

KEPT = 64
"""Evaluations kept, about 3 MB each with their draws: ten line-ups of six."""
SHOWN_KEYS = (*SCORE_KEYS, "limit_c")
"""The five scores, and the limit that stands beside them as a check."""


@dataclass(frozen=True)
class Derived:
    """Numbers that a maker asks for. SI; counts are counts."""

    fill_kg: float
    overstuff_percent: float | None
    fill_by_rule_kg: float | None
    overstuff_by_rule_percent: float | None
    """Over area times baffle height, as most makers count."""
    fill_per_area_kg_m2: float
    tare_kg: float
    bags: tuple[tuple[float, int], ...]
    inner_cut_m: tuple[float, float]
    outer_cut_m: tuple[float, float]
    inner_finished_m: tuple[float, float]
    outer_finished_m: tuple[float, float]
    gathered_width_m: float | None
    baffle_count: int
    baffle_cut_width_m: float | None
    chamber_count: int
    chamber_inner_m: float
    chamber_outer_m: float
    loft_m: float
    loft_middle_m: float
    packed_density_kg_m3: float


@dataclass(frozen=True)
class Evaluation:
    """One design on one night. `draws` holds the same scores as arrays, one value a draw."""

    letter: str
    design: Design
    night: Night
    quantities: Quantities
    score: Score
    draws: Score
    bands: dict[str, Band]
    fit: Fit
    cautions: tuple[Caution, ...]
    plan: BafflePlan
    derived: Derived
    purchases: tuple[Purchase, ...]
    damp: NightDamp
    air: Air
    shortfall: Shortfall

    @property
    def worth_comparing(self) -> bool:
        """Nothing stops it and it fits; a short underquilt carries its pad, so it may be short."""
        stopped = any(caution.grade == "stop" for caution in self.cautions)
        too_short = self.fit.short and self.design.kind == "top quilt"
        return not (stopped or self.fit.narrow or too_short)

    @property
    def p_comfort(self) -> float:
        """Share of draws that are comfortable at the air temperature of the night."""
        return float(np.mean(np.asarray(self.draws.comfort_c) <= self.night.air_c))

    @property
    def p_limit(self) -> float:
        """Share of draws whose limit is at or below the air temperature of the night."""
        return float(np.mean(np.asarray(self.draws.limit_c) <= self.night.air_c))


@dataclass(frozen=True)
class LineUp:
    """All candidates of a comparison, in its order."""

    comparison: Comparison
    catalogue: Catalogue
    evaluations: tuple[Evaluation, ...]

    def __getitem__(self, letter: str) -> Evaluation:
        for evaluation in self.evaluations:
            if evaluation.letter == letter:
                return evaluation
        raise KeyError(letter)

    def against(self, letter: str, reference: str, key: str) -> Difference:
        """How one candidate's score differs from another's, over common draws.

        Units   those of the score
        Source  definition
        """
        return difference(getattr(self[letter].draws, key), getattr(self[reference].draws, key))

    def front_share(self, keys: tuple[str, ...]) -> dict[str, float]:
        """For each candidate, the share of draws in which it is on the front of these scores.

        Source  definition of Pareto efficiency
        """
        if not self.evaluations:
            return {}
        table = np.array([[np.asarray(getattr(e.draws, key)) for key in keys] for e in self.evaluations])
        shares = on_front(table).mean(axis=1)
        return {e.letter: float(s) for e, s in zip(self.evaluations, shares, strict=True)}


def evaluate(design: Design, night: Night, catalogue: Catalogue, letter: str = "A") -> Evaluation:
    """One design on one night, in full.

    Raises  Refusal for an unknown good
    Source  the modules it calls
    """
    plain = resolve(design, night, catalogue)
    single = score(plain)
    quantities = with_section(plain, single.loft)
    if quantities is not plain:
        single = score(quantities)
    draws = draw_scores(quantities, single, design, catalogue, letter)
    fit = fit_of(quantities, single)
    purchases = shopping_list(design, quantities, single, catalogue)
    return Evaluation(
        letter=letter,
        design=design,
        night=night,
        quantities=quantities,
        score=single,
        draws=draws,
        bands={key: band_of(getattr(single, key), getattr(draws, key)) for key in SHOWN_KEYS},
        fit=fit,
        cautions=cautions_of(Case(design, night, catalogue, quantities, single, fit)),
        plan=plan_baffles(design),
        derived=_derived(design, quantities, single, catalogue),
        purchases=purchases,
        damp=damp_of(design, night, catalogue, quantities, single),
        air=air_of(design, catalogue, quantities, single),
        shortfall=shortfall_of(night, quantities, single),
    )


@lru_cache(maxsize=KEPT)
def _evaluated(design: Design, night: Night, catalogue: Catalogue, letter: str) -> Evaluation:
    return evaluate(design, night, catalogue, letter)


def evaluate_all(comparison: Comparison, catalogue: Catalogue) -> LineUp:
    """Every candidate of a comparison, on its night, with the maker's own goods laid over the catalogue.

    Raises  Refusal for an unknown good
    Source  the modules it calls
    """
    goods = with_own(catalogue, comparison.own_goods) if comparison.own_goods else catalogue
    evaluations = tuple(
        _evaluated(candidate.design, comparison.night, goods, candidate.letter)
        for candidate in comparison.candidates
    )
    return LineUp(comparison, goods, evaluations)


def _derived(design: Design, q: Quantities, s: Score, catalogue: Catalogue) -> Derived:
    loft, parts = s.loft, {part.name: part for part in s.bill.parts}
    inner, outer = parts["inner shell"], parts["outer shell"]
    down = catalogue.fill(design.fill.good).form == "down"
    walled = standing_height(design) > 0
    length, width = float(loft.finished_length_m), float(loft.finished_width_m)
    along, across = float(loft.outer_stretch_along), float(loft.outer_stretch_across)
    rule = chamber.fill_by_rule(loft.inner_area_m2, q.baffle_height_m, q.fill_power_m3_kg)
    fill_kg = float(s.weight_parts_kg["fill"])
    end_width = float(q.station_width_m[0])
    crosswise = design.baffles.layout == "full, crosswise"
    chamber_m = plan_baffles(design).chamber_width_m
    return Derived(
        fill_kg=fill_kg,
        overstuff_percent=100 * (float(loft.fullness) - 1) if down else None,
        fill_by_rule_kg=float(rule) if down and walled else None,
        overstuff_by_rule_percent=100 * (float(loft.down_kg / rule) - 1) if down and walled else None,
        fill_per_area_kg_m2=float((loft.down_kg + loft.sheet_kg) / loft.finished_area_m2),
        tare_kg=float(s.tare_kg),
        bags=bag_mix(fill_kg / GRAM * (1 + cost.FILL_LOSS), catalogue.fill(design.fill.good).bag_sizes_g)
        if down
        else (),
        inner_cut_m=(float(inner.cut_length_m), float(inner.cut_width_m)),
        outer_cut_m=(float(outer.cut_length_m), float(outer.cut_width_m)),
        inner_finished_m=(length, width),
        outer_finished_m=(length * along, width * across),
        gathered_width_m=end_width * design.ends.gathered_percent / 100
        if design.ends.shape == "gathered"
        else None,
        baffle_count=int(q.baffle_count),
        baffle_cut_width_m=float(q.baffle_height_m) + 2 * BAFFLE_ALLOWANCE_M if q.baffle_cloth else None,
        chamber_count=int(q.chamber_count),
        chamber_inner_m=chamber_m,
        chamber_outer_m=chamber_m * (along if crosswise else across),
        loft_m=float(loft.mean_m),
        loft_middle_m=float(np.max(loft.thickness_m)),
        packed_density_kg_m3=float(
            packing.packed_density(1 / q.fill_power_m3_kg, q.pivot_density_kg_m3, packing.STUFFED_BY_HAND_PA)
        ),
    )
