"""How sure the scores are: 5 to 95 % bands by seeded draws through the same formulas.

Every uncertain quantity has a name, and its draws follow from that name alone. What two candidates
share (the sleeper, the down, a cloth) is therefore drawn in common for both, so that "B is lighter
than A" can be sure although neither weight is.
"""

import zlib
from dataclasses import dataclass, replace
from functools import cache
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from engine.catalogue.load import Catalogue
from engine.catalogue.models import Fabric, Fill, JointMethod
from engine.design import Design
from engine.quantities import NO_PAD, Fields, JointRates, Quantities
from engine.score import SCORE_KEYS, Score, score
from engine.units import MM, Number

DRAWS = 1000
SEED = 20
ALWAYS_A_PAD = 2.0
TAIL = 1.6448536269514722
"""Standard deviations from the middle to the 95 % point."""
METABOLIC_W_M2 = 4.0
HEAD_R = (0.20, 0.45, 0.30)
HEAD_SHARE = (0.05, 0.10, 0.076)
CLOTHING = (0.7, 1.4, 1.0)
OUTSIDE_FILM = (0.7, 1.4, 1.0)
CURVATURE = (0.75, 1.5, 1.0)
UNDERSIDE = (0.93, 1.07, 1.0)
PIVOT_DENSITY = (80.0, 140.0, 110.0)
SHELL_DENSITY = (400.0, 550.0, 475.0)
FILL_POWER = (-0.10, 0.03)
WOVEN_MASS = (-0.03, 0.12)
FILM_MASS = (-0.06, 0.06)
OWN_MASS = (-0.015, 0.015)
SHEET_LOFT = (-0.15, 0.05)
SHEET_MASS = (-0.05, 0.05)
JOINT_MASS = 0.10
HARDWARE_MASS = 0.15
PRICE = 0.10
PACE = (0.75, 1.33, 1.0)
METHOD_PACE = (0.85, 1.18, 1.0)
CUT_WOVEN_M, CUT_FILM_M, BAFFLE_CUT_M = 3.0 * MM, 1.5 * MM, 1.5 * MM
"""5 to 95 % of what is uncertain. Low and high (and the middle that they belong to) where the spread is
uneven. Fibres: between a patent's bound and the optics of fibres; masses, cuts, fill power: common practice,
no source; head, rate, prices and pace: ours."""


@dataclass(frozen=True)
class Band:
    """From the 5 % to the 95 % draw, with the value at the middle of all inputs."""

    value: float
    low: float
    high: float


@dataclass(frozen=True)
class Difference:
    """One candidate against another in one score: middle and band of B - A, and how often it is less."""

    middle: float
    low: float
    high: float
    p_less: float


@cache
def _quantiles(count: int) -> NDArray[np.float64]:
    normal = NormalDist()
    return np.array([normal.inv_cdf((index + 0.5) / count) for index in range(count)])


def stream(name: str, count: int = DRAWS, seed: int = SEED) -> NDArray[np.float64]:
    """Standard normal draws that belong to a name: the same name, the same draws.

    The draws are the quantiles of the normal distribution in an order of their own, so that even a few
    hundred fill it evenly.

    Shapes  (count,)
    Source  Latin hypercube sampling (McKay, Beckman and Conover, Technometrics 21, 1979)
    """
    generator = np.random.default_rng([seed, zlib.crc32(name.encode())])
    return generator.permutation(_quantiles(count))


class _Dice:
    """Draws by name, with the spreads that the trade speaks in."""

    def __init__(self, count: int, seed: int) -> None:
        self.count, self.seed = count, seed

    def normal(self, name: str, to_95: float) -> NDArray[np.float64]:
        return stream(name, self.count, self.seed) * to_95 / TAIL

    def uneven(self, name: str, span: tuple[float, float]) -> NDArray[np.float64]:
        z = stream(name, self.count, self.seed) / TAIL
        return 1 + np.where(z < 0, -z * span[0], z * span[1])

    def factor(self, name: str, span: tuple[float, float, float]) -> NDArray[np.float64]:
        """Lognormal on each side of the middle, 1 in the middle."""
        low, high, middle = span
        z = stream(name, self.count, self.seed) / TAIL
        power = np.where(z < 0, -z * np.log(low / middle), z * np.log(high / middle))
        factors: NDArray[np.float64] = np.exp(power)
        return factors


def drawn(
    q: Quantities,
    single: Score,
    design: Design,
    catalogue: Catalogue,
    letter: str,
    count: int = DRAWS,
    seed: int = SEED,
) -> Quantities:
    """The quantities of one candidate as `count` possible quilts.

    The maker weighs out the planned grams; whether they loft as the label says is drawn.

    Shapes  arrays of (count,)
    Source  the spreads above
    """
    dice = _Dice(count, seed)
    inner, outer = catalogue.fabric(design.shells.inner), catalogue.fabric(design.shells.outer)
    wall, panel = catalogue.fabric(design.baffles.fabric), catalogue.fabric(design.end_panels.fabric)
    fill = catalogue.fill(design.fill.good)
    joints: Fields = {
        name: _drawn_joint(dice, getattr(q, name), catalogue.joint(method) if method else None)
        for name, method in (
            ("baffle_joints", design.joints.baffles),
            ("edge_joints", design.joints.edges),
            ("end_joints", design.joints.ends),
            ("panel_joins", design.joints.panel_joins),
            ("raw_edges", design.joints.raw_edges),
        )
    }
    extras = replace(
        q.extras,
        suspension_kg=q.extras.suspension_kg * (1 + dice.normal("mass of hardware", HARDWARE_MASS)),
        suspension_cost=q.extras.suspension_cost * (1 + dice.normal("price of hardware", PRICE)),
        cloth_kg=q.extras.cloth_kg * _areal(dice, outer),
        cloth_cost=q.extras.cloth_cost * _price(dice, outer),
    )
    return replace(
        q,
        overstuff=0.0,
        fill_given_kg=single.loft.down_kg + np.zeros(count),
        # A pad is taken along or not; small slips of the shears do not decide it.
        pad_below_cover=ALWAYS_A_PAD if single.weight_parts_kg["beyond the quilt"] > 0 else NO_PAD,
        inner_kg_m2=q.inner_kg_m2 * _areal(dice, inner),
        outer_kg_m2=q.outer_kg_m2 * _areal(dice, outer),
        baffle_kg_m2=q.baffle_kg_m2 * _areal(dice, wall),
        panel_kg_m2=q.panel_kg_m2 * _areal(dice, panel),
        inner_price_m2=q.inner_price_m2 * _price(dice, inner),
        outer_price_m2=q.outer_price_m2 * _price(dice, outer),
        baffle_price_m2=q.baffle_price_m2 * _price(dice, wall),
        panel_price_m2=q.panel_price_m2 * _price(dice, panel),
        fill_price_kg=q.fill_price_kg * _price(dice, fill),
        sheet_price_m2=q.sheet_price_m2 * _price(dice, fill),
        extras=extras,
        **_drawn_sizes(dice, q, inner, letter),
        **_drawn_fill(dice, q, fill),
        **_drawn_sleeper(dice, q),
        **joints,
    )


def _areal(dice: _Dice, fabric: Fabric) -> NDArray[np.float64]:
    span = FILM_MASS if fabric.construction == "laminate film" else WOVEN_MASS
    weighed = "areal_mass_g_m2" in fabric.own_numbers
    return dice.uneven(f"areal mass of {fabric.id}", OWN_MASS if weighed else span)


def _price(dice: _Dice, good: Fabric | Fill | JointMethod) -> NDArray[np.float64]:
    return 1 + dice.normal(f"price of {good.id}", 0.0 if "price" in good.own_numbers else PRICE)


def _drawn_joint(dice: _Dice, rates: JointRates, method: JointMethod | None) -> JointRates:
    if method is None:
        return rates
    pace = dice.factor("pace of the maker", PACE) * dice.factor(f"pace of {method.id}", METHOD_PACE)
    return replace(
        rates,
        mass_kg_m=rates.mass_kg_m * (1 + dice.normal(f"mass of {method.id}", JOINT_MASS)),
        price_per_m=rates.price_per_m * _price(dice, method),
        minutes_per_m=rates.minutes_per_m * pace,
        minutes_per_piece=rates.minutes_per_piece * pace,
    )


def _drawn_sizes(dice: _Dice, q: Quantities, inner: Fabric, letter: str) -> Fields:
    cut = CUT_FILM_M if inner.construction == "laminate film" else CUT_WOVEN_M
    width = q.station_width_m[:, np.newaxis] + dice.normal(f"width of {letter}", cut)
    stretch = 1 + dice.normal(f"length of {letter}", cut) / q.station_position_m[-1]
    taller = 1 + dice.normal(f"baffle height of {letter}", BAFFLE_CUT_M) / np.maximum(q.baffle_height_m, 0.02)
    return {
        "station_width_m": width,
        "station_position_m": q.station_position_m[:, np.newaxis] * stretch,
        "baffle_height_m": q.baffle_height_m * taller,
        "edge_height_m": q.edge_height_m * taller,
    }


def _drawn_fill(dice: _Dice, q: Quantities, fill: Fill) -> Fields:
    spread = (fill.extinction_low_m2_kg, fill.extinction_high_m2_kg, fill.extinction_m2_kg)
    form = fill.form
    loft = dice.uneven(f"loft of {fill.id}", SHEET_LOFT if form == "sheet" else FILL_POWER)
    return {
        "extinction_m2_kg": q.extinction_m2_kg * dice.factor(f"extinction of {form}", spread),
        "fill_power_m3_kg": q.fill_power_m3_kg * loft,
        "sheet_kg_m2": q.sheet_kg_m2 * dice.uneven(f"areal mass of {fill.id}", SHEET_MASS),
        "sheet_loft_m": q.sheet_loft_m * (loft if form == "sheet" else 1.0),
        "pivot_density_kg_m3": q.pivot_density_kg_m3 * dice.factor(f"packing of {form}", PIVOT_DENSITY),
        "shell_density_kg_m3": q.shell_density_kg_m3 * dice.factor("packing of cloth", SHELL_DENSITY),
    }


def _drawn_sleeper(dice: _Dice, q: Quantities) -> Fields:
    rate = dice.normal("metabolic rate", METABOLIC_W_M2)
    return {
        "comfort_w_m2": q.comfort_w_m2 + rate,
        "limit_w_m2": q.limit_w_m2 + rate,
        "head_r_m2k_w": q.head_r_m2k_w * dice.factor("head insulation", HEAD_R),
        "head_share": q.head_share * dice.factor("head share", HEAD_SHARE),
        "clothing_r_m2k_w": q.clothing_r_m2k_w * dice.factor("clothing", CLOTHING),
        "film_factor": q.film_factor * dice.factor("outside film", OUTSIDE_FILM),
        "curvature_radius_m": q.curvature_radius_m * dice.factor("curvature", CURVATURE),
        "underside_share": q.underside_share * dice.factor("share of the body", UNDERSIDE),
        "fill_minutes": q.fill_minutes * dice.factor("pace of the maker", PACE),
    }


def band_of(value: Number, draws: Number) -> Band:
    """The 5 to 95 % band of a score.

    Source  definition
    """
    low, high = np.quantile(np.asarray(draws), [0.05, 0.95])
    return Band(float(value), float(low), float(high))


def difference(draws: Number, reference: Number) -> Difference:
    """How one candidate's draws lie against another's, draw by draw.

    A tie counts half.

    Source  definition
    """
    gap = np.asarray(draws) - np.asarray(reference)
    low, middle, high = np.quantile(gap, [0.05, 0.5, 0.95])
    less = np.mean(gap < 0) + np.mean(gap == 0) / 2
    return Difference(float(middle), float(low), float(high), float(less))


def draw_scores(q: Quantities, single: Score, design: Design, catalogue: Catalogue, letter: str) -> Score:
    """The scores of all draws of one candidate, through the same `score` that one quilt goes through.

    Shapes  every field (DRAWS,)
    Source  definition
    """
    return score(drawn(q, single, design, catalogue, letter))


__all__ = [
    "DRAWS",
    "SCORE_KEYS",
    "Band",
    "Difference",
    "band_of",
    "difference",
    "draw_scores",
    "drawn",
    "stream",
]
